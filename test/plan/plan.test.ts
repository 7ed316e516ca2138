import { describe, expect, it } from 'vitest';
import { planCase } from '../../src/plan/plan.ts';
import { NO_RECORD, requestFor } from '../../src/plan/request.ts';
import { kg, ml } from '../../src/quantity/units.ts';
import { codesOf, knowing, pairOf, planFor } from '../support/plan.ts';
import { circuit, machine, practice } from '../support/practice.ts';

const usual = practice();
const figuresOf = (plan: ReturnType<typeof planFor>) => plan.reasons.map(({ figure }) => figure);
const FLOWS = ['fresh_gas_flow.low_ml_min', 'fresh_gas_flow.high_ml_min', 'fresh_gas_flow.set_ml_min'];
const PHASES = ['induction', 'maintenance', 'recovery'].flatMap(phase =>
  ['low_ml_min', 'high_ml_min', 'set_ml_min'].map(figure => `phases.${phase}.${figure}`),
);
const BAG = ['wanted_low_ml', 'wanted_high_ml', 'wanted_ml', 'size_ml', 'covers_high'].map(
  figure => `reservoir_bag.${figure}`,
);
const HOLD = ['pressure_cmh2o', 'seconds', 'drop_cmh2o', 'make_up_ml_min', 'gauge'].map(
  figure => `leak_hold.${figure}`,
);
/** Two machines with two Bains, one of them without stated weights, and no circle. */
const bains = practice({
  machines: [machine('theatre-1'), machine('theatre-2')],
  circuits: [
    circuit('bain-any', 'bain'),
    circuit('bain-small', 'bain', { weights_kg: [2, 9] }),
    circuit('bain-1', 'bain', { weights_kg: [2, 12] }),
  ],
});

describe('planCase', () => {
  it('keeps what it was asked, and when', () => {
    const request = requestFor(kg(6.8), { species: 'dog', caseRef: '4711' });
    const plan = planCase(usual, NO_RECORD, request, '2026-11-25T08:14:03+00:00');
    expect(plan).toMatchObject({ at: '2026-11-25T08:14:03+00:00', request, zone: 'below', other: null });
    expect(plan.inventory).toBe(usual);
    expect(Object.keys(plan).sort()).toEqual(
      [
        ...['at', 'inventory', 'request', 'zone', 'main', 'other', 'bag', 'leakHold', 'steps', 'supplies'],
        ...['cautions', 'reasons'],
      ].sort(),
    );
  });

  it('gives the reasons of flow, bag, leak test and supplies, in this order', () => {
    const figures = figuresOf(planFor(usual, 6));
    const own = figures.filter(figure => !figure.startsWith('supplies.'));
    expect(own.slice(0, 17)).toEqual([...FLOWS, ...PHASES, ...BAG]);
    for (const figure of own.slice(17)) expect(figure).toMatch(/^leak_hold\./);
    expect(own.slice(17)).toEqual(HOLD.filter(figure => own.includes(figure)));
    expect(own.length).toBeGreaterThan(19);
    expect(figures.slice(own.length).every(figure => figure.startsWith('supplies.'))).toBe(true);
    expect(figures.length).toBeGreaterThan(own.length);
  });

  it('gives beside them, between the classes, flow and bag of the other', () => {
    const plan = planFor(usual, 7.5);
    const beside = plan.reasons.filter(({ figure }) => figure.startsWith('between.'));
    expect(beside.map(({ figure }) => figure)).toEqual([...FLOWS, ...BAG].map(figure => `between.${figure}`));
    // A circle takes 20 mL/kg/min at least, 500 mL/min in all.
    expect(beside.slice(0, 2).map(({ value }) => value)).toEqual([500, 500]);
    expect(plan.other?.flows?.phases.maintenance).toMatchObject({ lowMlPerMin: 500, highMlPerMin: 500 });
    expect(beside[3]?.value).toBe(plan.bag?.wantedLowMl);
  });

  it('gives those of the other class alone where the leading one has no circuit', () => {
    const circles = practice({ circuits: [circuit('y-piece-1', 'circle_y')] });
    const plan = planFor(circles, 7.5);
    expect(plan).toMatchObject({ leakHold: null, steps: null, supplies: null });
    expect(figuresOf(plan)).toEqual([...FLOWS, ...BAG].map(figure => `between.${figure}`));
    const onlyBain = practice({ circuits: [circuit('bain-1', 'bain')] });
    expect(figuresOf(planFor(onlyBain, 7.5)).some(figure => figure.startsWith('between.'))).toBe(false);
  });

  it('shows the other class in the band and where the weights differ, and nowhere else', () => {
    const shown = (weight: number, ideal?: number) =>
      planFor(usual, weight, ideal === undefined ? {} : { idealWeightKg: kg(ideal) }).other?.circuitClass;
    expect([6.99, 7, 8, 8.01].map(weight => shown(weight))).toEqual([
      undefined,
      'rebreathing',
      'rebreathing',
      undefined,
    ]);
    expect(shown(9, 6)).toBe('rebreathing');
    expect(shown(9, 8.5)).toBeUndefined();
    expect(shown(6, 8.5)).toBe('non_rebreathing');
  });

  it('looks at the actual, at the ideal weight, and at how they agree', () => {
    const refused = (weight: number, ideal: number) =>
      planFor(usual, weight, { species: 'cat', idealWeightKg: kg(ideal) }).main === null;
    expect(refused(5, 4.5)).toBe(false);
    expect(refused(300, 4.5)).toBe(true);
    expect(refused(5, 300)).toBe(true);
    // Just beyond what a cat weighs, and the ideal weight near it: the actual weight alone is hardly possible.
    expect(refused(8.5, 7.5)).toBe(true);
    const confirmed = planFor(usual, 300, { species: 'cat', idealWeightKg: kg(4.5), weightConfirmed: true });
    expect(confirmed.main).not.toBeNull();
    expect(codesOf(confirmed)).toContain('weight_confirmed');
  });
});

describe('a practice without a record', () => {
  it('has the cautions of the equipment and that there is none, and no other', () => {
    expect(codesOf(planFor(usual, 6)).toSorted()).toEqual([
      'flush_live',
      'no_backup_oxygen',
      'no_record',
      'scavenging_unknown',
      'species_not_given',
    ]);
    expect(planFor(usual, 6).leakHold).toMatchObject({ state: 'needed', last: null, because: null });
  });

  it('is asked nothing of what nobody has recorded', () => {
    expect(NO_RECORD.failedElsewhere('bain-1', 'theatre-1')).toEqual([]);
    expect(NO_RECORD.checks(['bain-1'])).toEqual([]);
    for (const answer of [
      NO_RECORD.outOfService('bain-1'),
      NO_RECORD.popOffShut('bain-1', 'theatre-1'),
      NO_RECORD.unseenReturn('bain-1'),
      NO_RECORD.supplyHoldFailed('wall'),
      NO_RECORD.gauge('wall'),
      NO_RECORD.wear('lime'),
    ])
      expect(answer).toBeNull();
  });
});

describe('what stands in for a circle', () => {
  const passed = (plan: ReturnType<typeof planFor>) =>
    plan.main?.choice.passedOver.map(({ circuit: id, machine: on, code }) => `${id} ${on} ${code}`);

  it('is a circuit for the weight, and the others say why they are not', () => {
    const plan = planFor(bains, 10);
    expect(pairOf(plan)).toBe('bain-1 on theatre-1');
    expect(plan.main?.circuitClass).toBe('non_rebreathing');
    expect(passed(plan)).toEqual([
      // Never looked at as a stand-in: it states no weights.
      'bain-any theatre-1 wrong_class',
      'bain-any theatre-2 wrong_class',
      'bain-small theatre-1 outside_weights',
      'bain-small theatre-2 outside_weights',
      'bain-1 theatre-2 wrong_class',
    ]);
  });

  it('says of each machine why it was not taken', () => {
    const known = knowing({ outOfService: { 'theatre-1': 'no power' } });
    const plan = planFor(bains, 10, {}, known);
    expect(pairOf(plan)).toBe('bain-1 on theatre-2');
    expect(passed(plan)).toEqual([
      'bain-any theatre-1 wrong_class',
      'bain-any theatre-2 wrong_class',
      'bain-small theatre-1 machine_out_of_service',
      'bain-small theatre-2 outside_weights',
      'bain-1 theatre-1 machine_out_of_service',
    ]);
  });

  it('keeps to the machine that was named', () => {
    expect(pairOf(planFor(bains, 10, { machine: 'theatre-2' }))).toBe('bain-1 on theatre-2');
    const out = knowing({ outOfService: { 'theatre-2': 'no power' } });
    const plan = planFor(bains, 10, { machine: 'theatre-2' }, out);
    // A stand-in is never forced.
    expect(pairOf(plan)).toBeNull();
    expect(passed(plan)).toEqual([
      'bain-any theatre-2 wrong_class',
      'bain-small theatre-2 machine_out_of_service',
      'bain-1 theatre-2 machine_out_of_service',
    ]);
    expect(codesOf(plan)).toContain('no_circuit');
    expect(codesOf(plan)).not.toContain('class_substituted');
  });

  it('is nothing, with the reasons, where no weight is met', () => {
    const plan = planFor(bains, 20);
    expect(pairOf(plan)).toBeNull();
    expect(plan.main).toMatchObject({ circuitClass: 'rebreathing', flows: null });
    expect(passed(plan)).toEqual([
      'bain-any theatre-1 wrong_class',
      'bain-any theatre-2 wrong_class',
      'bain-small theatre-1 outside_weights',
      'bain-small theatre-2 outside_weights',
      'bain-1 theatre-1 outside_weights',
      'bain-1 theatre-2 outside_weights',
    ]);
  });

  it('is not looked for where a circuit was named', () => {
    const plan = planFor(
      practice({
        circuits: [
          circuit('y-piece-1', 'circle_y', { weights_kg: [5, 60] }),
          circuit('bain-1', 'bain', { weights_kg: [2, 12] }),
        ],
        machines: [machine('theatre-1', { drives: ['bain'] }), machine('other', { drives: ['circle'] })],
      }),
      10,
      { circuit: 'y-piece-1', machine: null },
      knowing({ outOfService: { other: 'no power' } }),
    );
    expect(pairOf(plan)).toBeNull();
    expect(codesOf(plan)).not.toContain('class_substituted');
  });

  it('is a circle for a small patient only where the weights ask for different classes', () => {
    const circles = practice({ circuits: [circuit('y-piece-1', 'circle_y')] });
    expect(pairOf(planFor(circles, 6))).toBeNull();
    const plan = planFor(circles, 9.5, { idealWeightKg: kg(6) });
    expect(pairOf(plan)).toBe('y-piece-1 on theatre-1');
    expect(plan.main?.circuitClass).toBe('rebreathing');
    expect(plan.other?.circuitClass).toBe('non_rebreathing');
    // The larger of the two weights is the ideal one: a Bain whose weights are met, or any that drives.
    const stated = planFor(bains, 6.9, { idealWeightKg: kg(8.5) });
    expect(pairOf(stated)).toBe('bain-small on theatre-1');
    const anyBain = practice({ circuits: [circuit('bain-any', 'bain')] });
    expect(pairOf(planFor(anyBain, 6.9, { idealWeightKg: kg(8.5) }))).toBe('bain-any on theatre-1');
    expect(pairOf(planFor(anyBain, 8.5))).toBeNull();
  });
});

describe('a circle that stands in for a Bain, where the weights ask for different classes', () => {
  it('leaves the Bain the reason for which it was not taken', () => {
    const known = knowing({ outOfService: { 'bain-1': 'hose torn' } });
    const inventory = practice({ circuits: [circuit('bain-1', 'bain'), circuit('y-piece-1', 'circle_y')] });
    const plan = planFor(inventory, 9.5, { idealWeightKg: kg(6) }, known);
    expect(pairOf(plan)).toBe('y-piece-1 on theatre-1');
    expect(plan.main?.choice.passedOver).toEqual([
      {
        circuit: 'bain-1',
        machine: 'theatre-1',
        code: 'circuit_out_of_service',
        reason: 'out of service: hose torn',
      },
    ]);
  });
});

describe('the supplies of a plan', () => {
  it('are there with a pair alone', () => {
    expect(planFor(usual, 6).supplies?.oxygen.supply?.id).toBe('wall');
    expect(planFor(usual, 0.4).supplies).toBeNull();
    expect(planFor(usual, 300, { species: 'cat' }).supplies).toBeNull();
  });

  it('go by the ideal weight for breathing, by the actual for what is used', () => {
    const { supplies } = planFor(usual, 9, { idealWeightKg: kg(8.5), breathsPerMin: 10 });
    expect(supplies?.breathing.minuteVolumeMlPerMin).toBe(850);
    expect(supplies?.metabolism.oxygenMlPerMin).toBeCloseTo(10 * 9 ** 0.75, 9);
  });

  it('take the first supply in service', () => {
    const two = practice({
      machines: [machine('theatre-1', { oxygen: ['wall', 'spare'] })],
      supplies: [
        { id: 'spare', kind: 'pipeline' },
        { id: 'wall', kind: 'pipeline' },
      ],
    });
    const serving = (out: Record<string, string>) =>
      planFor(two, 6, {}, knowing({ outOfService: out })).supplies?.oxygen.supply?.id;
    expect(serving({})).toBe('wall');
    expect(serving({ wall: 'shut' })).toBe('spare');
  });

  it('take the bag that was named', () => {
    const inventory = practice({ circuits: [circuit('bain-1', 'bain', { volume_ml: 450 })] });
    expect(planFor(inventory, 6, { bagMl: ml(2000) }).supplies?.washIn.volumeMl).toBe(2450);
  });
});
