/** The law: for any weight, chart and plan agree. Random weights, every edge, and the numbers next to it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Band, bandAt } from '../../src/chart/bands.ts';
import { bandsFor } from '../../src/chart/chart.ts';
import { edgesOf } from '../../src/chart/edges.ts';
import type { ChartRequest } from '../../src/chart/outcome.ts';
import { rowsOf } from '../../src/chart/rows.ts';
import {
  contains,
  isFinerThan,
  isPoint,
  labelStepFor,
  printedSpan,
  type Span,
} from '../../src/chart/span.ts';
import { type Inventory, PHASES, SPECIES, type Species } from '../../src/inventory/inventory.ts';
import { type ClassPlan, type Plan, planCase } from '../../src/plan/plan.ts';
import { type EquipmentState, NO_RECORD, requestFor } from '../../src/plan/request.ts';
import { type Kg, kg } from '../../src/quantity/units.ts';
import { exampleInventory, inventories, outOfServiceState, soundInventory } from './inventories.ts';

const AT = '2026-11-25T08:14:03+00:00';
const WIDE: ChartRequest = { fromKg: kg(0.5), toKg: kg(80), species: null, machine: null };

function planAt(inventory: Inventory, equipment: EquipmentState, request: ChartRequest, weightKg: Kg): Plan {
  return planCase(
    inventory,
    equipment,
    requestFor(weightKg, { species: request.species, machine: request.machine }),
    AT,
  );
}

/** What a person would act on, read off a plan, without going through the chart's own outcome. */
function fromPlan(plan: Plan) {
  const part = (classPlan: ClassPlan | null) => {
    const pair = classPlan?.choice.pair;
    if (!classPlan || !pair || classPlan.choice.misfits.length > 0) return null;
    return {
      class: classPlan.circuitClass,
      circuit: pair.circuit.id,
      machine: pair.machine.id,
      floors: PHASES.map(phase => classPlan.flows?.phases[phase].minimumApplied),
      sets: PHASES.map(phase => classPlan.flows?.phases[phase].setMlPerMin),
    };
  };
  const main = part(plan.main);
  const other = part(plan.other);
  const hasPair = main !== null || other !== null;
  return {
    main,
    other,
    hold: main === null ? null : [plan.leakHold?.pressureCmH2O, plan.leakHold?.seconds, plan.leakHold?.watch],
    bag: hasPair && plan.bag !== null ? [plan.bag.sizeMl, plan.bag.notStocked] : null,
    isImplausible: plan.main === null,
  };
}

/** The same, read off the chart's band. */
function fromBand(band: Band, weightKg: Kg) {
  const part = (service: Band['main']) =>
    service === null
      ? null
      : {
          class: service.circuitClass,
          circuit: service.circuit.id,
          machine: service.machine.id,
          floors: service.phases.map(({ minimumApplied }) => minimumApplied),
          sets: service.flows.map(
            ({ steps }) => steps.find(({ span }) => contains(span, weightKg))?.setMlPerMin,
          ),
        };
  const { main, outcome } = band;
  return {
    main: part(main),
    other: part(band.other),
    hold: main === null ? null : [main.leakHold.pressureCmH2O, main.leakHold.seconds, main.leakHold.watch],
    bag: outcome.bag === null ? null : [outcome.bag.sizeMl, !outcome.bag.isLargeEnough],
    isImplausible: outcome.status === 'implausible',
  };
}

function expectAgreement(
  inventory: Inventory,
  equipment: EquipmentState,
  request: ChartRequest,
  weights: readonly Kg[],
): Band[] {
  const bands = bandsFor(inventory, equipment, request, AT);
  for (const weightKg of weights) {
    const plan = planAt(inventory, equipment, request, weightKg);
    const band = bandAt(bands, weightKg);
    if (band === undefined) throw new Error(`no band at ${weightKg} kg`);
    expect(fromBand(band, weightKg), `at ${weightKg} kg`).toEqual(fromPlan(plan));
    expectFlowsWithin(band, plan);
  }
  return bands;
}

function expectFlowsWithin(band: Band, plan: Plan): void {
  for (const flow of band.main?.flows ?? []) {
    const planned = plan.main?.flows?.phases[flow.phase];
    if (planned === undefined) throw new Error('a plan without a flow');
    expect(planned.lowMlPerMin).toBeGreaterThanOrEqual(flow.lowMlPerMin * (1 - 1e-9));
    expect(planned.highMlPerMin).toBeLessThanOrEqual(flow.highMlPerMin * (1 + 1e-9));
  }
}

const BYTES = new DataView(new ArrayBuffer(8));

/** The binary number next to a positive one. */
function neighbour(value: number, by: 1n | -1n): number {
  BYTES.setFloat64(0, value);
  BYTES.setBigUint64(0, BYTES.getBigUint64(0) + by);
  return BYTES.getFloat64(0);
}

/**
 * Each edge, the binary numbers next to it, and what lies a millionth beside it: a plan takes a billionth for equal, so
 * that nothing closer can be told apart.
 */
function aroundEdges(inventory: Inventory, request: ChartRequest): Kg[] {
  return edgesOf(inventory, request)
    .flatMap(({ kg: at }) => [at * (1 - 1e-6), neighbour(at, -1n), at, neighbour(at, 1n), at * (1 + 1e-6)])
    .filter(weight => weight >= request.fromKg && weight <= request.toKg)
    .map(kg);
}

const grams = fc.integer({ min: 500, max: 80_000 }).map(g => kg(g / 1000));
const anyWeight = fc.oneof(grams, fc.double({ min: 0.5, max: 80, noNaN: true }).map(kg));

describe('chart and plan', () => {
  it('agree for any weight, and at and beside every edge, in any small inventory, for any species', () => {
    fc.assert(
      fc.property(
        inventories,
        fc.array(anyWeight, { minLength: 20, maxLength: 40 }),
        fc.subarray(['circuit-0', 'machine-0', 'wall', 'circuit-2']),
        fc.constantFrom(null, ...SPECIES),
        (inventory, weights, gone, species) => {
          const equipment = gone.length === 0 ? NO_RECORD : outOfServiceState(gone);
          const request = { ...WIDE, fromKg: kg(0.1), species };
          // Beside the weights that are hardly possible for a species, whatever else lies there.
          const beside = [0.1, 0.199, 0.201, 0.499, 0.501, 2.999, 3.001, 7.999, 8.001].map(kg);
          expectAgreement(inventory, equipment, request, [
            ...weights,
            ...beside,
            ...aroundEdges(inventory, request),
          ]);
        },
      ),
      { numRuns: 25 },
    );
  });

  it('agree with a machine forced: what a plan would stop at is no service', () => {
    fc.assert(
      fc.property(
        inventories,
        fc.array(anyWeight, { minLength: 20, maxLength: 40 }),
        (inventory, weights) => {
          const request = { ...WIDE, machine: 'machine-0' };
          const around = aroundEdges(inventory, request);
          const bands = expectAgreement(inventory, NO_RECORD, request, [...weights, ...around]);
          for (const weightKg of weights) {
            const band = bandAt(bands, weightKg);
            if (band?.outcome.status !== 'served') continue;
            const stops = planAt(inventory, NO_RECORD, request, weightKg).cautions.filter(
              c => c.level === 'stop',
            );
            expect(stops.map(({ code }) => code).filter(code => code !== 'tidal_volume_unknown')).toEqual([]);
          }
        },
      ),
      { numRuns: 10 },
    );
  });

  it.each<Species | null>([null, 'dog', 'cat', 'rabbit', 'ferret', 'other'])(
    'agree for the example practice, species %s, gram by gram up to 12 kg and at every edge',
    species => {
      const inventory = exampleInventory();
      const request = { ...WIDE, species };
      const weights = Array.from({ length: 460 }, (_, i) => kg((500 + i * 25) / 1000));
      expectAgreement(inventory, NO_RECORD, request, [...weights, ...aroundEdges(inventory, request)]);
    },
  );

  it.each([1, 10] as const)(
    'agree on paper: for weights in whole steps of %i g the printed ends put each in the band that the plan names',
    stepG => {
      fc.assert(
        fc.property(inventories, fc.array(grams, { minLength: 50, maxLength: 100 }), (inventory, weights) => {
          const bands = bandsFor(inventory, NO_RECORD, WIDE, AT);
          const printed = bands.filter(({ span }) => !isFinerThan(span, stepG));
          for (const weightKg of onPaperWeights(inventory, weights, stepG)) {
            const onPaper = printed.filter(({ span }) => isWithinLabels(span, stepG, weightKg));
            expect(onPaper, `${weightKg} kg`).toHaveLength(1);
            expect(onPaper[0] === bandAt(bands, weightKg), `${weightKg} kg`).toBe(true);
          }
        }),
        { numRuns: 20 },
      );
    },
  );

  it('agree in every printed row: one mark a phase, and it is that of the plan for every weight in whole steps', () => {
    fc.assert(
      fc.property(inventories, fc.array(grams, { minLength: 50, maxLength: 100 }), (inventory, weights) => {
        const bands = bandsFor(inventory, NO_RECORD, WIDE, AT);
        const stepG = labelStepFor(edgesOf(inventory, WIDE));
        const rows = rowsOf(bands, stepG);
        const marksKg = bands
          .flatMap(({ main, other }) => [...(main?.flows ?? []), ...(other?.flows ?? [])])
          .flatMap(({ steps }) => steps.map(({ span }) => span.high.edge.kg));
        for (const weightKg of onPaperWeights(inventory, [...weights, ...marksKg], stepG)) {
          const onPaper = rows.filter(({ span }) => isWithinLabels(span, stepG, weightKg));
          expect(onPaper, `${weightKg} kg`).toHaveLength(1);
          const [row] = onPaper;
          const plan = planAt(inventory, NO_RECORD, WIDE, weightKg);
          for (const part of ['main', 'other'] as const) {
            const service = row?.[part] ?? null;
            const pair = plan[part]?.choice.misfits.length === 0 ? plan[part].choice.pair : null;
            expect(service?.circuit.id, `${weightKg} kg`).toBe(pair?.circuit.id);
            expect(service?.machine.id, `${weightKg} kg`).toBe(pair?.machine.id);
            if (service === null) continue;
            const phases = plan[part]?.flows?.phases;
            for (const phase of PHASES)
              expect(service.setMlPerMin[phase], `${weightKg} kg ${phase}`).toBe(phases?.[phase].setMlPerMin);
          }
          if (row?.main === null && row.other === null) continue;
          expect(row?.outcome.bag?.sizeMl, `${weightKg} kg`).toBe(plan.bag?.sizeMl);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('never show two neighbours alike in everything but the weights', () => {
    const rows = rowsOf(bandsFor(exampleInventory(), NO_RECORD, WIDE, AT), 10);
    const said = rows.map(({ main, other, outcome }) =>
      JSON.stringify([
        ...[main, other].map(part => part && [part.circuit.id, part.machine.id, part.setMlPerMin]),
        outcome.bag,
      ]),
    );
    expect(said.length).toBeGreaterThan(30);
    for (const [i, words] of said.entries()) expect(words).not.toBe(said[i + 1]);
  });

  it('cover the whole range without a hole and without two bands for one weight', () => {
    fc.assert(
      fc.property(inventories, inventory => {
        const bands = bandsFor(inventory, NO_RECORD, WIDE, AT);
        expect(bands[0]?.span.low).toMatchObject({ edge: { kg: 0.5 }, included: true });
        expect(bands.at(-1)?.span.high).toMatchObject({ edge: { kg: 80 }, included: true });
        for (const [i, band] of bands.entries()) {
          const next = bands[i + 1];
          if (next === undefined) continue;
          expect(next.span.low.edge.kg).toBe(band.span.high.edge.kg);
          expect(next.span.low.included).toBe(!band.span.high.included);
          expect(next.outcome.key).not.toBe(band.outcome.key);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('put 7 kg itself into the band "between", and what is next to it below', () => {
    const bands = bandsFor(exampleInventory(), NO_RECORD, WIDE, AT);
    expect(bandAt(bands, kg(7))?.outcome.zone).toBe('between');
    expect(bandAt(bands, kg(6.999_999))?.outcome.zone).toBe('below');
    expect(bandAt(bands, kg(8))?.outcome.zone).toBe('between');
    expect(bandAt(bands, kg(8.000_001))?.outcome.zone).toBe('above');
  });

  it('keep a single weight as a band of its own, where both neighbours differ from it', () => {
    const base = JSON.parse(JSON.stringify(POINT));
    const bands = bandsFor(soundInventory(base), NO_RECORD, WIDE, AT);
    const point = bands.find(({ span }) => isPoint(span));
    expect(point?.span.low.edge.kg).toBe(5);
    expect(point?.main?.circuit.id).toBe('small');
    expect(bandAt(bands, kg(4.999_999))?.outcome.status).toBe('none');
    expect(bandAt(bands, kg(5.000_001))?.outcome.status).toBe('none');
  });
});

/** A circuit that is for one weight alone. */
const POINT = {
  format: 1,
  practice: { name: 'Larkhill Animal Clinic', time_zone: 'Europe/Dublin', open_days: ['mon'] },
  machines: [
    {
      id: 'theatre-1',
      since: '2024-01-15',
      flowmeter: { max_ml_min: 8000, marks: [{ up_to_ml_min: 8000, step_ml_min: 250 }] },
      drives: ['bain'],
      pressure_gauge: true,
      oxygen: ['wall'],
    },
  ],
  circuits: [{ id: 'small', since: '2024-01-15', kind: 'bain', weights_kg: [5, 5] }],
  bags: [{ size_ml: 1000, count: 1 }],
  oxygen_supplies: [{ id: 'wall', kind: 'pipeline' }],
  checks: [],
};

/** Weights in whole steps: some, and those on both sides of each edge. */
function onPaperWeights(inventory: Inventory, some: readonly number[], stepG: number): Kg[] {
  return [...some, ...edgesOf(inventory, WIDE).map(({ kg: at }) => at)]
    .flatMap(at => [Math.floor((at * 1000) / stepG), Math.ceil((at * 1000) / stepG)])
    .map(steps => kg((steps * stepG) / 1000))
    .filter(weight => weight >= 0.5 && weight <= 80);
}

/** Reads the printed ends back, as a person would. */
function isWithinLabels(span: Span, stepG: 1 | 10, weightKg: Kg): boolean {
  const { low, lowIncluded, high, highIncluded } = printedSpan(span, stepG);
  const isAboveLow = lowIncluded ? weightKg >= Number(low) : weightKg > Number(low);
  const isBelowHigh = highIncluded ? weightKg <= Number(high) : weightKg < Number(high);
  return isAboveLow && isBelowHigh;
}
