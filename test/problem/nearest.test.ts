import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { didYouMean, editDistance, nearest } from '../../src/problem/nearest.ts';

/** The distance by its definition, for short words: slow on purpose. */
function naiveDistance(a: string, b: string): number {
  if (a === '' || b === '') return a.length + b.length;
  const last = (text: string, n: number) => text.slice(0, text.length - n);
  const ways = [
    naiveDistance(last(a, 1), b) + 1,
    naiveDistance(a, last(b, 1)) + 1,
    naiveDistance(last(a, 1), last(b, 1)) + (a.at(-1) === b.at(-1) ? 0 : 1),
  ];
  const isSwap = a.length > 1 && b.length > 1 && a.at(-1) === b.at(-2) && a.at(-2) === b.at(-1);
  if (isSwap) ways.push(naiveDistance(last(a, 2), last(b, 2)) + 1);
  return Math.min(...ways);
}

describe('editDistance', () => {
  it('counts as its definition does', () => {
    const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 5 });
    fc.assert(
      fc.property(word, word, (a, b) => {
        expect(editDistance(a, b)).toBe(naiveDistance(a, b));
      }),
      { numRuns: 200 },
    );
  });
});

describe('nearest', () => {
  it.each([
    ['max_l_min', ['max_ml_min', 'marks'], 'max_ml_min'],
    ['Theatre-1', ['theatre-2', 'theatre-1'], 'theatre-1'],
    ['dgo', ['cat', 'dog'], 'dog'],
    ['giraffe', ['cat', 'dog'], null],
    ['x', [], null],
  ])('of %s among %j is %s', (word, known, expected) => {
    expect(nearest(word, known)).toBe(expected);
  });
});

describe('didYouMean', () => {
  it('names the near one, else what is known, else that there is none', () => {
    expect(didYouMean('dgo', ['dog', 'cat'])).toBe("did you mean 'dog'?");
    expect(didYouMean('giraffe', ['dog', 'cat'])).toBe('known: dog, cat');
    expect(didYouMean('giraffe', [])).toBe('there is none');
    const many = Array.from({ length: 20 }, (_, i) => `asset-${i}`);
    expect(didYouMean('zzzzzzzz', many)).toMatch(/^known: asset-0, .*asset-11, …$/);
  });
});
