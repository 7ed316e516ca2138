import { describe, expect, it } from 'vitest';
import type { Machine } from '../../src/inventory/inventory.ts';
import { flowsFor, highestMark, markAtOrAbove } from '../../src/plan/flow.ts';
import { kg, mlPerMin } from '../../src/quantity/units.ts';
import { codesOf, pairOf, planFor } from '../support/plan.ts';
import { circuit, flowmeter, machine, type PracticeParts, practice } from '../support/practice.ts';

function first(parts: PracticeParts): Machine {
  const [one] = practice(parts).machines;
  if (one === undefined) throw new Error('no machine');
  return one;
}

const fine = first({});

describe('markAtOrAbove', () => {
  it.each([
    [1, 100],
    [99.9, 100],
    [100, 100],
    [100.1, 200],
    [999.9, 1000],
    [1000, 1000],
    [1000.1, 1250],
    [1249.9, 1250],
    [1250, 1250],
    [1700, 1750],
    [7999, 8000],
    [8000, 8000],
  ])('%f mL/min → %i', (flow, mark) => {
    expect(markAtOrAbove(fine.flowmeter, flow)).toBe(mark);
  });

  it('goes on in the last spacing where there is no mark any more, so that the plan can refuse by a figure', () => {
    expect(markAtOrAbove(fine.flowmeter, 8000.1)).toBe(8250);
    expect(highestMark(fine.flowmeter)).toBe(8000);
  });

  it('takes a product that is a mark but for its last binary digit', () => {
    expect(0.1 + 0.2).not.toBe(0.3);
    expect(markAtOrAbove(fine.flowmeter, (0.1 + 0.2) * 1000)).toBe(300);
    expect(markAtOrAbove(fine.flowmeter, 1000 * (1 + Number.EPSILON))).toBe(1000);
  });
});

describe('markAtOrAbove and highestMark on marks of other spacings', () => {
  const litre = (steps: readonly [upTo: number, step: number][], max = 8000): Machine['flowmeter'] => ({
    maxMlPerMin: mlPerMin(max),
    marks: steps.map(([upTo, step]) => ({ upToMlPerMin: mlPerMin(upTo), stepMlPerMin: mlPerMin(step) })),
  });

  it('rounds away a billionth of the flow, however many steps it is, and no more', () => {
    const byOne = litre([[8000, 1]]);
    expect(markAtOrAbove(byOne, 5000 * (1 + 5e-10))).toBe(5000);
    expect(markAtOrAbove(byOne, 5000 * (1 + 5e-9))).toBe(5001);
    expect(markAtOrAbove(byOne, 5000 * (1 - 5e-10))).toBe(5000);
    expect(markAtOrAbove(byOne, 4999.5)).toBe(5000);
  });

  it('counts the marks of each stretch from where it begins', () => {
    const three = litre([
      [500, 50],
      [2000, 300],
      [8000, 1000],
    ]);
    expect([1, 500, 501, 801, 2000, 2001, 3001].map(flow => markAtOrAbove(three, flow))).toEqual([
      50, 500, 800, 1100, 2000, 3000, 4000,
    ]);
  });

  it('ends at the last mark, also where the tube is longer', () => {
    expect(
      highestMark(
        litre(
          [
            [1000, 100],
            [7500, 250],
          ],
          8000,
        ),
      ),
    ).toBe(7500);
  });
});

describe('flowsFor', () => {
  const usual = practice();
  const maintenance = (weight: number, cls: 'rebreathing' | 'non_rebreathing') =>
    flowsFor(usual, fine, cls, kg(weight)).phases.maintenance;

  it('is range × weight', () => {
    expect(maintenance(6.8, 'non_rebreathing')).toMatchObject({
      lowMlPerMin: 1360,
      setMlPerMin: 1750,
      minimumApplied: 'none',
      setAboveRange: false,
    });
    expect(maintenance(6.8, 'non_rebreathing').highMlPerMin).toBeCloseTo(2040, 9);
  });

  it.each([
    // Non-rebreathing: 500 / 200 = 2.5 kg for the low end, 500 / 300 = 1.667 kg for both.
    ['non_rebreathing', 1.66, 'both', 500, 500],
    ['non_rebreathing', 1.67, 'low', 500, 501],
    ['non_rebreathing', 2.49, 'low', 500, 747],
    ['non_rebreathing', 2.5, 'none', 500, 750],
    ['non_rebreathing', 2.51, 'none', 502, 753],
    // Rebreathing: 500 / 20 = 25 kg, 500 / 30 = 16.667 kg.
    ['rebreathing', 16.66, 'both', 500, 500],
    ['rebreathing', 16.67, 'low', 500, 500.1],
    ['rebreathing', 24.99, 'low', 500, 749.7],
    ['rebreathing', 25, 'none', 500, 750],
  ] as const)('%s at %f kg: the floor raises %s', (cls, weight, raised, low, high) => {
    const flow = maintenance(weight, cls);
    expect(flow.minimumApplied).toBe(raised);
    expect(flow.lowMlPerMin).toBeCloseTo(low, 9);
    expect(flow.highMlPerMin).toBeCloseTo(high, 9);
  });

  it('sets the lowest mark at or above the middle', () => {
    // 5 kg: 1000 to 1500, middle 1250, which is a mark.
    expect(maintenance(5, 'non_rebreathing').setMlPerMin).toBe(1250);
    // A little more: the next.
    expect(maintenance(5.01, 'non_rebreathing').setMlPerMin).toBe(1500);
  });

  it('falls back to the low end where the mark above the middle lies above the range', () => {
    // 4.1 kg: 820 to 1230, middle 1025 → 1250 is above the range; the lowest mark from 820 is 900.
    const flow = maintenance(4.1, 'non_rebreathing');
    expect(flow).toMatchObject({ setMlPerMin: 900, setAboveRange: false });
  });

  it('sets the next mark above the range where none lies in it, and says so', () => {
    const coarse = first({ machines: [machine('coarse', { flowmeter: flowmeter(8000, 1000) })] });
    // 2.1 kg: 500 (floor) to 630.
    const { maintenance } = flowsFor(usual, coarse, 'non_rebreathing', kg(2.1)).phases;
    expect(maintenance).toMatchObject({ setMlPerMin: 1000, setAboveRange: true });
    const inventory = practice({ machines: [machine('coarse', { flowmeter: flowmeter(8000, 1000) })] });
    expect(codesOf(planFor(inventory, 2.1))).toContain('set_above_range');
  });

  it('counts a mark on the very end of the range as in it', () => {
    const coarse = first({ machines: [machine('coarse', { flowmeter: flowmeter(7500, 750) })] });
    // 2.5 kg: 500 to 750.
    const { maintenance } = flowsFor(usual, coarse, 'non_rebreathing', kg(2.5)).phases;
    expect(maintenance).toMatchObject({ setMlPerMin: 750, setAboveRange: false });
  });

  it('points for each mark at the flowmeter of the machine', () => {
    const second = practice({
      machines: [machine('m1'), machine('m2', { flowmeter: flowmeter(8000, 250) })],
    });
    const [, on] = second.machines;
    if (on === undefined) throw new Error('two machines');
    const reason = flowsFor(second, on, 'non_rebreathing', kg(6)).reasons.find(
      ({ figure }) => figure === 'phases.recovery.set_ml_min',
    );
    expect(reason).toEqual({
      figure: 'phases.recovery.set_ml_min',
      value: 1500,
      formula: 'the lowest mark at or above the middle, (1200 + 1800) / 2 = 1500 mL/min',
      inputs: { low_ml_min: 1200, high_ml_min: expect.closeTo(1800, 9), machine: 'm2' },
      rules: [
        {
          path: '/machines/1/flowmeter/marks',
          line: second.placeOf('/machines/1/flowmeter/marks').line,
          from: 'inventory',
          source: 'as the practice wrote it down',
        },
      ],
      source: 'the marks of the flowmeter of m2, as the practice wrote them down',
    });
  });

  it('has ranges of its own for each phase of a circle', () => {
    const { phases, highestSetMlPerMin } = flowsFor(usual, fine, 'rebreathing', kg(30));
    expect(phases.induction).toMatchObject({ lowMlPerMin: 1500, highMlPerMin: 3000, setMlPerMin: 2250 });
    expect(phases.maintenance).toMatchObject({ lowMlPerMin: 600, highMlPerMin: 900, setMlPerMin: 800 });
    expect(phases.recovery).toMatchObject({ lowMlPerMin: 1500, highMlPerMin: 3000, setMlPerMin: 2250 });
    expect(highestSetMlPerMin).toBe(2250);
  });
});

describe('the end of the flowmeter and of the supply', () => {
  const small = (changes: object) =>
    practice({
      machines: [machine('small', { ...changes }), machine('large')],
      supplies: [
        { id: 'wall', kind: 'pipeline' },
        { id: 'box', kind: 'concentrator', max_ml_min: 2000, since: '2024-01-01' },
      ],
    });

  it('is reached by the highest phase, not by maintenance', () => {
    // 30 kg: 2250 mL/min to start, 800 then; the flowmeter ends at 2000.
    const inventory = small({ flowmeter: flowmeter(2000, 250), oxygen: ['wall', 'box'] });
    const plan = planFor(inventory, 30);
    expect(pairOf(plan)).toBe('y-piece-1 on large');
    expect(plan.main?.choice.passedOver).toContainEqual(
      expect.objectContaining({ machine: 'small', code: 'flow_above_flowmeter' }),
    );
  });

  it('is not passed by a flow that is the last mark', () => {
    // 26.6 kg: 1330 to 2660, middle 1995 → 2000.
    const inventory = small({ flowmeter: flowmeter(2000, 250), oxygen: ['wall', 'box'] });
    expect(pairOf(planFor(inventory, 26.6))).toBe('y-piece-1 on small');
    // 26.7 kg: middle 2002.5 → 2250 is in range and beyond the flowmeter.
    expect(pairOf(planFor(inventory, 26.7))).toBe('y-piece-1 on large');
  });

  it('is that of the supply where the supply gives less', () => {
    const inventory = small({ oxygen: ['box', 'wall'] });
    const plan = planFor(inventory, 30);
    expect(pairOf(plan)).toBe('y-piece-1 on large');
    expect(plan.main?.choice.passedOver).toContainEqual(
      expect.objectContaining({ machine: 'small', code: 'flow_above_supply' }),
    );
  });

  it('stops a plan when the machine was forced, and the figures stand', () => {
    const inventory = small({ flowmeter: flowmeter(2000, 250), oxygen: ['wall', 'box'] });
    const plan = planFor(inventory, 30, { machine: 'small' });
    expect(pairOf(plan)).toBe('y-piece-1 on small');
    expect(plan.cautions[0]).toMatchObject({ code: 'flow_above_maximum', level: 'stop' });
    expect(plan.main?.flows?.phases.induction.setMlPerMin).toBe(2250);
  });

  it('never stops a plan that was not forced', () => {
    const inventory = practice({
      machines: [machine('small', { flowmeter: flowmeter(2000, 250) })],
      circuits: [circuit('y-piece-1', 'circle_y')],
    });
    const plan = planFor(inventory, 30);
    expect(pairOf(plan)).toBeNull();
    expect(codesOf(plan)).toContain('no_circuit');
    expect(codesOf(plan)).not.toContain('flow_above_maximum');
  });
});
