import { describe, expect, it } from 'vitest';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { worstFirst } from '../../src/plan/caution.ts';
import type { EquipmentState, PlanRequest } from '../../src/plan/request.ts';
import { CAUTION_CODES, type CautionCode } from '../../src/problem/codes.ts';
import { kg, ml } from '../../src/quantity/units.ts';
import { codesOf, knowing, planFor } from '../support/plan.ts';
import { circuit, flowmeter, loadText, machine, practice, practiceText } from '../support/practice.ts';

const usual = practice();

/** The messages of one code, on a plan of so many kilograms. */
function says(
  code: CautionCode,
  weight: number,
  wishes: Partial<PlanRequest> = {},
  { inventory = usual, known }: { inventory?: Inventory; known?: EquipmentState } = {},
): string[] {
  const { cautions } = planFor(inventory, weight, wishes, known);
  // Nothing stands among them that is none.
  for (const one of cautions) expect(CAUTION_CODES).toHaveProperty(one.code);
  return cautions.filter(one => one.code === code).map(({ message }) => message);
}

/** Asset ids of the usual practice with every part that a machine may have. */
const fitted = practice({
  machines: [
    machine('theatre-1', {
      absorber: { id: 'lime', absorbent_g: 1200 },
      vaporizers: [{ id: 'iso', agent: 'isoflurane' }],
      scavenging: { id: 'canister', kind: 'charcoal', limit_gain_g: 50 },
    }),
  ],
  checks: [
    { id: 'leak-hold', of: 'circuit', every: { open_days: 1 }, done_by: 'hold' },
    { id: 'service', of: 'machine', every: { years: 1 } },
  ],
});

describe('the weight', () => {
  it('that is hardly possible, as it stands and once it is confirmed', () => {
    expect(says('weight_implausible', 300, { species: 'cat' })).toEqual([
      expect.stringMatching(/^.*300 kg.*\. Weigh again, or add --confirm-weight$/),
    ]);
    const [confirmed = ''] = says('weight_confirmed', 30, { species: 'cat', weightConfirmed: true });
    expect(confirmed).toMatch(/30 kg.*; confirmed$/);
    // What is not confirmed has no figures, and no caution but that one.
    const refused = planFor(usual, 300, { species: 'cat' });
    expect(refused).toMatchObject({
      main: null,
      other: null,
      bag: null,
      leakHold: null,
      steps: null,
      supplies: null,
      reasons: [],
    });
    expect(codesOf(refused)).toEqual(['weight_implausible']);
  });

  it('that is close to the boundary, or between', () => {
    expect(says('boundary_near', 6.9)).toEqual(['close to 7 kg, where circles may serve']);
    expect(says('boundary_near', 8.1)).toEqual(['close to 8 kg, up to where T-piece and Bain may serve']);
    expect(says('boundary_near', 6)).toEqual([]);
    expect(says('boundary_between', 7.5)).toEqual([
      'from 7 to 8 kg either class may serve; the other: --circuit y-piece-1',
    ]);
    const bainsOnly = practice({ circuits: [circuit('bain-1', 'bain')] });
    expect(says('boundary_between', 7.5, {}, { inventory: bainsOnly })).toEqual([
      'from 7 to 8 kg either class may serve; both are shown',
    ]);
  });

  it('that differs in class from the ideal one', () => {
    expect(says('class_differs', 9.5, { idealWeightKg: kg(6) })).toEqual([
      '9.5 kg (20.94 lb) and ideal 6 kg (13.23 lb) ask for different classes; the other: --circuit y-piece-1',
    ]);
    const bainsOnly = practice({ circuits: [circuit('bain-1', 'bain')] });
    expect(says('class_differs', 9.5, { idealWeightKg: kg(6) }, { inventory: bainsOnly })).toEqual([
      '9.5 kg (20.94 lb) and ideal 6 kg (13.23 lb) ask for different classes; both are shown',
    ]);
    expect(says('species_not_given', 6)).toEqual([
      'species not given: weight not checked; bag as for a dog or cat',
    ]);
  });
});

describe('the class', () => {
  it('of which no circuit fits', () => {
    expect(says('no_circuit', 0.4)).toEqual(['no non-rebreathing circuit on any machine fits this patient']);
    const circles = practice({ circuits: [circuit('y-piece-1', 'circle_y')] });
    expect(says('no_circuit', 7.5, {}, { inventory: circles })).toEqual([
      'no non-rebreathing circuit on any machine fits this patient; the other class may serve too: --circuit y-piece-1',
    ]);
    const none = practice({ circuits: [circuit('bain-1', 'bain', { weights_kg: [2, 5] })] });
    expect(says('no_circuit', 20, {}, { inventory: none })).toEqual([
      'no rebreathing circuit on any machine fits this patient',
    ]);
    expect(says('no_circuit', 7.5, {}, { inventory: none })).toEqual([
      'no non-rebreathing circuit on any machine fits this patient',
    ]);
  });

  it('that was taken for another, or forced', () => {
    const bainsOnly = practice({ circuits: [circuit('bain-1', 'bain', { weights_kg: [2, 12] })] });
    expect(says('class_substituted', 10, {}, { inventory: bainsOnly })).toEqual([
      'no rebreathing circuit fits; bain-1 (non-rebreathing) stands in',
    ]);
    expect(says('class_forced', 5, { circuit: 'y-piece-1' })).toEqual([
      'y-piece-1 is rebreathing; below 7 kg the practice uses non-rebreathing circuits',
    ]);
    expect(says('class_forced', 10, { circuit: 'bain-1' })).toEqual([
      'bain-1 is non-rebreathing; above 8 kg the practice uses rebreathing circuits',
    ]);
    expect(says('class_forced', 10, { circuit: 'y-piece-1' })).toEqual([]);
    expect(says('class_forced', 5, { circuit: 'bain-1' })).toEqual([]);
    // Between, either class may serve.
    expect(says('class_forced', 7.5, { circuit: 'bain-1' })).toEqual([]);
    expect(says('class_forced', 7.5, { circuit: 'y-piece-1' })).toEqual([]);
    expect(says('class_forced', 9.5, { circuit: 'y-piece-1', idealWeightKg: kg(6) })).toEqual([]);
  });

  it('what was forced although it does not fit', () => {
    expect(says('circuit_outside_weights', 13, { circuit: 'bain-1' })).toEqual(['bain-1 is for 2 to 12 kg']);
    const out = knowing({ outOfService: { 'theatre-1': 'no power' } });
    expect(says('circuit_withdrawn', 6, { machine: 'theatre-1' }, { known: out })).toEqual([
      'theatre-1 is out of service: no power',
    ]);
    const torn = knowing({ outOfService: { 'bain-1': 'hose torn' } });
    expect(says('circuit_withdrawn', 6, { circuit: 'bain-1' }, { known: torn })).toEqual([
      'bain-1 out of service: hose torn',
    ]);
    const dental = practice({ machines: [machine('dental', { drives: ['circle'] }), machine('m2')] });
    expect(
      says('circuit_not_driven', 6, { machine: 'dental', circuit: 'bain-1' }, { inventory: dental }),
    ).toEqual(['dental does not drive a Bain']);
    const dry = knowing({ outOfService: { wall: 'shut' } });
    expect(says('oxygen_out_of_service', 6, { machine: 'theatre-1' }, { known: dry })).toEqual([
      'no oxygen supply of theatre-1 is in service',
    ]);
    expect(says('no_backup_oxygen', 6, { machine: 'theatre-1' }, { known: dry })).toEqual([]);
  });
});

describe('the record', () => {
  it('that is none, or damaged', () => {
    expect(says('no_record', 6)).toEqual(['no record yet: nothing is known of leak tests and checks']);
    expect(says('record_damaged', 6, {}, { known: knowing({ record: 'damaged' }) })).toEqual([
      'the record is damaged; run holdfast record verify',
    ]);
    const read = planFor(usual, 6, {}, knowing());
    expect(codesOf(read)).not.toContain('record_damaged');
  });

  it('of checks that block or failed', () => {
    const trouble = (check: string, blocks: boolean, state: 'overdue' | 'failed', asset = 'theatre-1') =>
      ({
        inventory: fitted,
        known: knowing({ checks: [{ asset, check, state, blocks, words: `${state} since Monday` }] }),
      }) as const;
    expect(says('check_blocks', 6, {}, trouble('service', true, 'overdue'))).toEqual([
      'service of theatre-1: overdue since Monday',
    ]);
    expect(says('check_failed', 6, {}, trouble('service', false, 'failed'))).toEqual([
      'service of theatre-1: failed since Monday',
    ]);
    // With an agent named, its own vaporizer counts.
    const iso = trouble('service', true, 'overdue', 'iso');
    expect(says('check_blocks', 6, { agent: 'isoflurane' }, iso)).toHaveLength(1);
    expect(says('check_failed', 6, {}, trouble('service', false, 'overdue'))).toEqual([]);
    // Leak tests have cautions of their own, unless the practice lets them block.
    expect(says('check_failed', 6, {}, trouble('leak-hold', false, 'failed', 'bain-1'))).toEqual([]);
    expect(says('check_blocks', 6, {}, trouble('leak-hold', true, 'failed', 'bain-1'))).toEqual([
      'leak-hold of bain-1: failed since Monday',
    ]);
    const unread = { ...trouble('service', true, 'overdue').known, record: 'none' as const };
    expect(says('check_blocks', 6, {}, { inventory: fitted, known: unread })).toEqual([]);
  });

  it('of a high-pressure test that failed: the supply says so, not the check', () => {
    const inventory = practice({
      supplies: [
        {
          id: 'wall',
          kind: 'cylinder',
          since: '2026-01-01',
          capacity_l: 660,
          full_psi: 1900,
          reserve_psi: 200,
        },
      ],
      checks: [{ id: 'high-pressure', of: 'cylinder', every: { weeks: 1 }, done_by: 'supply_hold' }],
    });
    const known = knowing({
      checks: [{ asset: 'wall', check: 'high-pressure', state: 'failed', blocks: false, words: 'failed' }],
      supplyHoldFailed: { wall: 'wall fell by 150 psi in 5 min' },
    });
    expect(says('check_failed', 6, {}, { inventory, known })).toEqual([]);
    expect(says('supply_hold_failed', 6, {}, { inventory, known })).toEqual([
      'wall fell by 150 psi in 5 min',
    ]);
  });

  it('of what came back and no round has looked at', () => {
    const back = (asset: string): EquipmentState => ({
      ...knowing(),
      unseenReturn: id => (id === asset ? '2026-11-24' : null),
    });
    for (const asset of ['theatre-1', 'bain-1', 'iso', 'canister', 'wall'])
      expect(says('returned_unseen', 6, {}, { inventory: fitted, known: back(asset) })).toEqual([
        `${asset} is back in service since 2026-11-24, and no round has looked at it`,
      ]);
    for (const asset of ['lime', 'y-piece-1'])
      expect(says('returned_unseen', 6, {}, { inventory: fitted, known: back(asset) })).toEqual([]);
  });

  it('of a pop-off that may be shut: the circuit’s own, or that of the machine', () => {
    const shut = (pair: string) => ({ known: knowing({ popOffShut: { [pair]: 'left shut on 24 Nov' } }) });
    expect(says('pop_off_shut', 6, {}, shut('bain-1 theatre-1'))).toEqual([
      'the pop-off of bain-1 may be shut: left shut on 24 Nov. See it open, then enter: holdfast sign-off bain-1 pop-off-open',
    ]);
    expect(says('pop_off_shut', 20, {}, shut('y-piece-1 theatre-1'))).toEqual([
      'the pop-off of theatre-1 may be shut: left shut on 24 Nov. See it open, then enter: holdfast sign-off y-piece-1 pop-off-open',
    ]);
  });

  it('of the leak test that is needed, and why one that was done does not count', () => {
    expect(says('hold_needed', 6, {}, { known: knowing() })).toEqual([
      'bain-1 on theatre-1 has no leak test that counts',
    ]);
    const moved: EquipmentState = {
      ...knowing(),
      hold: () => ({ state: 'needed', last: null, because: 'bain-1 was on theatre-2 since' }),
    };
    expect(says('hold_needed', 6, {}, { known: moved })).toEqual(['bain-1 was on theatre-2 since']);
    const failed = knowing({ holds: { 'bain-1 theatre-1': 'failed' } });
    expect(says('hold_needed', 6, { circuit: 'bain-1' }, { known: failed })).toEqual([]);
    expect(says('hold_failed', 6, { circuit: 'bain-1' }, { known: failed })).toEqual([
      'bain-1 failed its leak test on theatre-1: fell from 20 to 14 cmH2O in 10 s',
    ]);
  });

  it('that is damaged keeps a failed test failed, and makes of a passed one none', () => {
    const state = (held: 'held' | 'failed') => {
      const known = knowing({ record: 'damaged', holds: { 'bain-1 theatre-1': held } });
      return planFor(usual, 6, { circuit: 'bain-1' }, known).leakHold;
    };
    expect(state('held')).toMatchObject({ state: 'needed', because: 'the record is damaged' });
    expect(state('failed')).toMatchObject({ state: 'failed', because: null });
  });
});

describe('flow, bag and equipment', () => {
  it('a mark above the range: that of maintenance where there is one, else the first', () => {
    const coarse = practice({ machines: [machine('coarse', { flowmeter: flowmeter(8000, 1000) })] });
    expect(says('set_above_range', 2.1, {}, { inventory: coarse })).toEqual([
      'no mark of the flowmeter lies in the range; 1 L/min is the next above',
    ]);
    // 12 kg on a circle: 600 to 1200 to start, which holds the mark of 1000; 500 in maintenance, which does not.
    expect(says('set_above_range', 12, {}, { inventory: coarse })).toEqual([
      'no mark of the flowmeter lies in the range; 1 L/min is the next above',
    ]);
    expect(says('set_above_range', 12)).toEqual([]);
    // Maintenance has a mark, the start has none.
    const steep = practice({
      rules: { fresh_gas_flow: { rebreathing_ml_kg_min: { induction: [55, 60], maintenance: [45, 50] } } },
      machines: [machine('coarse', { flowmeter: flowmeter(8000, 1000) })],
    });
    expect(says('set_above_range', 20, {}, { inventory: steep })).toEqual([
      'no mark of the flowmeter lies in the range; 2 L/min is the next above',
    ]);
  });

  it('a mark above the range in several phases: that of maintenance', () => {
    const inventory = practice({
      rules: { fresh_gas_flow: { rebreathing_ml_kg_min: { induction: [55, 60], maintenance: [5, 10] } } },
      machines: [machine('coarse', { flowmeter: flowmeter(8000, 1000) })],
    });
    // 20 kg: 1100 to 1200 to start, 500 in maintenance.
    expect(says('set_above_range', 20, {}, { inventory })).toEqual([
      'no mark of the flowmeter lies in the range; 1 L/min is the next above',
    ]);
  });

  it('the least flow in two phases', () => {
    const inventory = practice({
      rules: {
        fresh_gas_flow: {
          rebreathing_ml_kg_min: { induction: [20, 30], maintenance: [50, 100], recovery: [20, 30] },
        },
      },
    });
    expect(says('minimum_flow_applied', 10, {}, { inventory })).toEqual([
      'never less than 500 mL/min: by weight it would be less in induction and recovery',
    ]);
  });

  it('no capnograph on a T-piece or Bain', () => {
    const inventory = practice({ machines: [machine('m', { capnograph: false })] });
    expect(says('capnograph_absent', 6, {}, { inventory })).toEqual([
      'no capnograph on m: flow by weight does not suit every patient; published needs run to 400–500 mL/kg/min',
    ]);
  });

  it('a bag that is not there, too small, or small', () => {
    expect(says('bag_not_stocked', 4, {}, { inventory: practice({ bags: [] }) })).toEqual([
      'no bag in stock; 360 mL wanted',
    ]);
    expect(says('bag_not_stocked', 40)).toEqual(['no bag of 3600 mL or more in stock; 3 L is the largest']);
    expect(says('bag_not_stocked', 20, { bagMl: ml(2500) })).toEqual(['no 2.5 L bag in stock']);
    expect(says('bag_too_small', 20, { bagMl: ml(1000) })).toEqual([
      'the 1 L bag is smaller than the 1800 mL wanted',
    ]);
    expect(says('bag_too_small', 20, { bagMl: ml(2000) })).toEqual([]);
    // A bag that is small for want of a larger one says that, and not that somebody chose it.
    expect(says('bag_too_small', 40)).toEqual([]);
    expect(says('small_bag', 4)).toEqual([
      'a 0.5 L bag, pop-off shut, at 2 L/min: 30 cmH2O in 17 s (study median)',
    ]);
    expect(says('tidal_volume_unknown', 2, { species: 'rabbit' })).toEqual([
      'no tidal volume for rabbit: no bag and no dead space is worked out. Add rules: tidal_volume_by_species_ml_kg: { rabbit: [low, high] }',
    ]);
    expect(says('tidal_volume_unknown', 0.1, { species: 'rabbit' })).toEqual([]);
  });

  it('the flush, the absorber, the scavenging, the oxygen and the hoses', () => {
    expect(says('flush_live', 6)).toEqual([
      'the oxygen flush of theatre-1 blows straight into bain-1: never press it with a patient attached',
    ]);
    expect(says('absorber_unknown', 20)).toEqual([
      'the inventory names no absorber on theatre-1: a circle needs one',
    ]);
    expect(says('scavenging_unknown', 6)).toEqual(['the inventory names no scavenging for theatre-1']);
    expect(says('no_backup_oxygen', 6)).toEqual(['wall is the only oxygen of theatre-1']);
    const pump = practice({
      machines: [machine('m', { scavenging: { id: 'pump', kind: 'active', air_break: false } })],
    });
    expect(says('scavenging_without_air_break', 6, {}, { inventory: pump })).toEqual([
      'pump is active and has no air break: it can pull on the bag',
    ]);
    const wide = practice({
      circuits: [
        circuit('y', 'circle_y', { bore_mm: 22 }),
        circuit('coax', 'circle_coaxial', { bore_mm: 22 }),
        circuit('bain-1', 'bain', { bore_mm: 22 }),
      ],
    });
    expect(says('wide_bore', 5, { circuit: 'y' }, { inventory: wide })).toEqual([
      'y (circle with Y-piece) has 22 mm hoses; the patient is below 7 kg',
    ]);
    expect(says('wide_bore', 5, { circuit: 'coax' }, { inventory: wide })).toEqual([
      'coax (coaxial circle) has 22 mm hoses; the patient is below 7 kg',
    ]);
    expect(says('wide_bore', 5, { circuit: 'bain-1' }, { inventory: wide })).toEqual([]);
    expect(says('wide_bore', 5, { circuit: 'y-piece-1' })).toEqual([]);
  });

  it('lines still marked CHECK, one or several', () => {
    const marked = (text: string) => says('inventory_unfinished', 6, {}, { inventory: loadText(text) });
    const text = practiceText();
    expect(marked(text.replace('format: 1', 'format: 1   # CHECK'))).toEqual([
      '1 line of the inventory still marked CHECK: guesses, not this equipment',
    ]);
    expect(
      marked(text.replace('format: 1', 'format: 1   # CHECK').replace('bags:', 'bags:   # CHECK')),
    ).toEqual(['2 lines of the inventory still marked CHECK: guesses, not this equipment']);
  });
});

describe('worstFirst', () => {
  it('goes by level, and within a level by the list of codes', () => {
    const codes = Object.keys(CAUTION_CODES) as CautionCode[];
    const made = codes.map(code => ({ code, level: CAUTION_CODES[code].level, message: code }));
    const sorted = worstFirst(made.toReversed());
    expect(sorted.map(({ code }) => code)).toEqual(
      ['stop', 'caution', 'note'].flatMap(level => codes.filter(code => CAUTION_CODES[code].level === level)),
    );
  });

  it('puts a stop before a note whatever their codes', () => {
    const order = worstFirst([
      { code: 'no_record', level: 'note', message: 'a' },
      { code: 'oxygen_short', level: 'stop', message: 'b' },
      { code: 'hold_needed', level: 'caution', message: 'c' },
      { code: 'no_circuit', level: 'stop', message: 'd' },
    ]).map(({ message }) => message);
    expect(order).toEqual(['d', 'b', 'c', 'a']);
  });
});
