import { describe, expect, it } from 'vitest';
import { hasStop } from '../../src/plan/plan.ts';
import { CAUTION_CODES } from '../../src/problem/codes.ts';
import { kg, minutes, ml, percent } from '../../src/quantity/units.ts';
import { codesOf, knowing, pairOf, planFor } from '../support/plan.ts';
import { circuit, loadText, machine, practice, practiceText } from '../support/practice.ts';

const usual = practice();

function one(code: string, plan: ReturnType<typeof planFor>) {
  const found = plan.cautions.filter(caution => caution.code === code);
  expect(found, `${code} among ${codesOf(plan)}`).toHaveLength(1);
  return found[0];
}

describe('what the record says', () => {
  it('without a record one note replaces the need of a leak test and the checks', () => {
    const plan = planFor(usual, 6);
    expect(one('no_record', plan)?.level).toBe('note');
    expect(codesOf(plan)).not.toContain('hold_needed');
  });

  it('with a record a leak test is needed, unless the pair is held', () => {
    expect(one('hold_needed', planFor(usual, 6, {}, knowing()))?.level).toBe('caution');
    const held = planFor(usual, 6, {}, knowing({ holds: { 'bain-1 theatre-1': 'held' } }));
    expect(codesOf(held)).not.toContain('hold_needed');
    expect(codesOf(held)).not.toContain('no_record');
    expect(held.leakHold?.state).toBe('held');
  });

  it('of a damaged record no pair is held', () => {
    const damaged = knowing({ record: 'damaged', holds: { 'bain-1 theatre-1': 'held' } });
    const plan = planFor(usual, 6, {}, damaged);
    expect(one('record_damaged', plan)?.level).toBe('stop');
    expect(plan.leakHold?.state).toBe('needed');
    expect(one('hold_needed', plan)?.message).toContain('the record is damaged');
  });

  it('stops on a check that blocks, for any part that this pair puts to work', () => {
    const inventory = practice({
      machines: [
        machine('theatre-1', {
          absorber: { id: 'lime', absorbent_g: 1200 },
          vaporizers: [
            { id: 'iso', agent: 'isoflurane' },
            { id: 'sevo', agent: 'sevoflurane' },
          ],
          scavenging: { id: 'canister', kind: 'charcoal', limit_gain_g: 50 },
        }),
      ],
    });
    const blocked = (asset: string, blocks = true, state: 'overdue' | 'failed' = 'overdue') =>
      knowing({ checks: [{ asset, check: 'service', state, blocks, words: 'due since yesterday' }] });
    for (const asset of ['theatre-1', 'bain-1', 'iso', 'sevo', 'canister', 'wall']) {
      const plan = planFor(inventory, 6, {}, blocked(asset));
      expect(one('check_blocks', plan)).toMatchObject({ level: 'stop' });
      expect(plan.main?.flows).not.toBeNull();
    }
    // A Bain wears no absorbent; a circle does.
    expect(codesOf(planFor(inventory, 6, {}, blocked('lime')))).not.toContain('check_blocks');
    expect(codesOf(planFor(inventory, 20, {}, blocked('lime')))).toContain('check_blocks');
    // With an agent named only its vaporizer counts.
    expect(codesOf(planFor(inventory, 6, { agent: 'isoflurane' }, blocked('sevo')))).not.toContain(
      'check_blocks',
    );
    // Another circuit's check is nothing to this pair.
    expect(codesOf(planFor(inventory, 6, {}, blocked('y-piece-1')))).not.toContain('check_blocks');
    // Without blocks a failed check is a caution, an overdue one is left to the report of what is due.
    expect(one('check_failed', planFor(inventory, 6, {}, blocked('iso', false, 'failed')))?.level).toBe(
      'caution',
    );
    expect(codesOf(planFor(inventory, 6, {}, blocked('iso', false)))).not.toContain('check_failed');
    expect(one('check_blocks', planFor(inventory, 6, {}, blocked('iso', true, 'failed')))?.level).toBe(
      'stop',
    );
  });

  it('stops on a pop-off left shut, cautions of parts and supplies that failed', () => {
    const known = knowing({
      popOffShut: { 'bain-1 theatre-1': 'the pop-off was left shut on 24 Nov' },
      failedElsewhere: { 'bain-1 theatre-1': ['bain-1 failed on theatre-2'] },
      supplyHoldFailed: { wall: 'fell by 150 psi' },
    });
    const plan = planFor(usual, 6, {}, known);
    expect(one('pop_off_shut', plan)?.level).toBe('stop');
    expect(one('part_failed_elsewhere', plan)?.level).toBe('caution');
    expect(one('supply_hold_failed', plan)?.level).toBe('caution');
  });

  it('passes over what is withdrawn or failed when the choice is free', () => {
    const failed = knowing({ holds: { 'bain-1 theatre-1': 'failed' } });
    const plan = planFor(usual, 6, {}, failed);
    expect(pairOf(plan)).toBeNull();
    expect(codesOf(plan)).not.toContain('hold_failed');
    const withdrawn = planFor(usual, 20, {}, knowing({ outOfService: { 'y-piece-1': 'valve sticks' } }));
    expect(pairOf(withdrawn)).toBeNull();
  });
});

describe('the equipment', () => {
  const on = (changes: Readonly<Record<string, unknown>>, weight = 6) =>
    planFor(practice({ machines: [machine('m', changes)] }), weight);

  it('flush_live: only where the flush blows into a non-rebreathing circuit', () => {
    expect(one('flush_live', on({}))?.level).toBe('caution');
    expect(codesOf(on({ flush_to: 'circle' }))).not.toContain('flush_live');
    expect(codesOf(on({ flush_to: 'none' }))).not.toContain('flush_live');
    expect(codesOf(on({}, 20))).not.toContain('flush_live');
  });

  it('capnograph_absent: only on non-rebreathing, only where the inventory says there is none', () => {
    expect(one('capnograph_absent', on({ capnograph: false }))).toMatchObject({ level: 'note' });
    expect(one('capnograph_absent', on({ capnograph: false }))?.message).toContain('400–500 mL/kg/min');
    expect(codesOf(on({ capnograph: false }, 20))).not.toContain('capnograph_absent');
    expect(codesOf(on({ capnograph: true }))).not.toContain('capnograph_absent');
    expect(codesOf(on({}))).not.toContain('capnograph_absent');
  });

  it('scavenging: an active system without an air break, and none at all', () => {
    const active = (airBreak: boolean) => ({ scavenging: { id: 's', kind: 'active', air_break: airBreak } });
    expect(one('scavenging_without_air_break', on(active(false)))?.level).toBe('caution');
    expect(codesOf(on(active(true)))).not.toContain('scavenging_without_air_break');
    expect(one('scavenging_unknown', on({}))?.level).toBe('note');
    const charcoal = { scavenging: { id: 's', kind: 'charcoal', limit_gain_g: 50 } };
    expect(codesOf(on(charcoal))).not.toContain('scavenging_unknown');
    expect(codesOf(on(charcoal))).not.toContain('scavenging_without_air_break');
  });

  it('no_backup_oxygen: absent with several supplies, unless only one of them is in service', () => {
    const supplies = [
      { id: 'wall', kind: 'pipeline' },
      { id: 'box', kind: 'concentrator', max_ml_min: 5000, since: '2024-01-01' },
    ];
    const both = practice({ machines: [machine('m', { oxygen: ['wall', 'box'] })], supplies });
    expect(codesOf(planFor(both, 6))).not.toContain('no_backup_oxygen');
    expect(one('no_backup_oxygen', planFor(usual, 6))?.level).toBe('note');
    const known = knowing({ outOfService: { wall: 'no pressure' } });
    expect(one('no_backup_oxygen', planFor(both, 6, {}, known))?.message).toContain('box');
  });

  it.each([
    [6.99, 22, true],
    [6.99, 21, false],
    [7, 22, false],
  ])('wide_bore: %f kg on %i mm hoses: %s', (weight, bore, noted) => {
    const inventory = practice({ circuits: [circuit('y', 'circle_y', { bore_mm: bore })] });
    expect(codesOf(planFor(inventory, weight, { circuit: 'y' })).includes('wide_bore')).toBe(noted);
  });

  it.each([
    // 20 % of 10 mL/kg × 3 kg are 6 mL.
    [3, 0, false],
    [3, 0.1, true],
    [2.99, 0, true],
  ])('dead_space_high: 6 mL on %f kg with %f mL of adapters: %s', (weight, adapterMl, cautioned) => {
    const inventory = practice({ circuits: [circuit('bain-1', 'bain', { dead_space_ml: 6 })] });
    const plan = planFor(inventory, weight, { adapterMl: ml(adapterMl) });
    expect(codesOf(plan).includes('dead_space_high')).toBe(cautioned);
  });

  it('dead_space_high goes by the ideal weight where there is one', () => {
    const inventory = practice({ circuits: [circuit('bain-1', 'bain', { dead_space_ml: 6 })] });
    expect(codesOf(planFor(inventory, 4, { idealWeightKg: kg(2.9) }))).toContain('dead_space_high');
  });
});

describe('the least flow', () => {
  const words = (weight: number) => one('minimum_flow_applied', planFor(usual, weight))?.message;

  it('says in which phases, and at which end', () => {
    expect(words(1.5)).toBe('never less than 500 mL/min: by weight it would be less');
    expect(words(2)).toBe('never less than 500 mL/min: by weight it would be less at the low end');
    expect(words(9)).toBe(
      'never less than 500 mL/min: by weight it would be less in maintenance, at the low end of induction and recovery',
    );
    expect(words(12)).toBe('never less than 500 mL/min: by weight it would be less in maintenance');
    expect(words(20)).toBe(
      'never less than 500 mL/min: by weight it would be less at the low end of maintenance',
    );
    expect(codesOf(planFor(usual, 25))).not.toContain('minimum_flow_applied');
  });
});

describe('their order and their levels', () => {
  it('is worst first', () => {
    const known = knowing({
      popOffShut: { 'bain-1 theatre-1': 'left shut' },
      checks: [{ asset: 'bain-1', check: 'inner-tube', state: 'overdue', blocks: true, words: 'overdue' }],
    });
    const rank = { stop: 0, caution: 1, note: 2 };
    for (const weight of [2, 6.8, 7.5, 33.4]) {
      const levels = planFor(usual, weight, {}, known).cautions.map(({ level }) => rank[level]);
      expect(levels).toEqual([...levels].sort());
    }
  });

  it('has one level per code, as agreed', () => {
    const levels: Readonly<Record<string, string>> = Object.fromEntries(
      Object.entries(CAUTION_CODES).map(([code, { level }]) => [code, level]),
    );
    const agreed = {
      stop: ['weight_implausible', 'no_circuit', 'circuit_withdrawn', 'hold_failed', 'flow_above_maximum'],
      caution: [
        'boundary_between',
        'boundary_near',
        'hold_needed',
        'bag_not_stocked',
        'dead_space_high',
        'class_differs',
        'class_substituted',
        'oxygen_unknown',
      ],
      note: [
        'no_backup_oxygen',
        'small_bag',
        'wide_bore',
        'minimum_flow_applied',
        'no_record',
        'set_above_range',
      ],
    };
    for (const [level, codes] of Object.entries(agreed)) {
      for (const code of codes) expect(levels[code], code).toBe(level);
    }
    for (const code of [
      'check_blocks',
      'pop_off_shut',
      'tidal_volume_unknown',
      'agent_not_fitted',
      'record_damaged',
    ])
      expect(levels[code], code).toBe('stop');
  });

  it('makes a plan stop by a stop alone', () => {
    expect(hasStop(planFor(usual, 6))).toBe(false);
    expect(hasStop(planFor(usual, 33.4))).toBe(false);
    expect(hasStop(planFor(usual, 0.4))).toBe(true);
  });
});

describe('what the inventory leaves open', () => {
  it('a circle on a machine without an absorber', () => {
    expect(one('absorber_unknown', planFor(practice({ machines: [machine('theatre-1')] }), 20))?.level).toBe(
      'caution',
    );
    const fitted = practice({
      machines: [machine('theatre-1', { absorber: { id: 'lime', absorbent_g: 1200 } })],
    });
    expect(codesOf(planFor(fitted, 20))).not.toContain('absorber_unknown');
    // A Bain needs none.
    expect(codesOf(planFor(practice({ machines: [machine('theatre-1')] }), 6))).not.toContain(
      'absorber_unknown',
    );
  });

  it('an absorber out of service keeps circles off its machine, not a Bain', () => {
    const inventory = practice({
      machines: [machine('theatre-1', { absorber: { id: 'lime', absorbent_g: 1200 } })],
    });
    const out = knowing({ outOfService: { lime: 'cracked' } });
    expect(codesOf(planFor(inventory, 20, {}, out))).toContain('no_circuit');
    expect(pairOf(planFor(inventory, 6, {}, out))).toBe('bain-1 on theatre-1');
  });

  it('scavenging out of service', () => {
    const scavenging = { id: 'canister', kind: 'charcoal', limit_gain_g: 50 };
    const inventory = practice({ machines: [machine('theatre-1', { scavenging })] });
    const plan = planFor(inventory, 6, {}, knowing({ outOfService: { canister: 'full' } }));
    expect(one('scavenging_out_of_service', plan)?.message).toBe('canister is out of service: full');
  });

  it('lines that are still marked CHECK', () => {
    const text = practiceText().replace('format: 1', 'format: 1   # CHECK');
    expect(one('inventory_unfinished', planFor(loadText(text), 6))?.message).toContain(
      '1 line of the inventory',
    );
    expect(codesOf(planFor(usual, 6))).not.toContain('inventory_unfinished');
  });

  it('no species', () => {
    expect(one('species_not_given', planFor(usual, 6))?.level).toBe('note');
    expect(codesOf(planFor(usual, 6, { species: 'dog' }))).not.toContain('species_not_given');
  });
});

describe('the dial and the agent', () => {
  const inventory = practice({
    machines: [
      machine('theatre-1', { vaporizers: [{ id: 'iso', agent: 'isoflurane' }] }),
      machine('theatre-2', { vaporizers: [{ id: 'sevo', agent: 'sevoflurane' }] }),
    ],
  });

  it('a setting beyond where dials end', () => {
    const at = (setting: number) =>
      planFor(inventory, 6, { agent: 'isoflurane', settingPercent: percent(setting), minutes: minutes(60) });
    expect(codesOf(at(5))).not.toContain('setting_above_dial');
    expect(one('setting_above_dial', at(5.1))?.level).toBe('caution');
  });

  it('an agent that another machine has', () => {
    const plan = planFor(inventory, 6, { agent: 'sevoflurane', minutes: minutes(60) });
    expect(one('agent_not_fitted', plan)?.message).toContain('theatre-2 has: --machine theatre-2');
  });
});
