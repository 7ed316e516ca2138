import { describe, expect, it } from 'vitest';
import type { Inventory } from '../../../src/inventory/inventory.ts';
import type { CheckTrouble, EquipmentState, PlanRequest } from '../../../src/plan/request.ts';
import type { Missing } from '../../../src/plan/supplies/case.ts';
import type { Supplies } from '../../../src/plan/supplies/supplies.ts';
import { grams, hours, kg, minutes, mlPerMin, percent } from '../../../src/quantity/units.ts';
import { larkhill, reading, signOff, usage, withdraw } from '../../record/entries.ts';
import { equipmentOf, messages, plan, supplies, withMachine } from './case.ts';

const inventory = larkhill();
const line = (path: string) => inventory.placeOf(path).line;
const inOptions = (add: string, what: string): Missing => ({
  what,
  in: 'options',
  add,
  path: null,
  line: null,
});
const inRecord = (add: string, what: string): Missing => ({
  what,
  in: 'record',
  add,
  path: null,
  line: null,
});
const inInventory = (path: string, add: string, what: string): Missing => ({
  what,
  in: 'inventory',
  add,
  path,
  line: line(path),
});

const AGENT = inOptions('--agent NAME', 'the agent');
const SETTING = inOptions('--setting PERCENT', 'the dial setting');
const MINUTES = inOptions('--minutes N', 'how long the case lasts');
const BREATHS = inOptions('--breaths PER_MINUTE', 'breaths a minute');
const AGENT_AND_SETTING = inOptions('--agent NAME --setting PERCENT', 'agent and dial setting');
const ISO = { agent: 'isoflurane', settingPercent: percent(2) } as const;

/** The missing of each part that lacks something. */
function missingOf(made: Supplies): Record<string, readonly Missing[]> {
  const parts = { ...made, reasons: null };
  return Object.fromEntries(
    Object.entries(parts).flatMap(([part, of]) =>
      of !== null && 'missing' in of && of.missing.length > 0 ? [[part, of.missing]] : [],
    ),
  );
}

/** The inventory without a check. */
function without(check: string): Inventory {
  return { ...inventory, checks: inventory.checks.filter(({ id }) => id !== check) };
}

describe('what a part of the supplies lacks', () => {
  it('where nothing was given and nothing recorded, on a circle', () => {
    expect(missingOf(supplies(inventory, []))).toEqual({
      oxygen: [
        inRecord('holdfast reading ward-e-1 PRESSURE', 'what ward-e-1 has left: its gauge was never read'),
        MINUTES,
      ],
      absorbent: [
        inRecord(
          'holdfast sign-off theatre-1-absorber absorbent-change',
          'when theatre-1-absorber was last changed',
        ),
      ],
      agent: [AGENT, SETTING, MINUTES],
      charcoal: [
        inRecord(
          'holdfast reading theatre-1-charcoal GRAMS --new',
          'what theatre-1-charcoal weighed when it was new',
        ),
        AGENT_AND_SETTING,
        MINUTES,
      ],
      breathing: [BREATHS],
      deadSpace: [inInventory('/circuits/2/dead_space_ml', 'dead_space_ml', 'the dead space of coaxial-1')],
    });
  });

  it('where everything was given and recorded: nothing', () => {
    const record = [
      reading('06:00', 'theatre-1-charcoal', { g: 800, new: true }),
      reading('07:50', 'ward-e-1', { psi: 1450 }),
    ];
    const all = { ...ISO, weightKg: kg(6), minutes: minutes(90), breathsPerMin: 20 };
    expect(missingOf(supplies(inventory, record, all))).toEqual({});
    const changed = signOff('06:05', 'theatre-1-absorber', 'absorbent-change');
    const circle = supplies(inventory, [...record, changed], { ...all, weightKg: kg(10) });
    expect(circle.absorbent?.missing).toEqual([]);
    expect(Object.keys(missingOf(circle))).toEqual(['deadSpace']);
  });

  it('while the record is damaged, from which nothing is taken', () => {
    const record = [
      reading('06:00', 'theatre-1-charcoal', { g: 800, new: true }),
      signOff('06:05', 'theatre-1-absorber', 'absorbent-change'),
      reading('07:50', 'ward-e-1', { psi: 1450 }),
    ];
    const damaged: EquipmentState = { ...equipmentOf(inventory, record), record: 'damaged' };
    const made = supplies(inventory, damaged, { ...ISO, minutes: minutes(90), breathsPerMin: 20 });
    const verify = (what: string) => inRecord('holdfast record verify', `${what}: the record is damaged`);
    expect(missingOf(made)).toMatchObject({
      oxygen: [verify('what ward-e-1 has left')],
      absorbent: [verify('when theatre-1-absorber was last changed')],
      charcoal: [verify('what theatre-1-charcoal has gained')],
    });
    expect(made.charcoal).toMatchObject({ gainGSoFar: null, gainAtLeastG: 0, hoursUsed: null });
    expect(made.absorbent).toMatchObject({ hoursUsed: null, since: null });
    expect(made.oxygen).toMatchObject({ leftL: null, readAt: null, by: null, useL: 50 });
  });

  it('where the practice wrote too little down', () => {
    const bare = withMachine(inventory, 'theatre-1', { absorber: null, internalVolumeMl: null });
    const made = supplies(
      { ...bare, circuits: bare.circuits.map(circuit => ({ ...circuit, volumeMl: null })) },
      [],
      { minutes: minutes(90) },
    );
    expect(missingOf(made)).toMatchObject({
      absorbent: [
        inInventory(
          '/machines/0/absorber',
          'absorber: { id: ID, absorbent_g: GRAMS }',
          'the absorbent of theatre-1',
        ),
      ],
      washIn: [
        inInventory('/machines/0/internal_volume_ml', 'internal_volume_ml', 'the inside volume of theatre-1'),
        inInventory('/circuits/2/volume_ml', 'volume_ml', 'the volume of coaxial-1'),
      ],
    });
    // Carbon dioxide is made all the same.
    expect(made.absorbent?.reasons.map(({ figure }) => figure)).toEqual(['supplies.absorbent.co2_ml_min']);
  });

  it('where no bag is in stock', () => {
    expect(missingOf(supplies({ ...inventory, bags: [] }, []))).toMatchObject({
      washIn: [
        { what: 'a bag in stock', in: 'inventory', add: 'size_ml', path: '/bags', line: line('/bags') },
      ],
    });
  });

  it('where no check says when absorbent was changed', () => {
    expect(supplies(without('absorbent-change'), []).absorbent?.missing).toEqual([
      {
        what: 'a check by hours in use, of theatre-1-absorber, that says when it was changed',
        in: 'inventory',
        add: 'a check by hours_in_use',
        path: '/checks',
        line: line('/checks'),
      },
    ]);
  });

  it('where the species has no tidal volume', () => {
    const tidal = (species: string, whose: string) => ({
      what: `the tidal volume of ${whose}`,
      in: 'inventory',
      add: `${species}: [LOW, HIGH]`,
      path: `/rules/tidal_volume_by_species_ml_kg/${species}`,
      line: inventory.placeOf('/rules').line,
    });
    for (const [species, whose] of [
      ['rabbit', 'a rabbit'],
      ['other', 'this species'],
    ] as const) {
      const made = supplies(inventory, [], { species, weightKg: kg(3) });
      expect(made.breathing.missing).toEqual([tidal(species, whose), BREATHS]);
      expect(made.deadSpace).toMatchObject({ tidalVolumeMl: null, fraction: null, apparatusMl: 4 });
    }
  });

  it('where no oxygen of the machine is in service', () => {
    const record = [withdraw('07:00', 'ward-e-1'), withdraw('07:00', 'wall')];
    const forced: Partial<PlanRequest> = { machine: 'theatre-1', circuit: 'y-piece-1', minutes: minutes(90) };
    expect(supplies(inventory, record, forced).oxygen).toMatchObject({
      supply: null,
      leftL: null,
      minutesLeftAtSet: null,
      missing: [inRecord('holdfast return SUPPLY', 'an oxygen supply of theatre-1 in service')],
    });
  });

  it('where a gauge shows more than the cylinder can hold', () => {
    expect(supplies(inventory, [reading('07:50', 'ward-e-1', { psi: 2600 })]).oxygen.missing).toEqual([
      inRecord(
        'holdfast reading ward-e-1 PRESSURE',
        'what ward-e-1 has left: 2600 psi was read, more than it can hold',
      ),
      MINUTES,
    ]);
  });

  it('where cases do not say what they let through, and how much is known', () => {
    const record = [
      reading('06:00', 'theatre-1-charcoal', { g: 800, new: true }),
      reading('07:00', 'theatre-1-charcoal', { g: 820 }),
      usage('08:00', 'theatre-1', 'bain-1', { minutes: 30 }),
      usage('09:00', 'theatre-1', 'bain-1', { minutes: 30 }),
    ];
    const { charcoal } = supplies(inventory, record, { ...ISO, minutes: minutes(90) });
    expect(charcoal).toMatchObject({ gainGSoFar: null, gainAtLeastG: 20, hoursLeft: null, limitedBy: null });
    expect(charcoal?.missing).toMatchObject([
      {
        in: 'record',
        add: expect.stringMatching(/^holdfast reading theatre-1-charcoal GRAMS/),
        what: 'what theatre-1-charcoal has gained: 2 cases since it was last weighed do not say agent and setting; at least 20 g',
      },
    ]);
  });
});

describe('the limits of a canister', () => {
  const fresh = reading('06:00', 'theatre-1-charcoal', { g: 800, new: true });
  const canister = inventory.machines[0]?.scavenging ?? null;
  if (canister === null) throw new Error('theatre-1 has a canister');
  const limited = (limitGainG: number | null, gainG: number | null): Inventory => {
    const own = limitGainG === null ? null : grams(limitGainG);
    const base = withMachine(inventory, 'theatre-1', { scavenging: { ...canister, limitGainG: own } });
    const checks = base.checks.map(check =>
      check.id === 'canister-change'
        ? { ...check, after: { hoursInUse: hours(12), gainG: gainG === null ? null : grams(gainG) } }
        : check,
    );
    return { ...base, checks };
  };
  const charcoalOf = (with_: Inventory, request: Partial<PlanRequest> = {}) =>
    supplies(with_, [fresh], request).charcoal;
  const limitRule = (with_: Inventory) =>
    charcoalOf(with_)?.reasons.find(({ figure }) => figure === 'supplies.charcoal.limit_g')?.rules[0]?.path;

  it.each([
    [50, 40, 40, '/checks/3/after/gain_g'],
    [40, 50, 40, '/machines/0/scavenging/limit_gain_g'],
    [null, 45, 45, '/checks/3/after/gain_g'],
    [45, null, 45, '/machines/0/scavenging/limit_gain_g'],
  ])('its own of %s g and a check’s of %s g: the lower, %s g', (own, check, limit, path) => {
    expect(charcoalOf(limited(own, check))?.limitG).toBe(limit);
    expect(limitRule(limited(own, check))).toBe(path);
  });

  it('without a limit in grams: what is missing, and the practice’s hours alone', () => {
    const made = charcoalOf(limited(null, null), { ...ISO, minutes: minutes(60) });
    expect(made).toMatchObject({ limitG: null, hoursLeft: 12, limitedBy: 'hours_in_use' });
    expect(made?.missing).toEqual([
      inInventory(
        '/machines/0/scavenging/limit_gain_g',
        'limit_gain_g',
        'how many grams theatre-1-charcoal may gain',
      ),
    ]);
    expect(limitRule(limited(null, null))).toBeUndefined();
  });

  it('without a limit in hours: by gain alone, and nothing where no agent comes in', () => {
    const byGain = { ...limited(50, 50), checks: without('canister-change').checks };
    const perHour = ((60 * 500 * 0.02) / 195) * 1.496;
    const made = charcoalOf(byGain, ISO);
    expect(made).toMatchObject({ limitedBy: 'gain', hoursLeftByRule: null });
    expect(made?.hoursLeft).toBeCloseTo(50 / perHour, 9);
    expect(charcoalOf(byGain, { ...ISO, settingPercent: percent(0) })).toMatchObject({
      hoursLeft: null,
      limitedBy: null,
    });
  });

  it('goes by a check of that canister alone', () => {
    const elsewhere = limited(50, 30);
    const checks = elsewhere.checks.map(check =>
      check.id === 'canister-change' ? { ...check, assets: ['dental-scavenging'] } : check,
    );
    expect(charcoalOf({ ...elsewhere, checks })?.limitG).toBe(50);
  });

  it('is never less than nothing by the practice’s hours', () => {
    const use = usage('06:30', 'theatre-1', 'bain-1', {
      minutes: 900,
      agent: 'isoflurane',
      setting_percent: 0,
    });
    const made = plan(inventory, [fresh, use]);
    expect(made.supplies?.charcoal).toMatchObject({
      hoursUsed: 15,
      hoursLeftByRule: 0,
      hoursLeft: 0,
      limitedBy: 'hours_in_use',
    });
    expect(messages(made, 'charcoal_near_full')).toEqual([
      "theatre-1-charcoal has 15 h in use; 0 h left by the practice's limit",
    ]);
  });
});

describe('where little is given', () => {
  it('an agent without a setting, or a setting without an agent, comes to no figure', () => {
    for (const given of [{ agent: 'isoflurane' }, { settingPercent: percent(2) }] as const) {
      const made = plan(inventory, [], { ...given, minutes: minutes(45) });
      expect(made.supplies?.agent).toMatchObject({ liquidMl: null, mlPerHour: null, reasons: [] });
      expect(made.supplies?.charcoal).toMatchObject({ expectedG: null });
      expect(messages(made, 'setting_above_dial')).toEqual([]);
    }
  });

  it('oxygen has the reasons of what is known', () => {
    const figures = (...given: Parameters<typeof supplies>) =>
      supplies(...given).oxygen.reasons.map(({ figure }) => figure.slice('supplies.oxygen.'.length));
    const read = reading('07:50', 'ward-e-1', { psi: 1450 });
    const length = { minutes: minutes(45) };
    expect(figures(inventory, [read])).toEqual(['left_l', 'minutes_left_at_set']);
    expect(figures(inventory, [])).toEqual([]);
    expect(figures(inventory, [], length)).toEqual(['use_l']);
    // A pipeline has nothing to read.
    const pipeline = withdraw('07:00', 'ward-e-1');
    expect(figures(inventory, [pipeline], length)).toEqual(['use_l']);
    expect(figures(inventory, [pipeline])).toEqual([]);
    expect(supplies(inventory, [pipeline], length).oxygen.missing).toEqual([]);
  });

  it('oxygen that is known and enough is cautioned of in no way', () => {
    const made = plan(inventory, [reading('07:50', 'ward-e-1', { psi: 1450 })], { minutes: minutes(45) });
    expect(made.supplies?.oxygen.enough).toBe(true);
    for (const code of ['oxygen_short', 'oxygen_unknown']) expect(messages(made, code)).toEqual([]);
  });
});

describe('the words of the cautions of supplies', () => {
  const changed = signOff('06:00', 'theatre-1-absorber', 'absorbent-change');

  it('for absorbent that is used up by its capacity', () => {
    const [theatre] = inventory.machines;
    if (theatre?.absorber == null) throw new Error('theatre-1 has an absorber');
    const small = withMachine(inventory, 'theatre-1', {
      absorber: { ...theatre.absorber, absorbentG: grams(200) },
    });
    // 60 kg make 213 mL/min: 24 L last 1.875 h.
    const made = plan(small, [changed, usage('07:00', 'theatre-1', 'y-piece-1', { minutes: 60 })], {
      weightKg: kg(60),
      minutes: minutes(60),
    });
    expect(messages(made, 'absorbent_due')).toEqual([
      'theatre-1-absorber has 0.8 h left: 1 h used and what it takes up of carbon dioxide at this weight',
    ]);
    expect(made.supplies?.absorbent).toMatchObject({ limit: { by: 'capacity' }, hoursLeftByRule: 7 });
  });

  it('rounded to the safe side: what is left down, what is asked for up', () => {
    // 15 min at 750, 24.6 at 500, 5 at 750 mL/min: 27.3 L; 26.75 L are left.
    const short = plan(inventory, [reading('07:50', 'ward-e-1', { psi: 277 })], { minutes: minutes(44.6) });
    expect(messages(short, 'oxygen_short')).toEqual([
      'ward-e-1 has 26 L left; 44.6 min ask for 28 L over its phases',
    ]);
    const fresh = reading('06:00', 'theatre-1-charcoal', { g: 800, new: true });
    const idle = { agent: 'isoflurane', setting_percent: 0, minutes: 667 } as const;
    const worn = plan(inventory, [fresh, usage('06:30', 'theatre-1', 'bain-1', idle)], {
      minutes: minutes(60),
    });
    // 12 h − 11.117 h are 0.883 h.
    expect(messages(worn, 'charcoal_near_full')).toEqual([
      "theatre-1-charcoal has 11.1 h in use; 0.8 h left by the practice's limit",
    ]);
  });

  it('for a check of absorbent that failed, which says so itself', () => {
    const trouble: CheckTrouble = {
      asset: 'theatre-1-absorber',
      check: 'absorbent-change',
      state: 'failed',
      blocks: false,
      words: 'failed on 2026-11-24',
    };
    const known = { ...equipmentOf(inventory, [changed]), checks: () => [trouble] };
    const made = plan(inventory, known);
    expect(made.supplies?.absorbent?.due).toEqual(trouble);
    expect(messages(made, 'absorbent_due')).toEqual([]);
    expect(messages(made, 'check_failed')).toEqual([
      'absorbent-change of theatre-1-absorber: failed on 2026-11-24',
    ]);
    // It is enough to say so once, also where the hours are used up.
    const worn = [changed, usage('07:00', 'theatre-1', 'y-piece-1', { minutes: 540 })];
    const failed = plan(inventory, { ...equipmentOf(inventory, worn), checks: () => [trouble] });
    expect(failed.supplies?.absorbent?.hoursLeftByRule).toBe(0);
    expect(messages(failed, 'absorbent_due')).toEqual([]);
    // Another check of the absorber is not the one that renews it.
    const other = { ...known, checks: () => [{ ...trouble, check: 'seal', state: 'overdue' as const }] };
    expect(plan(inventory, other).supplies?.absorbent?.due).toBeNull();
    expect(messages(plan(inventory, other), 'absorbent_due')).toEqual([]);
  });

  it('for a dial beyond its usual end', () => {
    const at = (setting: number, agent: 'isoflurane' | 'sevoflurane' = 'isoflurane') =>
      messages(plan(inventory, [], { agent, settingPercent: percent(setting) }), 'setting_above_dial');
    expect(at(5.5)).toEqual(['5.5 %: dials for isoflurane usually end at 5 %']);
    expect(at(5)).toEqual([]);
    expect(at(8.5, 'sevoflurane')).toEqual(['8.5 %: dials for sevoflurane usually end at 8 %']);
    expect(at(5.5, 'sevoflurane')).toEqual([]);
  });

  it('for a vaporizer of which the least flow is just given', () => {
    const fitted = (least: number) =>
      withMachine(inventory, 'theatre-1', {
        vaporizers: (inventory.machines[0]?.vaporizers ?? []).map(vaporizer => ({
          ...vaporizer,
          minFlowMlPerMin: mlPerMin(least),
        })),
      });
    expect(messages(plan(fitted(500), []), 'vaporizer_flow_low')).toEqual([]);
    // With no agent named, of each that may serve.
    expect(messages(plan(fitted(550), []), 'vaporizer_flow_low')).toEqual([
      '500 mL/min in maintenance is below the least flow of theatre-1-iso, 550 mL/min',
      '500 mL/min in maintenance is below the least flow of theatre-1-sevo, 550 mL/min',
    ]);
  });

  it('for a vaporizer, of the first phase where all have the same flow', () => {
    const fitted = withMachine(inventory, 'theatre-1', {
      vaporizers: (inventory.machines[0]?.vaporizers ?? []).slice(0, 1).map(vaporizer => ({
        ...vaporizer,
        minFlowMlPerMin: mlPerMin(2000),
      })),
    });
    expect(messages(plan(fitted, [], { weightKg: kg(6) }), 'vaporizer_flow_low')).toEqual([
      '1.5 L/min in induction is below the least flow of theatre-1-iso, 2 L/min',
    ]);
  });

  it('for a flow below what is breathed', () => {
    const bain = { weightKg: kg(6), breathsPerMin: 20 };
    expect(messages(plan(inventory, [], bain), 'flow_below_breathing')).toEqual([
      '1.5 L/min is 1.3 times the minute volume of 1.2 L/min; published multiples are 2 to 3: watch inspired carbon dioxide',
    ]);
    // Twice the minute volume exactly is enough.
    expect(messages(plan(inventory, [], { ...bain, breathsPerMin: 12.5 }), 'flow_below_breathing')).toEqual(
      [],
    );
  });

  it('for an agent that only other machines have', () => {
    const noSevo = withMachine(inventory, 'theatre-1', {
      vaporizers: (inventory.machines[0]?.vaporizers ?? []).filter(({ agent }) => agent === 'isoflurane'),
    });
    expect(messages(plan(noSevo, [], { agent: 'sevoflurane' }), 'agent_not_fitted')).toEqual([
      'theatre-1 has no vaporizer in service for sevoflurane; dental has: --machine dental',
    ]);
  });
});
