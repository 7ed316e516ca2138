/** What one pass over a station says of lines that were written, chained or spelt by somebody else. */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { FIRST_PREV, lineHash } from '../../src/record/chain.ts';
import { checkStation } from '../../src/record/check-station.ts';
import type { Memory, RememberedHead } from '../../src/record/head.ts';
import { lineText } from '../../src/record/line-text.ts';
import { INVENTORY, tempFolder } from './store-kit.ts';

const hashOf = (line = ''): string => lineHash(Buffer.from(line));

interface Line {
  readonly n?: number | undefined;
  readonly prev?: string | undefined;
  readonly minutes?: number | undefined;
}

/** A line as the store writes it, that follows the one before unless it is told otherwise. */
function lineAfter(before: string | undefined, { n, prev, minutes = 45 }: Line): string {
  return lineText({
    v: 1,
    id: `20261125-08140300${n ?? 0}-abcdef`,
    at: '2026-11-25T08:14:03+00:00',
    station: 'prep',
    kind: 'usage',
    by: 'A. Byrne',
    on: '2026-11-25T08:14:03+00:00',
    machine: 'theatre-1',
    circuit: 'bain-1',
    minutes,
    flow_ml_min: 1750,
    ...(n === undefined ? {} : { n }),
    inventory: INVENTORY,
    tool: '0.1.0',
    prev: prev ?? (before === undefined ? FIRST_PREV : hashOf(before)),
  });
}

/** Each follows the one before. */
function chainOf(...lines: readonly Line[]): string[] {
  const chain: string[] = [];
  for (const line of lines) chain.push(lineAfter(chain.at(-1), line));
  return chain;
}

/** Both ways of reading it must say the same: with and without an object for each line. */
function check(lines: readonly string[], { heads = [], memory = null, torn = '' }: Given = {}) {
  const folder = path.join(tempFolder(), 'prep');
  mkdirSync(folder);
  const file = path.join(folder, '2026.jsonl');
  writeFileSync(file, lines.map(line => `${line}\n`).join('') + torn);
  const station = { station: 'prep', folder, files: [file], setAside: [] };
  const found = checkStation(station, memory, heads, () => {});
  expect(checkStation(station, memory, heads, null)).toEqual(found);
  return { ...found, said: found.damage.map(({ code, line }) => `${code} ${line}`) };
}

interface Given {
  readonly heads?: readonly string[];
  readonly memory?: Memory | null;
  /** Behind the last newline. */
  readonly torn?: string;
}

/** What is remembered of lines that were seen, the last first. Where they stood tells nothing here. */
function memoryOf(last: Seen, ...missing: readonly Seen[]): Memory {
  const headOf = ([line, n]: Seen): RememberedHead => ({
    head: hashOf(line),
    n,
    file: '2026.jsonl',
    byte: 0,
    length: line.length,
  });
  return { last: headOf(last), missing: missing.map(headOf) };
}

/** A line, and its number where it bears one. */
type Seen = readonly [line: string, n: number | null];

describe('numbers of lines', () => {
  it('are not asked of a line that bears none, and go on from the next one that does', () => {
    expect(check(chainOf({ n: 1 }, {}, { n: 9 }, { n: 10 })).said).toEqual([]);
    expect(check(chainOf({ n: 1 }, {}, { n: 9 }, { n: 11 })).damage).toMatchObject([
      { code: 'damage_contradiction', line: 4, expected: 'line number 10', found: 'line number 11' },
    ]);
  });

  it('are remembered with the last line as it says it, and as unknown where it says none', () => {
    expect(check(chainOf({ n: 1 }, { n: 2 })).last).toMatchObject({ n: 2 });
    expect(check(chainOf({ n: 1 }, {})).last).toMatchObject({ n: null });
    expect(check(chainOf({}, { n: 2 })).last).toMatchObject({ n: 2 });
  });
});

describe('lines that are no entries', () => {
  const [a = '', b = '', c = ''] = chainOf({ n: 1 }, { n: 2 }, { n: 3 });

  it('are the head where they stand last, however many they are: it is the head that git and a backup have', () => {
    for (const foreign of [['hello'], ['hello', 'there'], ['hello', 'there', 'again']]) {
      const { head, entries, last } = check([a, b, ...foreign]);
      expect({ head, entries, last }).toEqual({ head: hashOf(foreign.at(-1)), entries: 2, last: null });
    }
  });

  it('are named once and for all where the next entry follows them', () => {
    const after = lineAfter('hello', { n: 3 });
    expect(check([a, b, 'hello', after, lineAfter(after, { n: 4 })]).said).toEqual(['damage_foreign_line 3']);
    expect(check([a, b, 'x', 'hello', after]).said).toEqual([
      'damage_foreign_line 3',
      'damage_foreign_line 4',
    ]);
  });

  it('are named also beside a line whose prev was changed, or one that does not belong there', () => {
    const changed = b.replace(hashOf(a), 'f'.repeat(64));
    expect(check([a, changed, 'hello', c]).damage.map(({ line }) => line)).toContain(3);
    const stranger = lineAfter(undefined, { n: 7, minutes: 7 });
    expect(check([a, b, stranger, 'hello', c]).damage.map(({ line }) => line)).toContain(4);
  });

  it('may be entries but for the space at their end, which changes their hash', () => {
    const spaced = `${b} `;
    const { entries, said } = check([a, spaced, lineAfter(spaced, { n: 3 })]);
    expect({ entries, said }).toEqual({ entries: 3, said: [] });
  });
});

describe('a line that does not follow', () => {
  it('is found also where its prev is spelt with an escape', () => {
    const [a = '', b = ''] = chainOf({ n: 1 }, { n: 2 });
    const spelt = b.replace(hashOf(a), `\\u0066${'f'.repeat(63)}`);
    expect(check([a, spelt]).damage).toMatchObject([{ line: 1, found: hashOf(a), expected: 'f'.repeat(64) }]);
  });

  it('stands in for a head that is looked for only at the very end: lines written anew behind it hide nothing', () => {
    const [a = '', b = ''] = chainOf({ n: 1 }, { n: 2 });
    const changed = b.replace(hashOf(a), 'f'.repeat(64));
    const heads = [hashOf(b)];
    expect([...check([a, changed], { heads }).headsSeen]).toEqual(heads);
    expect([...check([a, changed, lineAfter(changed, { n: 3 })], { heads }).headsSeen]).toEqual([]);
  });
});

describe('a station without a line', () => {
  it('has nothing wrong, and nothing to remember', () => {
    const { head, entries, damage, last } = check([]);
    expect({ head, entries, damage, last }).toEqual({ head: FIRST_PREV, entries: 0, damage: [], last: null });
  });
});

describe('a line that was seen last and is gone', () => {
  const [a = '', b = '', c = '', d = ''] = chainOf({ n: 1 }, { n: 2 }, { n: 3 }, { n: 4 });
  const GONE = 'gone from the end of station prep';

  it('adds nothing where the chain itself names that line as changed', () => {
    const changed = b.replace('"minutes":45', '"minutes":54');
    expect(check([a, changed, c, d], { memory: memoryOf([b, 2]) }).said).toEqual(['damage_line_changed 2']);
  });

  it('is missed also beside a torn tail, which is not that line', () => {
    const { damage } = check([a, b], { memory: memoryOf([c, 3]), torn: '{"v":1' });
    expect(damage).toMatchObject([
      {
        code: 'damage_torn_tail',
        line: 3,
        message: 'the file ends in the middle of line 3, after 6 bytes of it',
      },
      { code: 'damage_cut_tail', line: 2, message: expect.stringMatching(`^the last entry is ${GONE}`) },
    ]);
  });

  it('is one of an unknown number where it, or the last line there is, bears none', () => {
    const unknown = [{ code: 'damage_cut_tail', message: expect.stringMatching(`^lines are ${GONE}`) }];
    expect(check([a, b], { memory: memoryOf([c, null]) }).damage).toMatchObject(unknown);
    const bare = chainOf({ n: 1 }, {});
    expect(check(bare, { memory: memoryOf([c, 3]) }).damage).toMatchObject(unknown);
    expect(check(bare, { memory: memoryOf([c, null]) }).damage).toMatchObject(unknown);
  });

  it('was the last of those that are no entries now, and the ones before it are named as well', () => {
    expect(check([a, 'hello', 'world'], { memory: memoryOf([c, 3]) }).said).toEqual([
      'damage_foreign_line 2',
      'damage_line_changed 3',
    ]);
  });

  it('does not hide another of the same number that went before it', () => {
    const another = c.replace('"minutes":45', '"minutes":46');
    const now = c.replace('"minutes":45', '"minutes":47');
    expect(check([a, b, now], { memory: memoryOf([another, 3], [c, 3]) }).damage).toMatchObject([
      { code: 'damage_line_changed', line: 3, expected: hashOf(another) },
      {
        code: 'damage_cut_tail',
        line: 3,
        expected: hashOf(c),
        message:
          'the entry that was line 3 of station prep is gone: the lines from there on were written anew',
      },
    ]);
  });
});
