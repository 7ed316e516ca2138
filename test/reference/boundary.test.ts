/** Where the boundary between the classes lies; rows B1 and B2. */
import { describe, it } from 'vitest';
import { zoneOf } from '../../src/plan/zone.ts';
import { kg } from '../../src/quantity/units.ts';
import { practice } from '../support/practice.ts';
import { check } from './check.ts';

const SURVEY = 'survey of dogs, Vet Anaesth Analg 2024';

describe('the boundary', () => {
  it('B1: 7 to 8 kg', () => {
    const { rules } = practice();
    const expected: readonly [number, string][] = [
      [6.99, 'below'],
      [7, 'between'],
      [7.5, 'between'],
      [8, 'between'],
      [8.01, 'above'],
    ];
    for (const [weight, theirs] of expected) {
      const ours = zoneOf(rules, kg(weight));
      check({ id: 'B1', figure: `${weight} kg`, ours, theirs, source: 'common practice', how: 'practice' });
    }
  });

  it.each([
    ['AAFP Feline Anesthesia Guidelines 2018, cats', 3],
    [`${SURVEY}, median`, 5],
    [`${SURVEY}, lower quartile`, 3],
    [`${SURVEY}, upper quartile`, 10],
  ])('B2: %s: %i kg, by the practice’s own rule', (source, limit) => {
    const { rules } = practice({
      rules: { boundary: { non_rebreathing_below_kg: limit, rebreathing_above_kg: limit } },
    });
    const row = { id: 'B2', source, how: 'seen', rules: "the source's own" } as const;
    check({ ...row, figure: `${limit - 0.01} kg`, ours: zoneOf(rules, kg(limit - 0.01)), theirs: 'below' });
    check({ ...row, figure: `${limit + 0.01} kg`, ours: zoneOf(rules, kg(limit + 0.01)), theirs: 'above' });
  });
});
