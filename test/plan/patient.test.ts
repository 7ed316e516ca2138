import { describe, expect, it } from 'vitest';
import { implausibleIdeal, implausibleWeight, plausibleKg } from '../../src/plan/patient.ts';
import { hasStop } from '../../src/plan/plan.ts';
import { kg } from '../../src/quantity/units.ts';
import { codesOf, planFor } from '../support/plan.ts';
import { practice } from '../support/practice.ts';

describe('implausibleWeight', () => {
  it.each([
    ['dog', 0.49, 0.5, 100, 100.1],
    ['cat', 0.49, 0.5, 8, 8.01],
    ['rabbit', 0.49, 0.5, 8, 8.01],
    ['ferret', 0.19, 0.2, 3, 3.01],
  ] as const)('a %s: below, at and above its limits', (species, below, low, high, above) => {
    expect(implausibleWeight(kg(below), species)).not.toBeNull();
    expect(implausibleWeight(kg(low), species)).toBeNull();
    expect(implausibleWeight(kg(high), species)).toBeNull();
    expect(implausibleWeight(kg(above), species)).not.toBeNull();
  });

  it('knows no limits for other species and where none is given', () => {
    expect(implausibleWeight(kg(150), 'other')).toBeNull();
    expect(implausibleWeight(kg(150), null)).toBeNull();
  });

  it('names the slip that would explain it', () => {
    expect(implausibleWeight(kg(45), 'cat')).toContain('a slipped decimal point? (4.5 kg)');
    expect(implausibleWeight(kg(45), 'cat')).not.toContain('pounds');
    expect(implausibleWeight(kg(10), 'cat')).toContain('pounds typed as kilograms? (4.54 kg)');
    expect(implausibleWeight(kg(0.3), 'dog')).toContain('a slipped decimal point? (3 kg)');
    expect(implausibleWeight(kg(0.3), 'dog')).not.toContain('pounds');
    // Neither a tenth nor pounds: nothing is named.
    expect(implausibleWeight(kg(199), 'ferret')).not.toContain('?');
  });
});

describe('what is said of a weight that is hardly possible', () => {
  it.each([
    [
      45,
      'cat',
      '45 kg (99.21 lb) is hardly possible for a cat (0.5 to 8 kg): a slipped decimal point? (4.5 kg)',
    ],
    [
      10,
      'cat',
      '10 kg (22.05 lb) is hardly possible for a cat (0.5 to 8 kg): a slipped decimal point? (1 kg) or pounds typed as kilograms? (4.54 kg)',
    ],
    [199, 'ferret', '199 kg (438.72 lb) is hardly possible for a ferret (0.2 to 3 kg)'],
    [
      0.4,
      'cat',
      '0.4 kg (0.88 lb) is hardly possible for a cat (0.5 to 8 kg): a slipped decimal point? (4 kg)',
    ],
  ] as const)('%d kg, a %s', (weight, species, words) => {
    expect(implausibleWeight(kg(weight), species)).toBe(words);
  });

  it.each([
    [
      24,
      2.4,
      'ideal 2.4 kg (5.29 lb) is hardly possible at 24 kg (52.91 lb): a slipped decimal point? (24 kg)',
    ],
    [
      24,
      240,
      'ideal 240 kg (529.11 lb) is hardly possible at 24 kg (52.91 lb): a slipped decimal point? (24 kg)',
    ],
    [24, 1, 'ideal 1 kg (2.2 lb) is hardly possible at 24 kg (52.91 lb)'],
  ])('%d kg, ideally %d kg', (weight, ideal, words) => {
    expect(implausibleIdeal(kg(weight), kg(ideal))).toBe(words);
  });

  it('knows the limits by species', () => {
    expect(plausibleKg('cat')).toEqual([0.5, 8]);
    expect(plausibleKg('other')).toBeNull();
  });
});

describe('a plan for an implausible weight', () => {
  const usual = practice();

  it('gives no figure at all, and says nothing of the boundary', () => {
    // 8.2 kg would be near the boundary.
    const plan = planFor(usual, 8.2, { species: 'cat' });
    expect(codesOf(plan)).toEqual(['weight_implausible']);
    expect(hasStop(plan)).toBe(true);
    expect([plan.main, plan.other, plan.bag, plan.leakHold, plan.steps]).toEqual([
      null,
      null,
      null,
      null,
      null,
    ]);
    expect(plan.reasons).toEqual([]);
  });

  it('also where the ideal weight is the implausible one', () => {
    const plan = planFor(usual, 5, { species: 'cat', idealWeightKg: kg(45) });
    expect(codesOf(plan)).toEqual(['weight_implausible']);
  });

  it('goes on once it is confirmed, and notes that', () => {
    const plan = planFor(usual, 9, { species: 'cat', weightConfirmed: true });
    expect(codesOf(plan)).toContain('weight_confirmed');
    expect(hasStop(plan)).toBe(false);
    expect(plan.main?.flows).not.toBeNull();
  });

  it('does not note a confirmation that was not needed', () => {
    const plan = planFor(usual, 4, { species: 'cat', weightConfirmed: true });
    expect(codesOf(plan)).not.toContain('weight_confirmed');
  });
});

describe('implausibleIdeal', () => {
  it('takes an ideal weight from half to one and a half of the actual one, both included', () => {
    expect(implausibleIdeal(kg(20), kg(9.9))).not.toBeNull();
    expect(implausibleIdeal(kg(20), kg(10))).toBeNull();
    expect(implausibleIdeal(kg(20), kg(30))).toBeNull();
    expect(implausibleIdeal(kg(20), kg(30.1))).not.toBeNull();
  });

  it('names a slipped point, and stops the plan until it is confirmed', () => {
    expect(implausibleIdeal(kg(24), kg(2.4))).toContain('a slipped decimal point? (24 kg)');
    const inventory = practice();
    const slipped = planFor(inventory, 24, { idealWeightKg: kg(2.4) });
    expect(codesOf(slipped)).toContain('weight_implausible');
    expect(slipped.main).toBeNull();
    const confirmed = planFor(inventory, 24, { idealWeightKg: kg(2.4), weightConfirmed: true });
    expect(codesOf(confirmed)).toContain('weight_confirmed');
    expect(confirmed.main).not.toBeNull();
  });
});
