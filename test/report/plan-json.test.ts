import { describe, expect, it } from 'vitest';
import { kg, ml } from '../../src/quantity/units.ts';
import { planDocument } from '../../src/report/plan-json.ts';
import { knowing, planFor } from '../support/plan.ts';
import { practice } from '../support/practice.ts';

const usual = practice();
const documentOf = (...plan: Parameters<typeof planFor>) => planDocument(planFor(...plan));

describe('the document of a plan', () => {
  it('is the one of the design', () => {
    const { format, at, inventory, patient, system, fresh_gas_flow, reservoir_bag, leak_hold, between } =
      documentOf(usual, 6.8, { species: 'dog', caseRef: '26-118' });
    expect({ format, at }).toEqual({ format: 'holdfast.plan/1', at: '2026-11-25T08:14:03+00:00' });
    expect(inventory).toMatchObject({
      practice: 'Larkhill Animal Clinic',
      blob: expect.stringMatching(/^[0-9a-f]{40}$/),
    });
    expect(patient).toEqual({
      weight_kg: 6.8,
      weight_lb: 14.99,
      species: 'dog',
      ideal_weight_kg: null,
      case: '26-118',
    });
    expect(system).toMatchObject({
      class: 'non_rebreathing',
      zone: 'below',
      circuit: 'bain-1',
      kind: 'bain',
      machine: 'theatre-1',
    });
    expect(fresh_gas_flow).toEqual({
      low_ml_min: 1360,
      high_ml_min: 2040,
      set_ml_min: 1750,
      minimum_applied: 'none',
    });
    expect(reservoir_bag).toEqual({
      wanted_low_ml: 408,
      wanted_high_ml: 816,
      wanted_ml: 612,
      size_ml: 1000,
      covers_high: true,
    });
    expect(leak_hold).toMatchObject({
      pressure_cmh2o: 20,
      seconds: 10,
      fill: 'flowmeter',
      watch: 'gauge',
      drop_cmh2o: 0,
      make_up_ml_min: 150,
      state: 'needed',
      last: null,
    });
    expect(between).toBeNull();
  });

  it('rounds mL and mL/min to a tenth, at the last step alone', () => {
    // 3.337 kg: 667.4 to 1001.1 mL/min; wanted 300.33 mL.
    const { fresh_gas_flow, reservoir_bag, reasons } = documentOf(usual, 3.337);
    expect(fresh_gas_flow).toMatchObject({ low_ml_min: 667.4, high_ml_min: 1001.1 });
    expect(reservoir_bag).toMatchObject({ wanted_ml: 300.3, wanted_low_ml: 200.2, wanted_high_ml: 400.4 });
    expect(reasons.find(({ figure }) => figure === 'reservoir_bag.wanted_ml')?.value).toBe(300.3);
    expect(reasons.find(({ figure }) => figure === 'reservoir_bag.size_ml')?.inputs.wanted_ml).toBeCloseTo(
      300.33,
      9,
    );
  });

  it('has the phases in their order, and maintenance once more at the top', () => {
    const { phases, fresh_gas_flow } = documentOf(usual, 30);
    expect(phases.map(({ phase }) => phase)).toEqual(['induction', 'maintenance', 'recovery']);
    expect(phases[1]).toEqual({ phase: 'maintenance', ...fresh_gas_flow });
    expect(phases[0]).not.toEqual({ phase: 'induction', ...fresh_gas_flow });
  });

  it('fills between whenever two classes are shown', () => {
    for (const document of [documentOf(usual, 7.5), documentOf(usual, 9.5, { idealWeightKg: kg(6) })]) {
      expect(document.between).toMatchObject({
        system: { class: 'rebreathing', circuit: 'y-piece-1' },
        fresh_gas_flow: { low_ml_min: 500, set_ml_min: 500, minimum_applied: 'both' },
        reservoir_bag: { size_ml: 1000 },
      });
    }
  });

  it('leaves every figure out where nothing may be given, and keeps them with any other stop', () => {
    const nothing = { fresh_gas_flow: null, phases: [], reservoir_bag: null, leak_hold: null };
    expect(documentOf(usual, 45, { species: 'cat' })).toMatchObject({
      ...nothing,
      system: { class: null, zone: null },
    });
    expect(documentOf(usual, 0.4)).toMatchObject({
      ...nothing,
      system: { class: 'non_rebreathing', zone: 'below', circuit: null },
    });
    const stopped = documentOf(usual, 2.9, { circuit: 'y-piece-1' });
    expect(stopped.cautions[0]).toMatchObject({ code: 'circle_too_small_patient', level: 'stop' });
    expect(stopped.fresh_gas_flow).not.toBeNull();
    // A species without a tidal volume: no bag, the flow stands.
    const ferret = documentOf(usual, 1, { species: 'ferret' });
    expect(ferret).toMatchObject({ reservoir_bag: null, fresh_gas_flow: { set_ml_min: 500 } });
  });

  it('carries the last leak test of the pair', () => {
    const { leak_hold } = documentOf(usual, 6, {}, knowing({ holds: { 'bain-1 theatre-1': 'held' } }));
    expect(leak_hold).toMatchObject({ state: 'held', last: { entry: 'e1', by: 'mk', result: 'pass' } });
  });

  it('names a bag that was given by hand', () => {
    expect(documentOf(usual, 20, { bagMl: ml(1000) }).reservoir_bag).toMatchObject({
      wanted_ml: 1800,
      size_ml: 1000,
      covers_high: false,
    });
  });
});
