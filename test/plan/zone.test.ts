import { describe, expect, it } from 'vitest';
import { classAt, isNearBoundary, zoneOf } from '../../src/plan/zone.ts';
import { kgFromOunces, kgFromPounds } from '../../src/quantity/convert.ts';
import { kg } from '../../src/quantity/units.ts';
import { codesOf, planFor } from '../support/plan.ts';
import { practice } from '../support/practice.ts';

const usual = practice();

describe('zoneOf', () => {
  it.each([
    [0.5, 'below'],
    [6.99, 'below'],
    [6.999999, 'below'],
    [7, 'between'],
    [7.01, 'between'],
    [7.5, 'between'],
    [8, 'between'],
    [8.000001, 'above'],
    [8.01, 'above'],
    [200, 'above'],
  ] as const)('%f kg lies %s the boundary', (weight, zone) => {
    expect(zoneOf(usual.rules, kg(weight))).toBe(zone);
  });

  it('keeps the limit in the band although pounds and ounces cannot write it exactly', () => {
    // 7 kg and 8 kg to as many digits as a person can type.
    for (const pounds of [15.432358353, 17.636980975]) {
      expect(kgFromPounds(pounds)).not.toBe(Math.round(kgFromPounds(pounds)));
      expect(zoneOf(usual.rules, kgFromPounds(pounds))).toBe('between');
    }
    expect(zoneOf(usual.rules, kgFromOunces(246.917733643))).toBe('between');
  });

  it('goes by the rules of the practice', () => {
    const { rules } = practice({
      rules: { boundary: { non_rebreathing_below_kg: 3, rebreathing_above_kg: 3 } },
    });
    expect([2.99, 3, 3.01].map(weight => zoneOf(rules, kg(weight)))).toEqual(['below', 'between', 'above']);
  });
});

describe('classAt', () => {
  it('lets the practice decide in the band alone', () => {
    const circles = practice({ rules: { boundary: { between: 'rebreathing' } } }).rules;
    const classes = (rules: typeof circles) => [6.99, 7, 8, 8.01].map(weight => classAt(rules, kg(weight)));
    expect(classes(usual.rules)).toEqual([
      'non_rebreathing',
      'non_rebreathing',
      'non_rebreathing',
      'rebreathing',
    ]);
    expect(classes(circles)).toEqual(['non_rebreathing', 'rebreathing', 'rebreathing', 'rebreathing']);
  });
});

describe('isNearBoundary', () => {
  it.each([
    [6.49, false],
    [6.5, true],
    [6.99, true],
    [7, false],
    [7.5, false],
    [8, false],
    [8.01, true],
    [8.5, true],
    [8.51, false],
  ])('%f kg: %s', (weight, near) => {
    expect(isNearBoundary(usual.rules, kg(weight))).toBe(near);
    expect(codesOf(planFor(usual, weight)).includes('boundary_near')).toBe(near);
    expect(codesOf(planFor(usual, weight)).includes('boundary_between')).toBe(weight >= 7 && weight <= 8);
  });

  it('can be turned off', () => {
    const { rules } = practice({ rules: { boundary: { near_kg: 0 } } });
    expect([6.999, 8.001].map(weight => isNearBoundary(rules, kg(weight)))).toEqual([false, false]);
  });
});
