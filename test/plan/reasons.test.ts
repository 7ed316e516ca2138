import { describe, expect, it } from 'vitest';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { kg } from '../../src/quantity/units.ts';
import { planDocument } from '../../src/report/plan-json.ts';
import { renderPlan } from '../../src/report/plan-text.ts';
import { figuresOf } from '../support/figures.ts';
import { planFor } from '../support/plan.ts';
import { loadText, practice, practiceText } from '../support/practice.ts';

const usual = practice();

describe('reasons', () => {
  it.each([0.6, 1.5, 2, 2.5, 4.9, 6.8, 7, 7.5, 8, 8.6, 16, 25, 40])(
    '%f kg: every figure has one, with the same value, a formula, inputs and a rule',
    weight => {
      const document = planDocument(planFor(usual, weight));
      const figures = figuresOf(document);
      expect(figures.length).toBeGreaterThan(15);
      for (const { figure, value } of figures) {
        const reason = document.reasons.find(one => one.figure === figure);
        expect(reason, figure).toBeDefined();
        expect(reason?.value, figure).toBe(value);
        expect(reason?.formula, figure).not.toBe('');
        expect(Object.keys(reason?.inputs ?? {}), figure).not.toEqual([]);
        expect(reason?.source, figure).not.toBe('');
        expect(reason?.rule, figure).not.toBeNull();
        expect(reason?.rule?.from === 'default', figure).toBe(reason?.rule?.line === null);
      }
    },
  );

  it('has no figure twice', () => {
    const figures = planFor(usual, 7.5).reasons.map(({ figure }) => figure);
    expect(new Set(figures).size).toBe(figures.length);
  });

  it('names the floor as what decided where it raised a figure', () => {
    const { reasons } = planFor(usual, 2);
    const low = reasons.find(({ figure }) => figure === 'fresh_gas_flow.low_ml_min');
    expect(low?.rules[0]?.path).toBe('/rules/fresh_gas_flow/minimum_ml_min');
    expect(low?.formula).toBe('the larger of 200 mL/kg/min × 2 kg = 400 and 500 mL/min');
    const high = reasons.find(({ figure }) => figure === 'fresh_gas_flow.high_ml_min');
    expect(high?.rules.map(({ path }) => path)).toEqual([
      '/rules/fresh_gas_flow/non_rebreathing_ml_kg_min/maintenance',
    ]);
    expect(high?.formula).toBe('300 mL/kg/min × 2 kg');
  });

  it('says how the mark was found', () => {
    const formula = (weight: number) =>
      planFor(usual, weight).reasons.find(({ figure }) => figure === 'fresh_gas_flow.set_ml_min')?.formula;
    expect(formula(6.8)).toBe('the lowest mark at or above the middle, (1360 + 2040) / 2 = 1700 mL/min');
    // 4.1 kg: 820 to 1230; the mark above the middle, 1250, lies above the range.
    expect(formula(4.1)).toBe(
      'no mark from the middle, 1025, to 1230 mL/min: the lowest mark at or above 820 mL/min',
    );
  });

  it('puts the ideal weight into the bag and the actual one into the flow', () => {
    const { reasons } = planFor(usual, 6, { idealWeightKg: kg(5) });
    const inputs = (figure: string) => reasons.find(one => one.figure === figure)?.inputs.weight_kg;
    expect(inputs('reservoir_bag.wanted_ml')).toBe(5);
    expect(inputs('fresh_gas_flow.low_ml_min')).toBe(6);
  });
});

/** A rule changed in the inventory, at what weight it shows, and in which figure. */
const CHANGES: readonly [
  rule: string,
  changed: object,
  weight: number,
  figure: string,
  value: number | boolean,
][] = [
  [
    '/rules/fresh_gas_flow/minimum_ml_min',
    { fresh_gas_flow: { minimum_ml_min: 700 } },
    2,
    'fresh_gas_flow.low_ml_min',
    700,
  ],
  [
    '/rules/fresh_gas_flow/non_rebreathing_ml_kg_min/maintenance',
    { fresh_gas_flow: { non_rebreathing_ml_kg_min: { maintenance: [150, 250] } } },
    6,
    'fresh_gas_flow.low_ml_min',
    900,
  ],
  [
    '/rules/fresh_gas_flow/non_rebreathing_ml_kg_min/induction',
    { fresh_gas_flow: { non_rebreathing_ml_kg_min: { induction: [250, 400] } } },
    6,
    'phases.induction.high_ml_min',
    2400,
  ],
  [
    '/rules/fresh_gas_flow/rebreathing_ml_kg_min/recovery',
    { fresh_gas_flow: { rebreathing_ml_kg_min: { recovery: [80, 90] } } },
    30,
    'phases.recovery.low_ml_min',
    2400,
  ],
  [
    '/rules/fresh_gas_flow/rebreathing_ml_kg_min/maintenance',
    { fresh_gas_flow: { rebreathing_ml_kg_min: { maintenance: [40, 60] } } },
    30,
    'fresh_gas_flow.high_ml_min',
    1800,
  ],
  ['/rules/tidal_volume_ml_kg', { tidal_volume_ml_kg: [8, 16] }, 6, 'reservoir_bag.wanted_low_ml', 288],
  ['/rules/tidal_volume_ml_kg', { tidal_volume_ml_kg: [8, 16] }, 6, 'reservoir_bag.wanted_high_ml', 576],
  ['/rules/tidal_volume_ml_kg', { tidal_volume_ml_kg: [8, 11] }, 5, 'reservoir_bag.covers_high', true],
  [
    '/rules/reservoir_bag/size_at_ml_kg',
    { reservoir_bag: { size_at_ml_kg: 12 } },
    6,
    'reservoir_bag.wanted_ml',
    432,
  ],
  [
    '/rules/leak_hold/bain/pressure_cmh2o',
    { leak_hold: { bain: { pressure_cmh2o: 25 } } },
    6,
    'leak_hold.pressure_cmh2o',
    25,
  ],
  ['/rules/leak_hold/bain/seconds', { leak_hold: { bain: { seconds: 15 } } }, 6, 'leak_hold.seconds', 15],
  [
    '/rules/leak_hold/bain/drop_cmh2o',
    { leak_hold: { bain: { drop_cmh2o: 1 } } },
    6,
    'leak_hold.drop_cmh2o',
    1,
  ],
  [
    '/rules/leak_hold/bain/make_up_ml_min',
    { leak_hold: { bain: { make_up_ml_min: 90 } } },
    6,
    'leak_hold.make_up_ml_min',
    90,
  ],
  [
    '/rules/leak_hold/circle_y/pressure_cmh2o',
    { leak_hold: { circle_y: { pressure_cmh2o: 35 } } },
    30,
    'leak_hold.pressure_cmh2o',
    35,
  ],
  [
    '/rules/leak_hold/t_piece/pressure_cmh2o',
    { leak_hold: { t_piece: { pressure_cmh2o: 22 } } },
    4,
    'leak_hold.pressure_cmh2o',
    22,
  ],
  [
    '/rules/leak_hold/without_gauge/seconds',
    { leak_hold: { without_gauge: { seconds: 40 } } },
    4,
    'leak_hold.seconds',
    40,
  ],
];

describe('changing a rule in the inventory', () => {
  const reasonOf = (inventory: Inventory, weight: number, figure: string) =>
    planDocument(planFor(inventory, weight)).reasons.find(one => one.figure === figure);
  const screen = (inventory: Inventory, weight: number) =>
    renderPlan(planFor(inventory, weight), { width: 80, colour: false, steps: true, reasons: true });

  it.each(CHANGES)('%s changes figure, line and text', (path, rules, weight, figure, value) => {
    const text = practiceText({ rules: rules as Record<string, unknown> });
    const inventory = loadText(text);
    const before = reasonOf(usual, weight, figure);
    const after = reasonOf(inventory, weight, figure);
    expect(before?.value).not.toBe(value);
    expect(before?.rule).toMatchObject({ path, line: null, from: 'default' });
    expect(after).toMatchObject({ value, rule: { path, from: 'inventory' } });
    // The line is the one on which the last key of the path stands in the file.
    const key = path.split('/').at(-1);
    expect(text.split('\n')[(after?.rule?.line ?? 0) - 1]).toContain(`"${key}":`);
    expect(screen(inventory, weight)).not.toBe(screen(usual, weight));
    expect(screen(inventory, weight)).toContain(`inventory.yaml:${after?.rule?.line}`);
  });

  it('quotes the comment behind the figure as its source', () => {
    const text = practiceText({ rules: { fresh_gas_flow: { minimum_ml_min: 700 } } }).replace(
      '"minimum_ml_min": 700',
      '"minimum_ml_min": 700 # staff meeting in May',
    );
    expect(reasonOf(loadText(text), 2, 'fresh_gas_flow.low_ml_min')?.rule?.source).toContain(
      'staff meeting in May',
    );
  });
});
