import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import type { PlanRequest } from '../../../src/plan/request.ts';
import { kg, minutes, ml, percent } from '../../../src/quantity/units.ts';
import { planDocument } from '../../../src/report/plan-json.ts';
import { renderPlan } from '../../../src/report/plan-text.ts';
import { larkhill, reading, signOff, usage } from '../../record/entries.ts';
import { plan, withMachine } from './case.ts';

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
const ALL: Partial<PlanRequest> = {
  minutes: minutes(90),
  agent: 'isoflurane',
  settingPercent: percent(2),
  breathsPerMin: 20,
  adapterMl: ml(4),
  circuit: 'bain-1',
  weightKg: kg(10),
};
const CIRCLE = { ...ALL, circuit: 'coaxial-1' };

const ajv = new Ajv({ allowUnionTypes: true, strictTypes: false });
addFormats.default(ajv, ['date-time']);
const validate = ajv.compile(JSON.parse(readFileSync('schemas/plan.schema.json', 'utf8')));

/** What is given, stands as a figure elsewhere, or repeats a figure that has its reason. */
const WITHOUT_REASON = ['agent.setting_percent', 'wash_in.flow_ml_min', 'charcoal.gain_at_least_g'];

describe('the supplies in holdfast.plan/1', () => {
  it.each<[string, ReturnType<typeof plan>]>([
    ['a Bain with everything given', plan(inventory, RECORD, ALL)],
    ['a circle with everything given', plan(inventory, RECORD, CIRCLE)],
    ['nothing given', plan(inventory, [])],
    [
      'no absorber and no scavenging',
      plan(withMachine(inventory, 'theatre-1', { absorber: null, scavenging: null }), []),
    ],
    ['a rabbit', plan(inventory, [], { weightKg: kg(3), species: 'rabbit' })],
    ['no pair', plan(inventory, [], { weightKg: kg(0.3), idealWeightKg: kg(0.3) })],
    ['an implausible weight', plan(inventory, [], { weightKg: kg(300), species: 'cat' })],
  ])('have the shape of the schema: %s', (_, made) => {
    const document = JSON.parse(JSON.stringify(planDocument(made)));
    expect(validate(document) ? [] : validate.errors).toEqual([]);
  });

  it.each([
    ['a Bain', ALL],
    ['a circle', CIRCLE],
  ])('give a reason for every figure that is worked out, each once: %s', (_, request) => {
    const { supplies, reasons } = planDocument(plan(inventory, RECORD, request));
    const figures = Object.entries(supplies).flatMap(([part, values]) =>
      Object.entries(values ?? {})
        .filter(([, value]) => typeof value === 'number' || typeof value === 'boolean')
        .map(([key]) => `${part}.${key}`),
    );
    expect(figures.length).toBeGreaterThan(12);
    const given = reasons.map(({ figure }) => figure).filter(figure => figure.startsWith('supplies.'));
    expect(given.toSorted()).toEqual(
      figures
        .filter(figure => !WITHOUT_REASON.includes(figure))
        .map(figure => `supplies.${figure}`)
        .toSorted(),
    );
  });

  it('have the value of the figure in its reason, before rounding', () => {
    const { supplies, reasons } = planDocument(plan(inventory, RECORD, CIRCLE));
    for (const { figure, value } of reasons) {
      const [root, part, key] = figure.split('.');
      if (root !== 'supplies' || typeof value !== 'number') continue;
      const shown = (supplies as unknown as Record<string, Record<string, number>>)[part ?? '']?.[key ?? ''];
      expect(Math.abs((shown ?? Number.NaN) - value), figure).toBeLessThanOrEqual(0.05);
    }
  });

  it('say of each rule the line where it stands', () => {
    const { reasons } = planDocument(plan(inventory, RECORD, CIRCLE));
    const capacity = reasons.find(({ figure }) => figure === 'supplies.oxygen.left_l');
    expect(capacity?.rule?.line).toBe(
      readFileSync('test/record/larkhill.yaml', 'utf8')
        .split('\n')
        .findIndex(line => line.includes('ward-e-1, kind')) + 1,
    );
  });

  it('are null, every part, where there is no pair', () => {
    const { supplies } = planDocument(plan(inventory, [], { weightKg: kg(0.3) }));
    expect(new Set(Object.values(supplies))).toEqual(new Set([null]));
  });
});

describe('the supplies on the screen', () => {
  const screen = (request: Partial<PlanRequest>, entries = RECORD) =>
    renderPlan(plan(inventory, entries, request), { width: 80, colour: false });
  const block = (...given: Parameters<typeof screen>) =>
    (
      screen(...given)
        .split('\n\n')
        .find(each => each.startsWith('SUPPLY')) ?? ''
    ).split('\n');

  it('stand only where the length of the case is given', () => {
    expect(screen({})).not.toContain('SUPPLY');
  });

  it('take five lines at most, with figures first', () => {
    expect(block(CIRCLE)).toEqual([
      'SUPPLY    389 L, 778 min left     in ward-e-1, read 07:50; case takes 50 L',
      'ABSORBENT 7.2 h left              0.8 h used of 8 h',
      'AGENT     5.1 mL isoflurane       at 2 % throughout; 3.1 mL/h in maintenance',
      'CHARCOAL  9.3 h left              6.9 of 50 g (estimate); case adds 7.7 g',
      'DIAL      95 % after 29 min       63 % after 10 min; 4.9 L at 500 mL/min',
    ]);
  });

  it('give the date of a reading that is not of today', () => {
    const entries = [reading('2026-11-20', 'ward-e-1', { psi: 1450 })];
    expect(block({ minutes: minutes(90) }, entries)[0]).toMatch(/in ward-e-1, read 2026-11-20; case takes/);
  });

  it('show no later limit beside an earlier one', () => {
    expect(screen(CIRCLE)).not.toMatch(/4\d(\.\d)? h/);
  });

  it('say in one line what is missing', () => {
    const lines = block({ minutes: minutes(90) }, []);
    expect(lines).toContain('SUPPLY    not known: holdfast reading ward-e-1 PRESSURE; case takes 50 L');
    expect(lines).toContain('CHARCOAL  not known: holdfast reading theatre-1-charcoal GRAMS --new');
  });
});
