import { describe, expect, it } from 'vitest';
import { isAbove, isAtLeast, roundTo } from '../../src/quantity/compare.ts';

describe('isAtLeast', () => {
  it.each([
    [1750, 1700, true],
    [1700, 1700, true],
    [1700, 1750, false],
    [0, 0, true],
    [-2, -1, false],
    [-1, -2, true],
  ])('says of %d and %d: %s', (a, b, expected) => {
    expect(isAtLeast(a, b)).toBe(expected);
  });

  it('takes a number for equal that differs by less than a billionth, at any size', () => {
    for (const size of [0.003, 1, 1700, 200_000]) {
      expect(isAtLeast(size * (1 - 0.9e-9), size)).toBe(true);
      expect(isAtLeast(-size * (1 + 0.9e-9), -size)).toBe(true);
    }
  });

  it('sees a difference of more than a billionth, at any size', () => {
    for (const size of [0.003, 1, 1700, 200_000]) {
      expect(isAtLeast(size * (1 - 1.2e-9), size)).toBe(false);
      expect(isAtLeast(-size * (1 + 1.2e-9), -size)).toBe(false);
    }
  });

  it('measures the billionth by the larger of the two, whichever stands first', () => {
    expect(isAtLeast(-1000, -1000 + 0.999e-6)).toBe(true);
    expect(isAtLeast(0, 1e-12)).toBe(false);
    expect(isAtLeast(-1e-12, 0)).toBe(false);
  });

  it('counts exactly a billionth of the larger as equal', () => {
    expect(isAtLeast(1024 - 1e-9 * 1024, 1024)).toBe(true);
  });
});

describe('isAbove', () => {
  it('is the opposite of at least, the other way round', () => {
    expect(isAbove(0.1 + 0.2, 0.3)).toBe(false);
    expect(isAbove(20.1, 20)).toBe(true);
    expect(isAbove(20, 20)).toBe(false);
    expect(isAbove(19.9, 20)).toBe(false);
  });
});

describe('roundTo', () => {
  it.each([
    [612.0499999, 0.1, 612],
    [612.05, 0.1, 612.1],
    [1.005, 0.01, 1.01],
    [2.5, 1, 3],
    [0.0005, 0.001, 0.001],
    [0.00049, 0.001, 0],
    [1234.5678, 0.001, 1234.568],
    [1234.5678, 0.01, 1234.57],
    [1234.5678, 0.1, 1234.6],
    [1234.5678, 1, 1235],
    [0, 0.1, 0],
  ] as const)('rounds %d to steps of %d: %d', (value, step, expected) => {
    expect(roundTo(value, step)).toBe(expected);
  });
});
