/**
 * Whatever happens to an inventory, the loader answers: a valid inventory, or problems with a code, a place and a remedy.
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { todayIn } from '../../src/calendar/zone.ts';
import { understandInventory } from '../../src/inventory/load.ts';
import { Source } from '../../src/inventory/source.ts';
import { CODE_FAMILIES } from '../../src/problem/codes.ts';
import { renderProblems } from '../../src/report/problems.ts';

const NOW = new Date('2026-11-25T09:00:00Z');
const LINES = readFileSync('inventory.example.yaml', 'utf8').split('\n');
const CODES = new Set(Object.keys(CODE_FAMILIES.find(({ heading }) => heading === 'Inventory')?.rows ?? {}));

type Mutation = (lines: readonly string[]) => string[];

const at = fc.nat(LINES.length - 1);
const spot = fc.nat(120);
const scrap = fc.oneof(
  fc.constantFrom(
    ':',
    '-',
    ' ',
    '\t',
    '[',
    ']',
    '{',
    '}',
    '"',
    "'",
    '#',
    '&a',
    '*a',
    '!t',
    '|',
    '>',
    '%',
    '---',
    ',',
    '?',
    '0',
    '-1',
    '1e9',
    'null',
    '~',
    '.inf',
  ),
  fc.constantFrom(
    '__proto__',
    'constructor',
    'toString',
    '<<',
    '🐈',
    '名',
    '\u0301',
    '\u202e',
    '\u0000',
    '\r',
    '\u2028',
  ),
  fc.string({ maxLength: 8, unit: 'grapheme' }),
);

const mutation: fc.Arbitrary<Mutation> = fc.oneof(
  at.map(i => (lines: readonly string[]) => lines.filter((_, j) => j !== i)),
  at.map(i => (lines: readonly string[]) => lines.flatMap((line, j) => (j === i ? [line, line] : [line]))),
  fc.tuple(at, at).map(
    ([i, k]) =>
      (lines: readonly string[]) =>
        lines.map((line, j) => (j === i ? (lines[k] ?? '') : line)),
  ),
  fc.tuple(at, fc.integer({ min: -3, max: 3 })).map(
    ([i, by]) =>
      (lines: readonly string[]) =>
        lines.map((line, j) => (j === i ? (by < 0 ? line.slice(-by) : ' '.repeat(by) + line) : line)),
  ),
  fc.tuple(at, spot, scrap).map(
    ([i, s, text]) =>
      (lines: readonly string[]) =>
        lines.map((line, j) => (j === i ? line.slice(0, s) + text + line.slice(s) : line)),
  ),
  fc.tuple(at, spot, fc.integer({ min: 1, max: 12 }), scrap).map(
    ([i, s, n, text]) =>
      (lines: readonly string[]) =>
        lines.map((line, j) => (j === i ? line.slice(0, s) + text + line.slice(s + n) : line)),
  ),
  // A value in place of another: the shape stays, so that the later stages are reached.
  fc.tuple(at, scrap).map(
    ([i, text]) =>
      (lines: readonly string[]) =>
        lines.map((line, j) =>
          j === i ? line.replace(/(: )([^,{[\]}]+)/, `$1${text.replaceAll('$', '')}`) : line,
        ),
  ),
  fc.tuple(at, fc.nat(9)).map(
    ([i, digit]) =>
      (lines: readonly string[]) =>
        lines.map((line, j) => (j === i ? line.replace(/\d/, String(digit)) : line)),
  ),
);

function ensureAnswer(text: string): 'ok' | string[] {
  const source = new Source('mutated.yaml', text);
  const answer = understandInventory({ source, bytes: Buffer.from(text) }, zone => todayIn(zone, NOW));
  if (answer.ok) return 'ok';
  expect(answer.problems.length).toBeGreaterThan(0);
  const lines = text.split('\n');
  for (const { code, line, column, message, remedy } of answer.problems) {
    expect(CODES).toContain(code);
    expect(line).toBeGreaterThanOrEqual(1);
    expect(line).toBeLessThanOrEqual(lines.length);
    expect(column).toBeGreaterThanOrEqual(1);
    expect(column).toBeLessThanOrEqual(Array.from(lines[(line ?? 1) - 1] ?? '').length + 1);
    expect(message).not.toBe('');
    expect(message).not.toMatch(/undefined|\[object|NaN(?! )/);
    expect(remedy).not.toBe('');
  }
  expect(renderProblems(answer.problems, 80)).toContain(answer.problems[0]?.code);
  return answer.problems.map(({ code }) => code);
}

describe('a mutated inventory', () => {
  it('is answered with problems in their places, or is in order', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(fc.array(mutation, { minLength: 1, maxLength: 3 }), mutations => {
        const lines = mutations.reduce<readonly string[]>((before, mutate) => mutate(before), LINES);
        const answer = ensureAnswer(lines.join('\n'));
        for (const code of answer === 'ok' ? ['ok'] : answer) seen.add(code);
      }),
      { numRuns: 250 },
    );
    // The mutations are worth something only if they reach every stage.
    expect(seen.size).toBeGreaterThan(12);
    expect([...seen]).toEqual(expect.arrayContaining(['ok', 'yaml_syntax', 'unknown_key', 'wrong_type']));
  });

  it('is answered after any change of bytes', () => {
    const bytes = Buffer.from(LINES.join('\n'));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(bytes.length - 1), fc.nat(255)), { minLength: 1, maxLength: 5 }),
        changes => {
          const changed = Buffer.from(bytes);
          for (const [i, byte] of changes) changed[i] = byte;
          ensureAnswer(new TextDecoder().decode(changed));
        },
      ),
      { numRuns: 100 },
    );
  });

  it('is answered when it is cut off anywhere', () => {
    const text = LINES.join('\n');
    fc.assert(
      fc.property(fc.nat(text.length), end => {
        ensureAnswer(text.slice(0, end));
      }),
      { numRuns: 100 },
    );
  });
});
