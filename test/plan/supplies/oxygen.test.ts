import { describe, expect, it } from 'vitest';
import { cylinderLeftL, minutesAt } from '../../../src/plan/supplies/oxygen.ts';
import { freshGasMl, phaseMinutes } from '../../../src/plan/supplies/phase-minutes.ts';
import { kg, litres, minutes, mlPerMin, psi } from '../../../src/quantity/units.ts';
import { larkhill, reading, usage, withdraw } from '../../record/entries.ts';
import { equipmentOf, messages, plan, supplies, withCircleFlows, withMachine } from './case.ts';

const inventory = larkhill();
const E = { capacityL: litres(660), fullPsi: psi(1900), reservePsi: psi(200) };
const gauge = (value: number) => reading('07:50', 'ward-e-1', { psi: value });
const PER_PSI = 660 / 1900;

describe('phaseMinutes', () => {
  it.each([
    [90, 15, 70, 5],
    [20, 15, 0, 5],
    [18, 15, 0, 3],
    [15, 15, 0, 0],
    [10, 10, 0, 0],
  ])('parts %i min into %i, %i and %i', (whole, induction, maintenance, recovery) => {
    expect(phaseMinutes(inventory.rules, minutes(whole))).toEqual({ induction, maintenance, recovery });
  });
});

describe('cylinderLeftL', () => {
  it('counts what is above the reserve', () => {
    expect(cylinderLeftL(E, psi(1450))).toBeCloseTo(1250 * PER_PSI, 9);
  });

  it('is 0 at and below the reserve, never less', () => {
    expect(cylinderLeftL(E, psi(200))).toBe(0);
    expect(cylinderLeftL(E, psi(50))).toBe(0);
    expect(cylinderLeftL(E, psi(0))).toBe(0);
  });

  it('counts a gauge above full as full', () => {
    expect(cylinderLeftL(E, psi(2200))).toBe(cylinderLeftL(E, psi(1900)));
  });

  it('lasts for litres / flow', () => {
    expect(minutesAt(litres(500), mlPerMin(2000))).toBe(250);
  });
});

describe('oxygen of a plan', () => {
  it('takes the last reading less what was used since, and says who read it', () => {
    const { oxygen } = supplies(
      inventory,
      [gauge(1450), usage('09:00', 'theatre-1', 'bain-1', { minutes: 45, flow_ml_min: 1000 })],
      { minutes: minutes(45) },
    );
    expect(oxygen.supply?.id).toBe('ward-e-1');
    expect(oxygen.leftL).toBeCloseTo(1250 * PER_PSI - 45, 9);
    expect(oxygen).toMatchObject({ readAt: '2026-11-25T07:50:00+00:00', by: 'M. Quill', enough: true });
    // 15 min at 750, 25 at 500, 5 at 750 mL/min.
    expect(oxygen.useL).toBeCloseTo(27.5, 9);
    expect(oxygen.minutesLeftAtSet).toBeCloseTo(((oxygen.leftL ?? 0) * 1000) / 500, 9);
    expect(oxygen.missing).toEqual([]);
  });

  it('is never below 0, however much was used', () => {
    const used = usage('09:00', 'theatre-1', 'bain-1', { minutes: 600, flow_ml_min: 5000 });
    expect(supplies(inventory, [gauge(1450), used]).oxygen).toMatchObject({ leftL: 0, minutesLeftAtSet: 0 });
  });

  it('is short where the phases ask for more than is left, though the set flow would not', () => {
    // 24.3 L are left: 22.5 at the set flow, 27.5 over the phases.
    const made = plan(inventory, [gauge(270)], { minutes: minutes(45) });
    expect(made.supplies?.oxygen).toMatchObject({ enough: false, decidedBy: 'phases' });
    expect(messages(made, 'oxygen_short')).toEqual([
      'ward-e-1 has 24 L left; 45 min ask for 28 L over its phases',
    ]);
  });

  it('is short where the set flow over the minutes asks for more, though the phases would not', () => {
    const other = withCircleFlows(inventory, {
      induction: [5, 10],
      maintenance: [90, 110],
      recovery: [5, 10],
    });
    // 500 to start and to wake, 1000 in between: 35 L over the phases, 45 L at the set flow; 41.7 L are left.
    const made = plan(other, [gauge(320)], { minutes: minutes(45) });
    expect(made.supplies?.oxygen).toMatchObject({ enough: false, decidedBy: 'set_flow' });
    expect(messages(made, 'oxygen_short')).toEqual([
      'ward-e-1 has 41 L left; 45 min ask for 45 L at 1 L/min',
    ]);
  });

  it('is enough where exactly as much is left as is asked for', () => {
    // 27.5 L over the phases are 79.16… psi above the reserve.
    const exact = 200 + 27.5 / PER_PSI;
    expect(supplies(inventory, [gauge(exact)], { minutes: minutes(45) }).oxygen.enough).toBe(true);
    expect(supplies(inventory, [gauge(exact - 0.01)], { minutes: minutes(45) }).oxygen.enough).toBe(false);
  });

  it('is unknown without a reading: a caution where the length of the case is given, else silence', () => {
    const made = plan(inventory, [], { minutes: minutes(45) });
    expect(made.supplies?.oxygen).toMatchObject({ leftL: null, enough: null, useL: 27.5 });
    expect(messages(made, 'oxygen_unknown')).toEqual([
      'not known what ward-e-1 has left: its gauge was never read; holdfast reading ward-e-1 PRESSURE',
    ]);
    expect(messages(plan(inventory, []), 'oxygen_unknown')).toEqual([]);
  });

  it('believes no gauge of a damaged record, nor one above what the cylinder can hold', () => {
    const entries = [gauge(1450)];
    const damaged = { ...equipmentOf(inventory, entries), record: 'damaged' as const };
    expect(supplies(inventory, damaged).oxygen.leftL).toBeNull();
    // 1.3 × 1900 psi.
    expect(supplies(inventory, [gauge(2470)]).oxygen.leftL).toBeCloseTo(1700 * PER_PSI, 9);
    expect(supplies(inventory, [gauge(2471)]).oxygen.leftL).toBeNull();
  });

  it('has no figure for what a pipeline has left, and no caution', () => {
    const made = plan(inventory, [withdraw('07:00', 'ward-e-1')], { minutes: minutes(45) });
    expect(made.supplies?.oxygen).toMatchObject({
      supply: { id: 'wall' },
      leftL: null,
      enough: null,
      useL: 27.5,
    });
    expect(messages(made, 'oxygen_unknown')).toEqual([]);
    expect(messages(made, 'oxygen_short')).toEqual([]);
  });

  it('goes by the first of two cylinders, and by the second once the first is out of service', () => {
    const [first] = inventory.supplies;
    if (first?.kind !== 'cylinder') throw new Error('Larkhill has a cylinder first');
    const second = { ...first, id: 'ward-e-2', path: '/oxygen_supplies/1' };
    const two = {
      ...withMachine(inventory, 'theatre-1', { oxygen: ['ward-e-1', 'ward-e-2'] }),
      supplies: [first, second],
    };
    const entries = [gauge(300), reading('07:55', 'ward-e-2', { psi: 1900 })];
    expect(supplies(two, entries, { minutes: minutes(90) }).oxygen).toMatchObject({
      supply: { id: 'ward-e-1' },
      enough: false,
    });
    expect(
      supplies(two, [...entries, withdraw('08:00', 'ward-e-1')], { minutes: minutes(90) }).oxygen,
    ).toMatchObject({ supply: { id: 'ward-e-2' }, enough: true });
  });

  it("keeps to a concentrator's maximum: a forced pair above it stops, and it has no figure for what is left", () => {
    const { supplies: all } = inventory;
    const [first] = all;
    if (first === undefined) throw new Error('Larkhill has a supply');
    const box = { ...first, id: 'box', kind: 'concentrator' as const, maxMlPerMin: mlPerMin(1000) };
    const one = { ...withMachine(inventory, 'theatre-1', { oxygen: ['box'] }), supplies: [...all, box] };
    const forced = { machine: 'theatre-1', circuit: 'y-piece-1', minutes: minutes(45) };
    expect(messages(plan(one, [], forced), 'flow_above_maximum')).toEqual([]);
    const heavy = plan(one, [], { ...forced, weightKg: kg(40) });
    expect(messages(heavy, 'flow_above_maximum')).toHaveLength(1);
    expect(heavy.supplies?.oxygen).toMatchObject({ supply: { id: 'box' }, leftL: null, enough: null });
  });

  it('sums what the phases take', () => {
    const flows = plan(inventory, []).main?.flows;
    if (flows == null) throw new Error('a pair was chosen');
    expect(freshGasMl(flows, phaseMinutes(inventory.rules, minutes(45)))).toBe(27_500);
  });
});
