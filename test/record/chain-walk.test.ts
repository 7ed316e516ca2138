import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { FIRST_PREV, lineHash } from '../../src/record/chain.ts';
import { checkStation } from '../../src/record/check-station.ts';
import { lineText } from '../../src/record/line-text.ts';
import * as parser from '../../src/record/parse-line.ts';
import { INVENTORY, tempFolder } from './store-kit.ts';

/** How one line departs from what the store would have written. */
interface Departure {
  readonly station: string;
  readonly hours: number;
  readonly on: 'at' | 'date' | 'next-day' | 'later' | 'earlier' | 'other-offset';
  readonly n: 'right' | 'none' | 'off-by-one';
  readonly prev: 'right' | 'first' | 'stranger';
  readonly shape: 'store' | 'odd-order' | 'foreign' | 'empty' | 'note' | 'compliance';
}

const usual = <T>(value: T, ...others: T[]) =>
  fc.oneof(
    { weight: 30, arbitrary: fc.constant(value) },
    { weight: 1, arbitrary: fc.constantFrom(value, ...others) },
  );

const departure: fc.Arbitrary<Departure> = fc.record({
  station: usual('prep', 'ward'),
  hours: usual(1, -1, 0),
  on: usual<Departure['on']>('at', 'date', 'next-day', 'later', 'earlier', 'other-offset'),
  n: usual<Departure['n']>('right', 'none', 'off-by-one'),
  prev: usual<Departure['prev']>('right', 'first', 'stranger'),
  shape: usual<Departure['shape']>('store', 'odd-order', 'foreign', 'empty', 'note', 'compliance'),
});

/** Lines that follow one another but for their departures. */
function linesOf(departures: readonly Departure[]): string[] {
  let ms = Date.parse('2026-11-02T08:00:00Z');
  let prev = FIRST_PREV;
  return departures.map((one, index) => {
    ms += one.hours * 3_600_000;
    const line = lineOf(one, { ms, n: index + 1, prev });
    prev = lineHash(Buffer.from(line));
    return line;
  });
}

function lineOf(
  { station, on, n, prev, shape }: Departure,
  right: { ms: number; n: number; prev: string },
): string {
  if (shape === 'empty') return '';
  if (shape === 'foreign') return '{"v":1,"id":"by hand"}';
  const at = instant(right.ms);
  const dates = {
    at,
    date: at.slice(0, 10),
    'next-day': instant(right.ms + 86_400_000).slice(0, 10),
    later: instant(right.ms + 60_000),
    earlier: instant(right.ms - 60_000),
    'other-offset': `${instant(right.ms + 3_600_000).slice(0, 19)}+01:00`,
  };
  const numbers = { right: { n: right.n }, none: {}, 'off-by-one': { n: right.n + 1 } };
  const id = `20261102-${String(right.n).padStart(9, '0')}-a1b2c3`;
  const about = { by: 'A. Byrne', on: dates[on], ...(shape === 'note' ? { note: 'said "aside"' } : {}) };
  const content =
    shape === 'compliance'
      ? { kind: 'compliance', ...about, circuit: 'bain-1', ml_per_cmh2o: 5.5 }
      : { kind: 'return', ...about, asset: 'bain-1' };
  const binding = {
    ...numbers[n],
    inventory: INVENTORY,
    tool: '0.1.0',
    prev: { right: right.prev, first: FIRST_PREV, stranger: 'ab'.repeat(32) }[prev],
  };
  const entry = { v: 1, id, at, station, ...content, ...binding };
  return lineText(shape === 'odd-order' ? Object.fromEntries(Object.entries(entry).toReversed()) : entry);
}

function instant(ms: number): string {
  return `${new Date(ms).toISOString().slice(0, 19)}+00:00`;
}

function stationOf(folder: string, lines: readonly string[], years: number) {
  mkdirSync(folder, { recursive: true });
  const perYear = Math.ceil(lines.length / years);
  const files = Array.from({ length: years }, (_, year) => {
    const file = path.join(folder, `${2026 + year}.jsonl`);
    const own = lines.slice(year * perYear, (year + 1) * perYear);
    writeFileSync(file, own.map(line => `${line}\n`).join(''));
    return file;
  });
  return { station: 'prep', folder, files, setAside: [] };
}

describe('the walk along a chain', () => {
  it('says the same whether the entries are wanted or not', () => {
    const folder = path.join(tempFolder(), 'prep');
    let damaged = 0;
    fc.assert(
      fc.property(
        fc.array(departure, { maxLength: 12 }),
        fc.integer({ min: 1, max: 2 }),
        fc.integer({ min: 0, max: 11 }),
        (departures, years, wanted) => {
          const lines = linesOf(departures);
          const station = stationOf(folder, lines, years);
          const heads = [lineHash(Buffer.from(lines[wanted] ?? '')), 'cd'.repeat(32)];
          const memory = {
            last: { head: heads[0] ?? '', n: wanted + 1, file: '', byte: 0, length: 0 },
            missing: [],
          };
          const plain = checkStation(station, null, heads, () => {});
          expect(checkStation(station, null, heads, null)).toEqual(plain);
          expect(checkStation(station, memory, [], null)).toEqual(
            checkStation(station, memory, [], () => {}),
          );
          if (plain.damage.length > 0) damaged += 1;
        },
      ),
      { numRuns: 1000 },
    );
    // Both kinds come up often enough for the law to mean something.
    expect(damaged).toBeGreaterThan(100);
    expect(damaged).toBeLessThan(900);
  });

  it('makes no object of a line that plainly follows', () => {
    const parseLine = vi.spyOn(parser, 'parseLine');
    const plain: Departure = {
      station: 'prep',
      hours: 1,
      on: 'at',
      n: 'right',
      prev: 'right',
      shape: 'store',
    };
    const departures = Array.from({ length: 40 }, () => plain);
    const station = stationOf(path.join(tempFolder(), 'prep'), linesOf(departures), 1);
    expect(checkStation(station, null, [], null)).toMatchObject({ entries: 40, damage: [] });
    expect(parseLine).not.toHaveBeenCalled();
    const odd = linesOf(departures.with(7, { ...plain, shape: 'odd-order' }));
    expect(checkStation(stationOf(station.folder, odd, 1), null, [], null)).toMatchObject({
      entries: 40,
      damage: [],
    });
    expect(parseLine).toHaveBeenCalledTimes(1);
  });
});
