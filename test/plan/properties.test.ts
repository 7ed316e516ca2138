/** Laws of a plan, for practices and patients that nobody thought of. */

import { readFileSync } from 'node:fs';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CIRCUIT_KINDS, type Inventory } from '../../src/inventory/inventory.ts';
import { flowsFor } from '../../src/plan/flow.ts';
import { displayWidth } from '../../src/problem/display-width.ts';
import { kgFromPounds, poundsFromKg } from '../../src/quantity/convert.ts';
import { parseWeight } from '../../src/quantity/parse.ts';
import { kg, ml } from '../../src/quantity/units.ts';
import { planDocument } from '../../src/report/plan-json.ts';
import { renderPlan } from '../../src/report/plan-text.ts';
import { figuresOf } from '../support/figures.ts';
import { type Known, knowing, pairOf, planFor } from '../support/plan.ts';
import { circuit, machine, practice } from '../support/practice.ts';
import { marksOf, naivePair, naiveSet } from './naive.ts';

const ajv = new Ajv({ allErrors: true, allowUnionTypes: true });
addFormats(ajv, ['date-time']);
const isPlanDocument = ajv.compile(JSON.parse(readFileSync('schemas/plan.schema.json', 'utf8')));

/** Weights with up to three decimals, thick around the limits. */
const weights = fc.oneof(
  { weight: 4, arbitrary: fc.integer({ min: 500, max: 40_000 }).map(grams => grams / 1000) },
  { weight: 1, arbitrary: fc.integer({ min: 200, max: 110_000 }).map(grams => grams / 1000) },
  fc.constantFrom(
    0.5,
    1.667,
    2,
    2.5,
    3,
    5,
    5.556,
    6.5,
    6.99,
    7,
    7.01,
    7.5,
    8,
    8.01,
    8.5,
    11.112,
    12,
    16.667,
    25,
    33.334,
  ),
);
const range = (low: number, high: number) =>
  fc
    .tuple(fc.integer({ min: low, max: high }), fc.integer({ min: low, max: high }))
    .map(([a, b]) => [Math.min(a, b), Math.max(a, b)]);

const flowmeters = fc
  .tuple(
    fc.integer({ min: 1, max: 5 }),
    fc.constantFrom(50, 100, 200),
    fc.integer({ min: 1, max: 12 }),
    fc.constantFrom(100, 250, 500, 1000),
  )
  .map(([fineSteps, fine, coarseSteps, coarse]) => {
    const turn = fineSteps * fine * 2;
    const end = turn + coarseSteps * coarse;
    return {
      max_ml_min: end,
      marks: [
        { up_to_ml_min: turn, step_ml_min: fine },
        { up_to_ml_min: end, step_ml_min: coarse },
      ],
    };
  });

const machines = fc
  .array(
    fc.record({
      flowmeter: flowmeters,
      drives: fc.subarray(['circle', 't_piece', 'bain'], { minLength: 1 }),
      fresh_gas_outlet: fc.constantFrom('at_machine', 'at_circle', 'switch'),
      flush_to: fc.constantFrom('outlet', 'circle', 'none'),
      pressure_gauge: fc.boolean(),
      capnograph: fc.boolean(),
      oxygen: fc.constantFrom(['wall'], ['box'], ['box', 'wall']),
    }),
    { minLength: 0, maxLength: 2 },
  )
  // One machine that drives everything and uses every supply, so that the inventory is in order.
  .map(some => [
    ...some.map((keys, i) => machine(`m-${i}`, keys)),
    machine('m-last', { oxygen: ['wall', 'box'] }),
  ]);

const circuits = fc
  .array(
    fc.record(
      {
        kind: fc.constantFrom(...CIRCUIT_KINDS),
        weights_kg: fc
          .tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 5, max: 60 }))
          .map(([low, over]) => [low, low + over]),
        pressure_gauge: fc.boolean(),
        bore_mm: fc.constantFrom(15, 22),
        dead_space_ml: fc.integer({ min: 0, max: 40 }),
      },
      { requiredKeys: ['kind'] },
    ),
    { minLength: 2, maxLength: 6 },
  )
  .map(some => some.map(({ kind, ...keys }, i) => circuit(`c-${i}`, kind, keys)));

const rules = fc.record(
  {
    boundary: fc.record({
      non_rebreathing_below_kg: fc.constantFrom(3, 5, 7),
      rebreathing_above_kg: fc.constantFrom(7, 8, 10),
      between: fc.constantFrom('rebreathing', 'non_rebreathing'),
      near_kg: fc.constantFrom(0, 0.5, 2),
    }),
    fresh_gas_flow: fc.record({
      minimum_ml_min: fc.constantFrom(300, 500, 1000),
      non_rebreathing_ml_kg_min: fc.record({ induction: range(100, 500), maintenance: range(100, 500) }),
      rebreathing_ml_kg_min: fc.record({
        induction: range(20, 200),
        maintenance: range(5, 60),
        recovery: range(20, 200),
      }),
    }),
    circle_never_below_kg: fc.constantFrom(1, 3, 5),
    tidal_volume_ml_kg: range(5, 25),
    reservoir_bag: fc.record({
      tidal_volumes: fc.integer({ min: 3, max: 8 }),
      size_at_ml_kg: fc.integer({ min: 8, max: 20 }),
    }),
  },
  { requiredKeys: [] },
);

const bags = fc.uniqueArray(fc.constantFrom(250, 500, 1000, 1500, 2000, 3000, 5000), { maxLength: 5 });
const supplies = [
  { id: 'wall', kind: 'pipeline' },
  { id: 'box', kind: 'concentrator', max_ml_min: 3000, since: '2024-01-01' },
];

const practices: fc.Arbitrary<Inventory> = fc
  .record({ machines, circuits, rules, bags })
  .map(parts => practice({ ...parts, supplies }));

/** What a record may say of a practice: some things out of service, some pairs failed or held. */
function known(inventory: Inventory): fc.Arbitrary<Known & { out: string[]; failed: string[] }> {
  const pairs = inventory.circuits.flatMap(({ id }) => inventory.machines.map(one => `${id} ${one.id}`));
  const ids = [...inventory.circuits, ...inventory.machines, ...inventory.supplies].map(({ id }) => id);
  return fc
    .tuple(fc.subarray(ids, { maxLength: 2 }), fc.subarray(pairs, { maxLength: Math.min(3, pairs.length) }))
    .map(([out, failed]) => ({
      out,
      failed,
      outOfService: Object.fromEntries(out.map(id => [id, 'broken'])),
      holds: Object.fromEntries(failed.map(pair => [pair, 'failed' as const])),
    }));
}

const RUNS = { numRuns: 60 };

describe('laws of a plan', () => {
  it('heavier never gets less flow within one class, nor a smaller bag', () => {
    fc.assert(
      fc.property(practices, fc.array(weights, { minLength: 2, maxLength: 12 }), (inventory, some) => {
        const rising = [...some].sort((a, b) => a - b).map(kg);
        for (const cls of ['rebreathing', 'non_rebreathing'] as const) {
          for (const on of inventory.machines) {
            const flows = rising.map(weight => flowsFor(inventory, on, cls, weight).phases);
            for (const phase of ['induction', 'maintenance', 'recovery'] as const) {
              isRising(flows.map(flow => flow[phase].lowMlPerMin));
              isRising(flows.map(flow => flow[phase].highMlPerMin));
            }
          }
        }
        const sizes = rising.map(weight => planFor(inventory, weight).bag);
        isRising(sizes.map(bag => bag?.wantedMl ?? 0));
        isRising(sizes.map(bag => bag?.sizeMl ?? 0));
      }),
      RUNS,
    );
  });

  it('the flow to set is a mark, lies in the range where a mark does, and is the one that walking over the marks finds', () => {
    fc.assert(
      fc.property(practices, fc.array(weights, { minLength: 1, maxLength: 8 }), (inventory, some) => {
        for (const weight of some) {
          for (const on of inventory.machines) {
            const marks = marksOf(on);
            for (const cls of ['rebreathing', 'non_rebreathing'] as const) {
              const { phases } = flowsFor(inventory, on, cls, kg(weight));
              for (const phase of ['induction', 'maintenance', 'recovery'] as const) {
                const {
                  lowMlPerMin: low,
                  highMlPerMin: high,
                  setMlPerMin: set,
                  setAboveRange,
                } = phases[phase];
                const naive = naiveSet(inventory, on, cls, phase, weight);
                expect([low, high]).toEqual([naive.low, naive.high]);
                if (set > (marks.at(-1) ?? 0)) {
                  expect(naive.set).toBeNull();
                  continue;
                }
                expect(set).toBeCloseTo(naive.set ?? Number.NaN, 6);
                expect(marks.some(mark => Math.abs(mark - set) < 1e-6)).toBe(true);
                expect(set).toBeGreaterThanOrEqual(low - 1e-6);
                const inRange = marks.some(mark => mark >= low - 1e-6 && mark <= high + 1e-6);
                expect(setAboveRange).toBe(!inRange);
              }
            }
          }
        }
      }),
      RUNS,
    );
  });

  it('takes the pair that a plain reading of the rules takes', () => {
    const cases = practices.chain(inventory =>
      fc.record({
        inventory: fc.constant(inventory),
        weightKg: weights,
        idealKg: fc.option(weights, { nil: null }),
        record: known(inventory),
      }),
    );
    let taken = 0;
    fc.assert(
      fc.property(cases, ({ inventory, weightKg, idealKg, record }) => {
        const plan = planFor(
          inventory,
          weightKg,
          { idealWeightKg: idealKg === null ? null : kg(idealKg), weightConfirmed: true },
          knowing(record),
        );
        const naive = naivePair({
          inventory,
          weightKg,
          idealKg,
          circuit: null,
          machine: null,
          out: record.out,
          failed: record.failed,
        });
        expect(pairOf(plan)?.replace(' on ', ' ') ?? null).toBe(naive.pair);
        expect(plan.cautions.some(({ code }) => code === 'class_substituted')).toBe(naive.substituted);
        expect(plan.cautions.some(({ code }) => code === 'no_circuit')).toBe(naive.pair === null);
        if (naive.pair !== null) taken++;
      }),
      { numRuns: 250 },
    );
    // The law would hold of nothing as well.
    expect(taken).toBeGreaterThan(50);
  });

  it('lists each pair at most once, the one taken never, and all of them where none was taken', () => {
    const cases = practices.chain(inventory =>
      fc.tuple(fc.constant(inventory), weights, known(inventory), fc.boolean()),
    );
    fc.assert(
      fc.property(cases, ([inventory, weight, record, force]) => {
        const wishes = force ? { circuit: inventory.circuits[0]?.id ?? null } : {};
        const { main } = planFor(inventory, weight, wishes, knowing(record));
        const listed = main?.choice.passedOver.map(one => `${one.circuit} ${one.machine}`) ?? [];
        expect(new Set(listed).size).toBe(listed.length);
        const pair = main?.choice.pair;
        if (pair) expect(listed).not.toContain(`${pair.circuit.id} ${pair.machine.id}`);
        else expect(listed).toHaveLength((force ? 1 : inventory.circuits.length) * inventory.machines.length);
      }),
      RUNS,
    );
  });

  it('pounds, grams and kilograms agree', () => {
    const inventory = practice();
    fc.assert(
      fc.property(fc.integer({ min: 300, max: 90_000 }), grams => {
        const inKg = parsed(`${grams / 1000}kg`);
        const inGrams = parsed(`${grams}g`);
        const pounds = poundsFromKg(kg(grams / 1000)).toFixed(9);
        const inPounds = parsed(`${pounds}lb`);
        const figures = (weight: number) => figuresOf(planDocument(planFor(inventory, weight)));
        expect(figures(inGrams)).toEqual(figures(inKg));
        for (const [i, { figure, value }] of figures(inPounds).entries()) {
          const other = figures(inKg)[i]?.value;
          // A figure that lies between two tenths may round to either.
          if (typeof value === 'number') expect(Math.abs(value - Number(other)), figure).toBeLessThan(0.11);
          else expect(value, figure).toBe(other);
        }
        expect(poundsFromKg(kgFromPounds(Number(pounds)))).toBeCloseTo(Number(pounds), 9);
      }),
      { numRuns: 150 },
    );
  });

  it('the document is of its schema, and every figure in it has its reason with the same value', () => {
    const cases = practices.chain(inventory =>
      fc.record({
        inventory: fc.constant(inventory),
        weight: weights,
        ideal: fc.option(weights, { nil: null }),
        species: fc.constantFrom(null, 'dog', 'cat', 'rabbit', 'other'),
        circuit: fc.option(fc.constantFrom(...inventory.circuits.map(({ id }) => id)), { nil: null }),
        bagMl: fc.option(fc.constantFrom(ml(500), ml(2500)), { nil: null }),
        record: fc.option(known(inventory), { nil: null }),
        weightConfirmed: fc.boolean(),
      }),
    );
    fc.assert(
      fc.property(
        cases,
        ({ inventory, weight, ideal, species, circuit: forced, bagMl, record, weightConfirmed }) => {
          const wishes = {
            idealWeightKg: ideal === null ? null : kg(ideal),
            species,
            circuit: forced,
            bagMl,
            weightConfirmed,
          } as const;
          const plan = planFor(inventory, weight, wishes, ...(record === null ? [] : [knowing(record)]));
          const document: unknown = JSON.parse(JSON.stringify(planDocument(plan)));
          expect(isPlanDocument(document), JSON.stringify(isPlanDocument.errors)).toBe(true);
          const { reasons, fresh_gas_flow, phases, reservoir_bag, leak_hold, between, cautions } =
            planDocument(plan);
          for (const { figure, value } of figuresOf(planDocument(plan))) {
            const reason = reasons.find(one => one.figure === figure);
            expect(reason?.value, figure).toBe(value);
            expect(reason?.rule, figure).not.toBeNull();
          }
          const codes: string[] = cautions.map(({ code }) => code);
          if (codes.includes('weight_implausible') || codes.includes('no_circuit'))
            expect([fresh_gas_flow, phases, reservoir_bag, leak_hold]).toEqual([null, [], null, null]);
          else expect(fresh_gas_flow).not.toBeNull();
          if (codes.includes('boundary_between') || codes.includes('class_differs'))
            expect(between).not.toBeNull();
          else expect(between).toBeNull();
        },
      ),
      { numRuns: 150 },
    );
  });

  it('the screen is never wider than 80 columns', () => {
    const cases = practices.chain(inventory =>
      fc.tuple(fc.constant(inventory), weights, fc.option(weights, { nil: null })),
    );
    fc.assert(
      fc.property(cases, ([inventory, weight, ideal]) => {
        const plan = planFor(inventory, weight, { idealWeightKg: ideal === null ? null : kg(ideal) });
        const text = renderPlan(plan, { width: 80, colour: false, steps: true, reasons: true });
        expect(text.split('\n').filter(line => displayWidth(line) > 80)).toEqual([]);
        expect(text.endsWith('local codes.\n')).toBe(true);
      }),
      RUNS,
    );
  });
});

function isRising(values: readonly number[]): void {
  expect(values).toEqual([...values].sort((a, b) => a - b));
}

function parsed(text: string): number {
  const weight = parseWeight(text);
  if (!weight.ok) throw new Error(weight.message);
  return weight.value;
}
