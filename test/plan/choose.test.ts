import { describe, expect, it } from 'vitest';
import { chooseFitting, choosePair, nearestMisses, type PassedOver } from '../../src/plan/choose.ts';
import type { FitCase } from '../../src/plan/fit.ts';
import { hasStop } from '../../src/plan/plan.ts';
import { kg } from '../../src/quantity/units.ts';
import { codesOf, knowing, pairOf, planFor } from '../support/plan.ts';
import { circuit, flowmeter, machine, practice } from '../support/practice.ts';

const two = practice({
  machines: [machine('theatre-1'), machine('theatre-2')],
  circuits: [
    circuit('t-piece-1', 't_piece', { weights_kg: [0.5, 5] }),
    circuit('bain-1', 'bain', { weights_kg: [2, 12] }),
    circuit('bain-2', 'bain', { weights_kg: [2, 12] }),
    circuit('y-piece-1', 'circle_y'),
  ],
});

describe('the order of preference', () => {
  it.each([
    [0.49, null],
    [0.5, 't-piece-1 on theatre-1'],
    [5, 't-piece-1 on theatre-1'],
    [5.01, 'bain-1 on theatre-1'],
    [8, 'bain-1 on theatre-1'],
    [8.01, 'y-piece-1 on theatre-1'],
    [106, 'y-piece-1 on theatre-1'],
    // 107 kg: 5350 to 10700 mL/min to start; the mark above the middle is beyond the flowmeter.
    [107, null],
  ])('%f kg takes %s', (weight, pair) => {
    expect(pairOf(planFor(practice(), weight))).toBe(pair);
  });

  it('goes by circuit first, then by machine', () => {
    const known = knowing({ outOfService: { 'theatre-1': 'no power' } });
    expect(pairOf(planFor(two, 6, {}, known))).toBe('bain-1 on theatre-2');
    const failed = knowing({ holds: { 'bain-1 theatre-1': 'failed', 'bain-1 theatre-2': 'failed' } });
    expect(pairOf(planFor(two, 6, {}, failed))).toBe('bain-2 on theatre-1');
  });

  it('lists every pair before the one taken with its reason, and none behind it', () => {
    const known = knowing({ outOfService: { 'bain-1': 'hose torn' } });
    const { main } = planFor(two, 6, {}, known);
    expect(main?.choice.passedOver).toEqual([
      { circuit: 't-piece-1', machine: 'theatre-1', code: 'outside_weights', reason: 'is for 0.5 to 5 kg' },
      { circuit: 't-piece-1', machine: 'theatre-2', code: 'outside_weights', reason: 'is for 0.5 to 5 kg' },
      {
        circuit: 'bain-1',
        machine: 'theatre-1',
        code: 'circuit_out_of_service',
        reason: 'out of service: hose torn',
      },
      {
        circuit: 'bain-1',
        machine: 'theatre-2',
        code: 'circuit_out_of_service',
        reason: 'out of service: hose torn',
      },
    ]);
  });

  it('passes over a machine without oxygen in service', () => {
    const inventory = practice({
      machines: [machine('theatre-1', { oxygen: ['e-1'] }), machine('theatre-2')],
      supplies: [
        { id: 'wall', kind: 'pipeline' },
        {
          id: 'e-1',
          kind: 'cylinder',
          since: '2026-01-01',
          capacity_l: 660,
          full_psi: 1900,
          reserve_psi: 200,
        },
      ],
    });
    const known = knowing({ outOfService: { 'e-1': 'valve leaks' } });
    expect(pairOf(planFor(inventory, 6, {}, known))).toBe('bain-1 on theatre-2');
    const forced = planFor(inventory, 6, { machine: 'theatre-1' }, known);
    expect(forced.cautions[0]).toMatchObject({ code: 'oxygen_out_of_service', level: 'stop' });
  });

  it('finds nothing where nothing drives', () => {
    const inventory = practice({
      machines: [
        machine('theatre-1', { drives: ['circle'] }),
        machine('far', { drives: ['t_piece', 'bain'] }),
      ],
    });
    const plan = planFor(inventory, 6, { machine: 'theatre-1' });
    expect(pairOf(plan)).toBeNull();
    expect(plan.main?.choice.passedOver.map(({ code }) => code)).toEqual([
      'not_driven',
      'not_driven',
      'wrong_class',
    ]);
    expect(codesOf(plan)[0]).toBe('no_circuit');
  });
});

describe('no_circuit', () => {
  it('leaves every figure out', () => {
    const plan = planFor(practice(), 0.4);
    expect(plan.main?.flows).toBeNull();
    expect(plan.leakHold).toBeNull();
    expect(plan.steps).toBeNull();
    expect(plan.reasons).toEqual([]);
    expect(hasStop(plan)).toBe(true);
  });

  it('tells of each circuit the reason on the machine where it came furthest', () => {
    const inventory = practice({
      machines: [
        machine('first', { drives: ['circle'] }),
        machine('second', { flowmeter: flowmeter(1000, 100) }),
      ],
    });
    const plan = planFor(inventory, 6);
    expect(nearestMisses(plan.main?.choice.passedOver ?? [])).toEqual([
      expect.objectContaining({ circuit: 't-piece-1', code: 'outside_weights' }),
      expect.objectContaining({ circuit: 'bain-1', machine: 'second', code: 'flow_above_flowmeter' }),
    ]);
  });
});

describe('class_substituted', () => {
  const noCircle = practice({
    circuits: [
      circuit('bain-1', 'bain', { weights_kg: [2, 12] }),
      circuit('bain-any', 'bain'),
      circuit('bain-long', 'bain', { weights_kg: [10, 20] }),
    ],
  });

  it.each([
    [8.01, 'bain-1 on theatre-1'],
    [12, 'bain-1 on theatre-1'],
    [12.01, 'bain-long on theatre-1'],
    [20, 'bain-long on theatre-1'],
  ])('%f kg: a circuit whose stated weights include the patient stands in', (weight, pair) => {
    const plan = planFor(noCircle, weight);
    expect(pairOf(plan)).toBe(pair);
    expect(codesOf(plan)).toContain('class_substituted');
    expect(plan.main?.circuitClass).toBe('non_rebreathing');
    expect(plan.main?.flows?.phases.maintenance.lowMlPerMin).toBeCloseTo(200 * weight, 9);
    expect(plan.main?.choice.passedOver).not.toContainEqual(
      expect.objectContaining({ circuit: plan.main?.choice.pair?.circuit.id }),
    );
  });

  it('takes no circuit that states no weights, and says why the others do not', () => {
    const plan = planFor(noCircle, 20.01);
    expect(pairOf(plan)).toBeNull();
    expect(nearestMisses(plan.main?.choice.passedOver ?? [])).toEqual([
      expect.objectContaining({ circuit: 'bain-1', code: 'outside_weights' }),
      expect.objectContaining({ circuit: 'bain-long', code: 'outside_weights' }),
    ]);
  });

  it('needs a flow that the machine can give', () => {
    const inventory = practice({
      machines: [machine('theatre-1', { flowmeter: flowmeter(2100, 100) })],
      circuits: [circuit('bain-1', 'bain', { weights_kg: [2, 12] })],
    });
    expect(pairOf(planFor(inventory, 8.01))).toBe('bain-1 on theatre-1');
    expect(pairOf(planFor(inventory, 8.41))).toBeNull();
  });

  it('is never a circle for a patient that is too small for one', () => {
    const circles = practice({ circuits: [circuit('y-piece-1', 'circle_y', { weights_kg: [0.5, 60] })] });
    for (const weight of [2, 5, 6.99]) {
      const plan = planFor(circles, weight);
      expect(pairOf(plan)).toBeNull();
      expect(plan.cautions[0]).toMatchObject({ code: 'no_circuit', level: 'stop' });
    }
  });

  it('is neither needed nor made in the band', () => {
    const circles = practice({ circuits: [circuit('y-piece-1', 'circle_y')] });
    const plan = planFor(circles, 7.5);
    expect(pairOf(plan)).toBeNull();
    expect(plan.other?.choice.pair?.circuit.id).toBe('y-piece-1');
  });
});

describe('the ideal weight', () => {
  it('chooses the class, and both classes are shown where the weights differ', () => {
    const plan = planFor(two, 9.5, { idealWeightKg: kg(6) });
    expect(pairOf(plan)).toBe('bain-1 on theatre-1');
    expect(plan.other?.choice.pair?.circuit.id).toBe('y-piece-1');
    expect(codesOf(plan)).toContain('class_differs');
    expect(plan.zone).toBe('below');
  });

  it('shows one class where both weights give the same', () => {
    const plan = planFor(two, 7.5, { idealWeightKg: kg(6.9) });
    expect(plan.other).toBeNull();
    expect(codesOf(plan)).not.toContain('class_differs');
  });

  it('lets either class serve where the weights differ, also a circle', () => {
    const circles = practice({ circuits: [circuit('y-piece-1', 'circle_y')] });
    const plan = planFor(circles, 9.5, { idealWeightKg: kg(6) });
    expect(pairOf(plan)).toBe('y-piece-1 on theatre-1');
    expect(codesOf(plan)).toEqual(expect.arrayContaining(['class_differs', 'class_substituted']));
  });

  it('keeps circles from a patient of which either weight is too small', () => {
    const circles = practice({
      rules: { circle_never_below_kg: 7 },
      circuits: [circuit('y-piece-1', 'circle_y')],
    });
    expect(pairOf(planFor(circles, 9.5, { idealWeightKg: kg(6) }))).toBeNull();
    expect(pairOf(planFor(circles, 6, { idealWeightKg: kg(9.5) }))).toBeNull();
  });
});

describe('forcing', () => {
  it('lets a circuit set the class', () => {
    const plan = planFor(two, 5, { circuit: 'y-piece-1' });
    expect(pairOf(plan)).toBe('y-piece-1 on theatre-1');
    expect(plan.main?.circuitClass).toBe('rebreathing');
    expect(codesOf(plan)).toContain('class_forced');
    expect(hasStop(plan)).toBe(false);
  });

  it.each([
    [2.99, true],
    [3, false],
    [3.01, false],
  ])('stops a circle on %f kg: %s', (weight, stops) => {
    const plan = planFor(two, weight, { circuit: 'y-piece-1' });
    expect(codesOf(plan).includes('circle_too_small_patient')).toBe(stops);
    expect(hasStop(plan)).toBe(stops);
    // With any other stop the figures stand.
    expect(plan.main?.flows).not.toBeNull();
  });

  it('cautions of weights outside the circuit', () => {
    const plan = planFor(two, 13, { circuit: 'bain-1' });
    expect(codesOf(plan)).toEqual(expect.arrayContaining(['circuit_outside_weights', 'class_forced']));
    expect(hasStop(plan)).toBe(false);
  });

  it('shows the leading class of the band beside the forced one, and says nothing of force', () => {
    const plan = planFor(two, 7.5, { circuit: 'y-piece-1' });
    expect(plan.other?.choice.pair?.circuit.id).toBe('bain-1');
    expect(codesOf(plan)).not.toContain('class_forced');
  });

  it('holds a named machine for both classes', () => {
    const plan = planFor(two, 7.5, { machine: 'theatre-2' });
    expect(pairOf(plan)).toBe('bain-1 on theatre-2');
    expect(plan.other?.choice.pair?.machine.id).toBe('theatre-2');
  });

  it('stops what is out of service or failed', () => {
    const known = knowing({
      outOfService: { 'bain-1': 'hose torn', 'theatre-2': 'no power' },
      holds: { 'y-piece-1 theatre-1': 'failed' },
    });
    for (const [wishes, code] of [
      [{ circuit: 'bain-1' }, 'circuit_withdrawn'],
      [{ machine: 'theatre-2' }, 'circuit_withdrawn'],
      [{ circuit: 'y-piece-1', machine: 'theatre-1' }, 'hold_failed'],
    ] as const) {
      const plan = planFor(two, 6, wishes, known);
      expect(plan.cautions[0]).toMatchObject({ code, level: 'stop' });
      expect(plan.main?.flows).not.toBeNull();
    }
  });

  it('does not excuse the part that was left free', () => {
    const known = knowing({ outOfService: { 'theatre-1': 'no power', 'theatre-2': 'no power' } });
    const plan = planFor(two, 6, { circuit: 'bain-1' }, known);
    expect(pairOf(plan)).toBeNull();
    expect(codesOf(plan)[0]).toBe('no_circuit');
  });

  it('takes the machine with which the forced circuit fits best, and lists the others', () => {
    const known = knowing({ holds: { 'bain-1 theatre-1': 'failed' } });
    const fitting = planFor(two, 6, { circuit: 'bain-1' }, known);
    expect(pairOf(fitting)).toBe('bain-1 on theatre-2');
    expect(fitting.main?.choice.passedOver).toEqual([
      expect.objectContaining({ circuit: 'bain-1', machine: 'theatre-1', code: 'hold_failed' }),
    ]);
    // Outside its weights on both; failed on one of them besides.
    const outside = planFor(two, 13, { circuit: 'bain-1' }, known);
    expect(pairOf(outside)).toBe('bain-1 on theatre-2');
    expect(outside.main?.choice.passedOver).toHaveLength(1);
  });

  it('takes a machine that does not drive the circuit only where both were named', () => {
    const inventory = practice({
      machines: [machine('theatre-1'), machine('dental', { drives: ['circle'] })],
    });
    expect(pairOf(planFor(inventory, 6, { machine: 'dental' }))).toBeNull();
    const plan = planFor(inventory, 6, { machine: 'dental', circuit: 'bain-1' });
    expect(pairOf(plan)).toBe('bain-1 on dental');
    expect(codesOf(plan)).toContain('circuit_not_driven');
  });
});

describe('what force excuses', () => {
  const fitFor = (weight: number, known: Parameters<typeof knowing>[0] = {}): FitCase => ({
    inventory: two,
    equipment: knowing(known),
    weights: { actualKg: kg(weight), classKg: kg(weight) },
  });
  const taken = (
    forced: { circuit?: string; machine?: string },
    weight: number,
    known: Parameters<typeof knowing>[0] = {},
  ) => {
    const { circuit = null, machine = null } = forced;
    const choice = choosePair('non_rebreathing', fitFor(weight, known), { circuit, machine });
    return choice.pair === null
      ? null
      : [choice.pair.circuit.id, choice.pair.machine.id, ...choice.misfits.map(({ code }) => code)].join(' ');
  };
  const BOTH_OUT = { outOfService: { 'theatre-1': 'no power', 'theatre-2': 'no power' } };

  it('with a circuit named: the circuit’s own faults, not those of the machine beside them', () => {
    expect(taken({ circuit: 'bain-1' }, 13)).toBe('bain-1 theatre-1 outside_weights');
    expect(taken({ circuit: 'bain-1' }, 6, { outOfService: { 'bain-1': 'torn' } })).toBe(
      'bain-1 theatre-1 circuit_out_of_service',
    );
    expect(taken({ circuit: 'bain-1' }, 6, BOTH_OUT)).toBeNull();
    // One fault that is excused does not excuse the other.
    expect(taken({ circuit: 'bain-1' }, 13, BOTH_OUT)).toBeNull();
  });

  it('with a machine named: the machine’s own faults, not those of the circuit', () => {
    expect(taken({ machine: 'theatre-2' }, 6, BOTH_OUT)).toBe('bain-1 theatre-2 machine_out_of_service');
    expect(taken({ machine: 'theatre-2' }, 13)).toBeNull();
    expect(taken({ machine: 'theatre-2' }, 6, { outOfService: { 'bain-1': 'torn', 'bain-2': 'torn' } })).toBe(
      null,
    );
  });

  it('with either named: a leak test that failed, since it is of both', () => {
    const failed = { holds: { 'bain-1 theatre-1': 'failed', 'bain-1 theatre-2': 'failed' } } as const;
    expect(taken({ circuit: 'bain-1' }, 6, failed)).toBe('bain-1 theatre-1 hold_failed');
    const everything = {
      holds: { 'bain-1 theatre-2': 'failed', 'bain-2 theatre-2': 'failed' },
    } as const;
    expect(taken({ machine: 'theatre-2' }, 6, everything)).toBe('bain-1 theatre-2 hold_failed');
  });

  it('with both named: everything but the class', () => {
    const both = { circuit: 'bain-1', machine: 'theatre-1' };
    expect(taken(both, 13, { ...BOTH_OUT, holds: { 'bain-1 theatre-1': 'failed' } })).toBe(
      'bain-1 theatre-1 machine_out_of_service outside_weights hold_failed',
    );
    expect(taken({ ...both, circuit: 'y-piece-1' }, 6)).toBeNull();
  });

  it('with neither named: nothing', () => {
    expect(taken({}, 13)).toBeNull();
    expect(taken({}, 6, BOTH_OUT)).toBeNull();
  });

  it('of several it takes the one with the least against it, and lists the others alone', () => {
    const known = { holds: { 'bain-1 theatre-1': 'failed' } } as const;
    const choice = choosePair('non_rebreathing', fitFor(13, known), { circuit: 'bain-1', machine: null });
    expect(choice.pair?.machine.id).toBe('theatre-2');
    expect(choice.passedOver).toEqual([
      { circuit: 'bain-1', machine: 'theatre-1', code: 'outside_weights', reason: 'is for 2 to 12 kg' },
    ]);
    // Where none was taken, all of them are listed.
    const none = choosePair('non_rebreathing', fitFor(13, BOTH_OUT), { circuit: 'bain-1', machine: null });
    expect(none.passedOver.map(({ machine }) => machine)).toEqual(['theatre-1', 'theatre-2']);
    expect(none.misfits).toEqual([]);
  });

  it('never brings the class beside the main one: there only what fits is shown', () => {
    const known = { holds: { 'y-piece-1 theatre-2': 'failed' } } as const;
    const choice = chooseFitting('rebreathing', fitFor(7.5, known), 'theatre-2');
    expect(choice).toMatchObject({ pair: null, misfits: [] });
    // The one that only force would take is listed with its reason as well.
    expect(choice.passedOver.map(({ circuit, code }) => `${circuit} ${code}`)).toEqual([
      't-piece-1 wrong_class',
      'bain-1 wrong_class',
      'bain-2 wrong_class',
      'y-piece-1 hold_failed',
    ]);
    expect(chooseFitting('rebreathing', fitFor(7.5, known), 'theatre-1').pair?.circuit.id).toBe('y-piece-1');
    const plan = planFor(two, 7.5, { machine: 'theatre-2' }, knowing(known));
    expect(plan.other).toMatchObject({ circuitClass: 'rebreathing', flows: null, choice: { pair: null } });
  });
});

describe('nearestMisses', () => {
  const miss = (circuitId: string, on: string, code: PassedOver['code']): PassedOver => ({
    circuit: circuitId,
    machine: on,
    code,
    reason: `${code} on ${on}`,
  });

  it('keeps of each circuit the reason that came last in the checks, the first of equals', () => {
    const misses = [
      miss('bain-1', 'm1', 'flow_above_flowmeter'),
      miss('bain-1', 'm2', 'not_driven'),
      miss('t-piece-1', 'm1', 'not_driven'),
      miss('t-piece-1', 'm2', 'hold_failed'),
      miss('t-piece-1', 'm3', 'hold_failed'),
      miss('y-piece-1', 'm1', 'wrong_class'),
    ];
    expect(nearestMisses(misses).map(({ circuit: id, machine: on }) => `${id} ${on}`)).toEqual([
      'bain-1 m1',
      't-piece-1 m2',
    ]);
  });
});
