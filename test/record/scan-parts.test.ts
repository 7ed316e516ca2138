/** The parts of which the fast reader is made, each by itself: what they keep of a long record, and what they let go. */
import { appendFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { LineFacts } from '../../src/record/scan/facts.ts';
import { Fetch } from '../../src/record/scan/fetch.ts';
import {
  byKey,
  FIRST_KEY,
  fileAndByte,
  isBefore,
  type Key,
  keyOf,
  laterKey,
  placeOf,
} from '../../src/record/scan/key.ts';
import { Names } from '../../src/record/scan/names.ts';
import { KEPT, Newest } from '../../src/record/scan/newest.ts';
import { ServiceLog } from '../../src/record/scan/service-log.ts';
import { UseLog } from '../../src/record/scan/use-log.ts';
import { refusalBy } from './refused.ts';
import { TestRecord, tempFolder, usage } from './store-kit.ts';

const key = (on: number, at = 0, place = 0): Key => ({ on, at, place });

/** Every order of three figures that are each 1 or 2: what was done, entered and written first. */
const keys: readonly Key[] = [1, 2].flatMap(on =>
  [1, 2].flatMap(at => [1, 2].map(place => key(on, at, place))),
);

describe('the order of the record', () => {
  it('is by when it was done, then entered, then by where it stands', () => {
    expect(keys.toReversed().toSorted(byKey)).toEqual(keys);
    for (const [i, a] of keys.entries())
      for (const [j, b] of keys.entries()) {
        expect(isBefore(a, b), `${i}, ${j}`).toBe(i < j);
        expect(laterKey(a, b)).toEqual(i < j ? b : a);
      }
  });

  it('has nothing before its beginning', () => {
    expect(isBefore(FIRST_KEY, key(Number.MIN_SAFE_INTEGER))).toBe(true);
    expect(isBefore(key(Number.MIN_SAFE_INTEGER), FIRST_KEY)).toBe(false);
  });

  it('keeps of a line its place alone', () => {
    expect(keyOf({ ...key(1, 2, 3), more: 4 } as Key)).toEqual(key(1, 2, 3));
  });

  it('takes file and byte for one number, and back', () => {
    for (const [file, byte] of [
      [0, 0],
      [0, 712],
      [3, 0],
      [3, 712],
      [8000, 2 ** 40 - 1],
    ] as const)
      expect(fileAndByte(placeOf(file, byte))).toEqual({ file, byte });
    expect(placeOf(1, 0)).toBeGreaterThan(placeOf(0, 2 ** 40 - 1));
  });
});

describe('Names', () => {
  it('numbers names in the order in which they come', () => {
    const names = new Names(['a', 'b', 'a']);
    expect(names.texts).toEqual(['a', 'b']);
    expect([names.indexOf('c'), names.indexOf('a'), names.indexOf('__proto__'), names.indexOf('c')]).toEqual([
      2, 0, 3, 2,
    ]);
    expect(names.texts).toEqual(['a', 'b', 'c', '__proto__']);
  });
});

describe('Newest', () => {
  const dated = (one: Key) => ({ ...one, date: one.on * 100 + one.at * 10 + one.place });
  const kept = (newest: Newest) => Array.from({ length: newest.count }, (_, n) => newest.key(n));

  it('keeps the newest few of many, in whatever order they come', () => {
    const sorted = keys.toReversed().map(dated);
    // Each of the eight places to begin, going forwards and backwards.
    for (const order of [keys, keys.toReversed()])
      for (let first = 0; first < keys.length; first++) {
        const newest = new Newest();
        for (const one of [...order.slice(first), ...order.slice(0, first)]) newest.offer(dated(one));
        expect(newest.count).toBe(KEPT);
        expect(newest.hasDropped).toBe(true);
        expect(kept(newest)).toEqual(sorted.slice(0, KEPT));
      }
  });

  it('says of what it has not that it comes before everything', () => {
    const newest = new Newest();
    expect(newest.count).toBe(0);
    expect(newest.key(0)).toEqual({ ...FIRST_KEY, date: 0 });
    for (const one of keys.slice(0, KEPT)) newest.offer(dated(one));
    expect(newest.hasDropped).toBe(false);
    expect(newest.key(KEPT - 1)).toEqual(dated(keys[0] ?? key(0)));
    expect(newest.key(KEPT)).toEqual({ ...FIRST_KEY, date: 0 });
  });
});

describe('ServiceLog', () => {
  const change = (on: number, isReturn = false) => ({ ...key(on), isReturn });
  const ons = (log: ServiceLog) => log.inOrder().map(({ on }) => on);

  it('keeps everything as long as there is little of it', () => {
    const log = new ServiceLog(10);
    for (const on of [3, 1, 2]) log.add(change(on, true));
    expect(ons(log)).toEqual([1, 2, 3]);
    expect(log.hasDropped).toBe(false);
  });

  it('lets go of what comes before the last few returns, and takes it no more when it comes late', () => {
    const log = new ServiceLog(6);
    for (const on of [1, 2, 3, 4, 5, 6]) log.add(change(on, true));
    expect(ons(log)).toEqual([3, 4, 5, 6]);
    expect(log.hasDropped).toBe(true);
    log.add(change(2.5));
    log.add(change(3));
    expect(ons(log)).toEqual([3, 3, 4, 5, 6]);
  });

  it('keeps more returns than it would need until there are many changes, and then until there are twice as many', () => {
    const log = new ServiceLog(6);
    for (const on of [1, 2, 3, 4, 5]) log.add(change(on, true));
    expect(ons(log)).toEqual([1, 2, 3, 4, 5]);
    log.add(change(6, true));
    expect(ons(log)).toEqual([3, 4, 5, 6]);
    for (const on of [7, 8, 9]) log.add(change(on, true));
    expect(ons(log)).toEqual([3, 4, 5, 6, 7, 8, 9]);
    log.add(change(10, true));
    expect(ons(log)).toEqual([7, 8, 9, 10]);
  });

  it('lets go of nothing where there were fewer returns than it keeps', () => {
    const log = new ServiceLog(6);
    for (const on of [1, 2, 3]) log.add(change(on, true));
    for (const on of [4, 5, 6, 7]) log.add(change(on));
    expect(ons(log)).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect(log.hasDropped).toBe(false);
  });
});

/** The facts of a use; the figures are all different, so that none may stand for another. */
function useOf(on: number, more: Partial<LineFacts> = {}): LineFacts {
  return Object.assign(new LineFacts(), {
    on,
    at: on + 1,
    place: on + 2,
    minutes: 45.5,
    flowMlPerMin: 1750,
    settingPercent: 2.5,
    idHash: -77,
    date: 20_261_125,
    agent: 2,
    ...more,
  });
}

describe('UseLog', () => {
  it('gives each use back as it was, however many there are', () => {
    const log = new UseLog(100_000);
    for (let on = 0; on < 9000; on++) log.add(useOf(on, { agent: on % 8, date: 20_260_000 + on }), on % 50);
    expect(log.count).toBe(9000);
    for (const on of [0, 1, 4095, 4096, 4097, 8191, 8192, 8999])
      expect(log.use(on)).toEqual({
        on,
        at: on + 1,
        place: on + 2,
        minutes: 45.5,
        flowMlPerMin: 1750,
        settingPercent: 2.5,
        idHash: -77,
        agent: on % 8,
        wearers: on % 50,
        date: 20_260_000 + on,
      });
    log.add(useOf(1, { settingPercent: Number.NaN }), 131_071);
    expect(log.use(9000)).toMatchObject({ settingPercent: Number.NaN, wearers: 131_071, date: 20_261_125 });
  });

  it('lets go of what comes before the boundary of its own wearers alone', () => {
    const log = new UseLog(4);
    for (const one of keys) for (const wearers of [0, 1, 2]) log.add(Object.assign(useOf(0), one), wearers);
    const boundary = key(1, 2, 2);
    log.prune([FIRST_KEY, boundary]);
    const left = Array.from({ length: log.count }, (_, i) => log.use(i));
    const of = (wearers: number) => left.filter(use => use.wearers === wearers).map(keyOf);
    expect(of(0)).toEqual(keys);
    expect(of(1)).toEqual(keys.filter(one => !isBefore(one, boundary)));
    // A group without a boundary keeps everything.
    expect(of(2)).toEqual(keys);
    expect(left.every(({ minutes, idHash }) => minutes === 45.5 && idHash === -77)).toBe(true);
  });

  it('wants pruning when it is full, and then not before there is twice what was left', () => {
    const log = new UseLog(4);
    const fill = (count: number) => {
      for (let i = 0; i < count; i++) log.add(useOf(i), 0);
    };
    fill(3);
    expect(log.isPruningDue).toBe(false);
    fill(1);
    expect(log.isPruningDue).toBe(true);
    log.prune([FIRST_KEY]);
    expect(log.isPruningDue).toBe(false);
    fill(3);
    expect(log.isPruningDue).toBe(false);
    fill(1);
    expect(log.isPruningDue).toBe(true);
    log.prune([key(Number.POSITIVE_INFINITY)]);
    expect(log.count).toBe(0);
    fill(3);
    expect(log.isPruningDue).toBe(false);
    fill(1);
    expect(log.isPruningDue).toBe(true);
  });

  it('goes on behind what it kept, over the blocks that it let go', () => {
    const log = new UseLog(1);
    for (let on = 0; on < 9000; on++) log.add(useOf(on), 0);
    log.prune([key(4000)]);
    expect(log.count).toBe(5000);
    for (const index of [0, 95, 96, 4095, 4096, 4999])
      expect(log.use(index)).toMatchObject({ on: index + 4000, at: index + 4001, place: index + 4002 });
    log.add(useOf(7), 3);
    expect(log.use(5000)).toMatchObject({ on: 7, wearers: 3 });
    expect(log.use(4999)).toMatchObject({ on: 8999, wearers: 0 });
  });
});

describe('Fetch', () => {
  function refusalOf(work: () => unknown) {
    const { problems, exitCode } = refusalBy(work);
    return { exitCode, ...problems[0] };
  }

  it('goes back to a line by its place, short or long, in any of the files', async () => {
    const record = new TestRecord();
    await record.append(usage({ note: 'short' }));
    await record.append(usage({ note: 'é'.repeat(4000) }));
    const other = await record.append(usage({ note: 'of the next year' }), {
      now: new Date('2027-02-01T08:00:00Z'),
    });
    const fetch = new Fetch([record.file(2026), record.file(2027)]);
    const [first = '', second = ''] = record.lines();
    for (const [place, entry] of [
      [placeOf(0, 0), JSON.parse(first)],
      [placeOf(0, Buffer.byteLength(first) + 1), JSON.parse(second)],
      [placeOf(1, 0), other.entry],
      [placeOf(0, 0), JSON.parse(first)],
    ] as const) {
      expect(fetch.entry(place)).toEqual(entry);
      expect(fetch.id(place)).toBe(entry.id);
    }
    fetch.close();
    // A second look is on the file as it is by then.
    rmSync(record.file(2026));
    expect(refusalOf(() => fetch.id(placeOf(0, 0)))).toMatchObject({ code: 'record_not_readable' });
  });

  it('refuses where the line that was read there is no more', () => {
    const file = path.join(tempFolder(), '2026.jsonl');
    writeFileSync(file, '');
    const fetch = new Fetch([file]);
    const expected = {
      exitCode: 3,
      code: 'record_not_readable',
      message: `${file} was changed while it was read, at byte 0`,
      remedy: 'type the command again',
    };
    for (const there of ['', '{"id":"never-en', 'hello\n', '{"id":7}\n', 'null\n']) {
      writeFileSync(file, there);
      expect(
        refusalOf(() => fetch.entry(0)),
        there,
      ).toMatchObject(expected);
      expect(
        refusalOf(() => fetch.id(0)),
        there,
      ).toMatchObject(expected);
    }
    // Of the id alone not all of the line is asked.
    writeFileSync(file, '');
    appendFileSync(file, '{"id":"20261125-x"}\n');
    expect(fetch.id(0)).toBe('20261125-x');
    expect(refusalOf(() => fetch.entry(0))).toMatchObject(expected);
    fetch.close();
  });
});
