import { describe, expect, it } from 'vitest';
import type { Reason } from '../../../src/plan/reason.ts';
import type { PlanRequest } from '../../../src/plan/request.ts';
import { kg, minutes, ml, percent } from '../../../src/quantity/units.ts';
import { larkhill, reading, signOff, usage } from '../../record/entries.ts';
import { supplies } from './case.ts';

const inventory = larkhill();
const RECORD = [
  reading('06:00', 'theatre-1-charcoal', { g: 800, new: true }),
  signOff('06:05', 'theatre-1-absorber', 'absorbent-change'),
  reading('07:50', 'ward-e-1', { psi: 1450 }),
  usage('09:00', 'theatre-1', 'coaxial-1', {
    minutes: 45,
    flow_ml_min: 1000,
    agent: 'isoflurane',
    setting_percent: 2,
  }),
];
const CIRCLE: Partial<PlanRequest> = {
  minutes: minutes(90),
  agent: 'isoflurane',
  settingPercent: percent(2),
  breathsPerMin: 20,
  adapterMl: ml(4),
  circuit: 'coaxial-1',
  weightKg: kg(10),
};
const BAIN: Partial<PlanRequest> = { ...CIRCLE, circuit: 'bain-1', weightKg: kg(6) };

const near = (value: number) => expect.closeTo(value, 4);
const WRITTEN = 'as the practice wrote it down';
const written = (path: string) => ({
  path,
  line: inventory.placeOf(path).line,
  from: 'inventory',
  source: WRITTEN,
});
const byDefault = (path: string, source: string) => ({ path, line: null, from: 'default', source });

const FIRST_15_MIN = 'AAFP Feline Anesthesia Guidelines 2018: the higher flow for the first 15 min';
const PHASE_RULES = [
  byDefault('/rules/phase_minutes/induction', FIRST_15_MIN),
  byDefault('/rules/phase_minutes/recovery', 'common practice, no published source'),
];
const TWELVE_LITRES =
  'Jorgensen & Jorgensen, Acta Anaesthesiol Scand 1977;21:437-444: at least 12 L per 100 g';
const ABSORBENT_RULES = [
  byDefault('/rules/absorbent_litres_per_100_g', TWELVE_LITRES),
  written('/machines/0/absorber/absorbent_g'),
];
const TIDAL = 'Donati et al., J Vet Sci 2019;20:e21 (literature range, dogs)';
const TIDAL_RULES = [byDefault('/rules/tidal_volume_ml_kg', TIDAL)];
const VAPOUR = 'vapour per mL of liquid: Biro, Acta Anaesthesiol Scand 2014';
const CAUGHT = 'all of the agent that is let through counted as caught; density: pharmacopoeia (from memory)';
const CONSTANTS = 'time constant = volume / flow; 63 %, 86 %, 95 % after 1, 2, 3 of them: OpenAnesthesia';

function reasonsOf(part: string, request: Partial<PlanRequest>, record = RECORD): readonly Reason[] {
  return supplies(inventory, record, request).reasons.filter(({ figure }) =>
    figure.startsWith(`supplies.${part}.`),
  );
}

describe('why the supplies of a case are what they are', () => {
  it('the oxygen, from the gauge, the contents and the uses since', () => {
    expect(reasonsOf('oxygen', CIRCLE)).toEqual([
      {
        figure: 'supplies.oxygen.left_l',
        // 660 × 1250 / 1900 − 45
        value: near(389.2105),
        formula: '660 L × (1450 psi − 200 psi) / 1900 psi − 45 L used since',
        inputs: {
          gauge_psi: 1450,
          read_at: '2026-11-25T07:50:00+00:00',
          by: 'M. Quill',
          capacity_l: 660,
          reserve_psi: 200,
          full_psi: 1900,
          used_since_l: 45,
        },
        rules: [written('/oxygen_supplies/0/capacity_l')],
        source: 'the gauge as it was read, and the contents of ward-e-1 as the practice wrote them down',
      },
      {
        figure: 'supplies.oxygen.minutes_left_at_set',
        value: near(778.4211),
        formula: '389.21 L / 500 mL/min',
        inputs: { left_l: near(389.2105), set_ml_min: 500 },
        rules: [],
        source: 'arithmetic',
      },
      {
        figure: 'supplies.oxygen.use_l',
        value: 50,
        formula: '15 min × 750 mL/min + 70 min × 500 mL/min + 5 min × 750 mL/min',
        inputs: { minutes: 90, induction_minutes: 15, maintenance_minutes: 70, recovery_minutes: 5 },
        rules: PHASE_RULES,
        source: FIRST_15_MIN,
      },
      {
        figure: 'supplies.oxygen.enough',
        value: true,
        formula: 'the larger of 50 L over the phases and 45 L at the set flow is at most 389.21 L',
        inputs: { use_l: 50, at_set_l: 45, left_l: near(389.2105) },
        rules: [],
        source: 'arithmetic',
      },
    ]);
  });

  it('the oxygen that is short, that was overfull, and that is used up', () => {
    const formulas = (psi: number, min = 45, used = 0) =>
      reasonsOf('oxygen', { ...CIRCLE, minutes: minutes(min) }, [
        reading('07:50', 'ward-e-1', { psi }),
        usage('09:00', 'theatre-1', 'coaxial-1', { minutes: used, flow_ml_min: 1000 }),
      ]).map(({ figure, formula }) => `${figure.slice('supplies.oxygen.'.length)}: ${formula}`);
    expect(formulas(270)).toEqual([
      'left_l: 660 L × (270 psi − 200 psi) / 1900 psi − 0 L used since',
      'minutes_left_at_set: 24.32 L / 500 mL/min',
      'use_l: 15 min × 750 mL/min + 25 min × 500 mL/min + 5 min × 750 mL/min',
      'enough: the larger of 27.5 L over the phases and 22.5 L at the set flow is more than 24.32 L',
    ]);
    expect(formulas(2000)[0]).toBe(
      'left_l: 660 L × (2000 psi counted as full, 1900 psi − 200 psi) / 1900 psi − 0 L used since',
    );
    expect(formulas(270, 45, 60).slice(0, 2)).toEqual([
      'left_l: 660 L × (270 psi − 200 psi) / 1900 psi − 60 L used since, never below 0',
      'minutes_left_at_set: 0 L / 500 mL/min',
    ]);
    // A short case is over before maintenance.
    expect(formulas(270, 10)[2]).toBe('use_l: 10 min × 750 mL/min');
  });

  it('the absorbent, from the carbon dioxide, the check and the hours', () => {
    const co2 = near(55.6718);
    expect(reasonsOf('absorbent', CIRCLE)).toEqual([
      {
        figure: 'supplies.absorbent.co2_ml_min',
        value: co2,
        formula: '9.9 × 10^0.75 mL/min',
        inputs: { weight_kg: 10 },
        rules: [],
        source:
          'resting, fasted dogs, at 20 °C: Pouteau et al., Am J Vet Res 2002;63:111-118; higher than 0.8 × the oxygen used, the safe side',
      },
      {
        figure: 'supplies.absorbent.hours_when_fresh',
        // 144 L at 55.7 mL/min.
        value: near(43.1098),
        formula: '1200 g / 100 × 12 L per 100 g / 55.7 mL/min',
        inputs: { absorbent_g: 1200, litres_per_100_g: 12, co2_ml_min: co2 },
        rules: ABSORBENT_RULES,
        source: TWELVE_LITRES,
      },
      {
        figure: 'supplies.absorbent.hours_used',
        value: 0.75,
        formula: 'the hours of all cases on a circle since 2026-11-25 (signed off as changed)',
        inputs: { since: '2026-11-25', by: 'sign_off' },
        rules: [written('/checks/2')],
        source: "the practice's own record",
      },
      {
        figure: 'supplies.absorbent.hours_left_by_rule',
        value: 7.25,
        formula: '8 h − 0.75 h used',
        inputs: { hours_in_use: 8, hours_used: 0.75 },
        rules: [written('/checks/2/after/hours_in_use')],
        source: 'the check absorbent-change of the practice',
      },
      {
        figure: 'supplies.absorbent.hours_left_by_capacity',
        value: near(42.3598),
        formula: '43.11 h when fresh − 0.75 h used',
        inputs: { hours_when_fresh: near(43.1098), hours_used: 0.75 },
        rules: ABSORBENT_RULES,
        source: TWELVE_LITRES,
      },
    ]);
  });

  it('the hours of absorbent, by what says from when they count', () => {
    const hours = (record: typeof RECORD) =>
      reasonsOf('absorbent', CIRCLE, record).find(({ figure }) => figure.endsWith('hours_used'));
    expect(hours([])).toMatchObject({
      value: 0,
      formula:
        'the hours of all cases on a circle since 2023-02-06 (in service; never signed off as changed)',
      inputs: { since: '2023-02-06', by: 'in_service' },
    });
    const fresh = reading('06:00', 'theatre-1-absorber', { new: true });
    expect(hours([fresh])).toMatchObject({
      formula: 'the hours of all cases on a circle since 2026-11-25 (marked new)',
      inputs: { since: '2026-11-25', by: 'new' },
    });
  });

  it('the agent, an hour at the set flow and over the phases', () => {
    const inputs = { agent: 'isoflurane', setting_percent: 2, vapour_ml_per_ml: 195 };
    expect(reasonsOf('agent', CIRCLE)).toEqual([
      {
        figure: 'supplies.agent.ml_per_hour',
        value: near(3.0769),
        formula: '60 × 500 mL/min × 2 % / 195',
        inputs: { ...inputs, set_ml_min: 500 },
        rules: [],
        source: VAPOUR,
      },
      {
        figure: 'supplies.agent.liquid_ml',
        value: near(5.1282),
        formula: '(15 min × 750 mL/min + 70 min × 500 mL/min + 5 min × 750 mL/min) × 2 % / 195',
        inputs: { ...inputs, minutes: 90 },
        rules: PHASE_RULES,
        source: VAPOUR,
      },
    ]);
    const without = supplies(inventory, RECORD, { ...CIRCLE, minutes: null });
    expect(without.agent).toMatchObject({ liquidMl: null, mlPerHour: near(3.0769) });
    expect(without.agent.reasons.map(({ figure }) => figure)).toEqual(['supplies.agent.ml_per_hour']);
  });

  it('the charcoal, from the gain and what the case adds', () => {
    const rules = [written('/machines/0/scavenging/limit_gain_g')];
    expect(reasonsOf('charcoal', CIRCLE)).toEqual([
      {
        figure: 'supplies.charcoal.limit_g',
        value: 50,
        formula: 'the lowest limit that the practice gives for theatre-1-charcoal',
        inputs: {},
        rules,
        source: WRITTEN,
      },
      {
        figure: 'supplies.charcoal.gain_g_so_far',
        value: near(6.9046),
        formula: 'estimated from the cases since it was new: no scale has shown it',
        inputs: { gain_by: 'estimate' },
        rules: [],
        source: CAUGHT,
      },
      {
        figure: 'supplies.charcoal.expected_g',
        value: near(7.6718),
        formula: '5.13 mL × 1.496 g/mL',
        inputs: { liquid_ml: near(5.1282), density_g_ml: 1.496 },
        rules: [],
        source: CAUGHT,
      },
      {
        figure: 'supplies.charcoal.hours_left',
        value: near(9.3623),
        formula: '(50 g − 6.9 g) / 4.6 g/h',
        inputs: {
          limit_g: 50,
          gain_g_so_far: near(6.9046),
          g_per_hour: near(4.6031),
          ml_per_hour: near(3.0769),
        },
        rules,
        source: CAUGHT,
      },
    ]);
  });

  it('the gain of the charcoal, by what shows it', () => {
    const scale = (at: string, g: number, isNew = false) =>
      reading(at, 'theatre-1-charcoal', { g, new: isNew });
    const use = usage('09:00', 'theatre-1', 'coaxial-1', {
      minutes: 45,
      flow_ml_min: 1000,
      agent: 'isoflurane',
      setting_percent: 2,
    });
    const gain = (record: typeof RECORD) =>
      reasonsOf('charcoal', CIRCLE, record).find(({ figure }) => figure.endsWith('gain_g_so_far'));
    expect(gain([scale('06:00', 800, true), scale('08:00', 820)])).toMatchObject({
      value: 20,
      formula: 'by the scale',
      inputs: { gain_by: 'scale' },
      source: "the practice's own record",
    });
    expect(gain([scale('06:00', 800, true), scale('08:00', 820), use])).toMatchObject({
      value: near(26.9046),
      formula: 'by the scale at the last weighing, and an estimate from the cases since',
      inputs: { gain_by: 'scale_and_estimate' },
      source: CAUGHT,
    });
    expect(gain([])).toBeUndefined();
  });

  it('the hours of the charcoal, where the practice’s hours end first and where it is full', () => {
    const hoursLeft = (record: typeof RECORD, request: Partial<PlanRequest> = CIRCLE) =>
      reasonsOf('charcoal', request, record).find(({ figure }) => figure.endsWith('hours_left'));
    const fresh = reading('06:00', 'theatre-1-charcoal', { g: 800, new: true });
    const idle = usage('06:30', 'theatre-1', 'bain-1', {
      minutes: 660,
      agent: 'isoflurane',
      setting_percent: 0,
    });
    expect(hoursLeft([fresh, idle])).toEqual({
      figure: 'supplies.charcoal.hours_left',
      value: 1,
      formula: '12 h − 11 h used, earlier than by gain',
      inputs: { hours_in_use: 12, hours_used: 11 },
      rules: [written('/checks/3/after/hours_in_use')],
      source: "the practice's own figure",
    });
    const full = [fresh, reading('07:00', 'theatre-1-charcoal', { g: 852 })];
    for (const request of [CIRCLE, { ...CIRCLE, agent: null, settingPercent: null }])
      expect(hoursLeft(full, request)).toMatchObject({
        value: 0,
        formula: '52 g of 50 g are reached',
        inputs: { limit_g: 50, gain_g_so_far: 52 },
      });
  });

  it('the wash-in, from the volumes of machine, circuit and bag', () => {
    const inputs = { volume_ml: 4900, flow_ml_min: 500 };
    expect(reasonsOf('wash_in', CIRCLE)).toEqual([
      {
        figure: 'supplies.wash_in.volume_ml',
        value: 4900,
        formula: '3200 mL in theatre-1 + 700 mL in coaxial-1 + 1000 mL in the bag',
        inputs: { internal_volume_ml: 3200, volume_ml: 700, bag_ml: 1000 },
        rules: [written('/machines/0/internal_volume_ml'), written('/circuits/2/volume_ml')],
        source: WRITTEN,
      },
      {
        figure: 'supplies.wash_in.time_constant_min',
        value: 9.8,
        formula: '4.9 L / 500 mL/min',
        inputs,
        rules: [],
        source: CONSTANTS,
      },
      {
        figure: 'supplies.wash_in.t63_min',
        value: 9.8,
        formula: '1 × 9.8 min',
        inputs,
        rules: [],
        source: CONSTANTS,
      },
      {
        figure: 'supplies.wash_in.t95_min',
        value: near(29.4),
        formula: '3 × 9.8 min',
        inputs,
        rules: [],
        source: CONSTANTS,
      },
    ]);
    expect(reasonsOf('wash_in', BAIN)[0]).toEqual({
      figure: 'supplies.wash_in.volume_ml',
      value: 1450,
      formula: '450 mL in bain-1 + 1000 mL in the bag',
      inputs: { internal_volume_ml: null, volume_ml: 450, bag_ml: 1000 },
      rules: [written('/circuits/1/volume_ml')],
      source: WRITTEN,
    });
  });

  it('breathing, from the tidal volume at its low end', () => {
    // 6 kg: 60 mL, 20 times a minute; 1500 mL/min are set.
    expect(reasonsOf('breathing', BAIN)).toEqual([
      {
        figure: 'supplies.breathing.minute_volume_ml_min',
        value: 1200,
        formula: '10 mL/kg × 6 kg × 20/min',
        inputs: { tidal_volume_ml: 60, breaths_per_min: 20 },
        rules: TIDAL_RULES,
        source: TIDAL,
      },
      {
        figure: 'supplies.breathing.flow_over_minute_volume',
        value: 1.25,
        formula: '1500 / 1200 mL/min',
        inputs: { set_ml_min: 1500, minute_volume_ml_min: 1200 },
        rules: [],
        source: 'arithmetic',
      },
    ]);
  });

  it('dead space, of the circuit and of adapters, against a breath', () => {
    const fifth = inventory.rules.deadSpaceFraction;
    expect(reasonsOf('dead_space', BAIN)).toEqual([
      {
        figure: 'supplies.dead_space.apparatus_ml',
        value: 10,
        formula: '6 mL in bain-1 + 4 mL in adapters',
        inputs: { dead_space_ml: 6, adapter_ml: 4 },
        rules: [written('/circuits/1/dead_space_ml')],
        source: WRITTEN,
      },
      {
        figure: 'supplies.dead_space.tidal_volume_ml',
        value: 60,
        formula: '10 mL/kg × 6 kg',
        inputs: { ml_kg: 10 },
        rules: TIDAL_RULES,
        source: TIDAL,
      },
      {
        figure: 'supplies.dead_space.fraction',
        value: near(10 / 60),
        formula: '10 mL / 60 mL',
        inputs: { apparatus_ml: 10, tidal_volume_ml: 60 },
        rules: [{ path: fifth.path, line: null, from: 'default', source: fifth.source }],
        source: fifth.source,
      },
    ]);
    expect(reasonsOf('dead_space', CIRCLE).map(({ figure }) => figure)).toEqual([
      'supplies.dead_space.tidal_volume_ml',
    ]);
  });

  it('the oxygen that the patient itself uses', () => {
    expect(reasonsOf('metabolism', CIRCLE)).toEqual([
      {
        figure: 'supplies.metabolism.oxygen_ml_min',
        value: near(56.2341),
        formula: '10 × 10^0.75 mL/min',
        inputs: { weight_kg: 10 },
        rules: [],
        source: 'Brody 1945; Lowe & Ernst 1981 (from memory)',
      },
    ]);
  });
});
