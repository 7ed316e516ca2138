import { execFileSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { endOfDayIn } from '../../src/calendar/day-end.ts';
import { newEntryId } from '../../src/record/entry-id.ts';
import { readRecord } from '../../src/record/read.ts';
import { stationName } from '../../src/record/station.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { TestRecord, TIME_ZONE, usage } from './store-kit.ts';

const READ = { timeZone: TIME_ZONE };

describe('readRecord', () => {
  it('gives the entries of all stations in the order on, at, station, line', async () => {
    const record = new TestRecord();
    const add = (station: string, on: string | undefined, now: string, note: string) =>
      record.append(usage({ ...(on === undefined ? {} : { on }), note }), { station, now: new Date(now) });
    await add('ward', undefined, '2026-11-25T10:00:00Z', '3 ward first in line');
    await add('ward', undefined, '2026-11-25T10:00:00Z', '4 ward second in line');
    await add('prep', undefined, '2026-11-25T10:00:00Z', '2 prep before ward');
    await add('prep', '2026-11-25T09:00:00+00:00', '2026-11-25T11:00:00Z', '1 entered later for earlier');
    await add('ward', '2026-11-25', '2026-11-26T08:00:00Z', '5 a date: the end of that day');
    await add('prep', undefined, '2026-11-26T00:00:00Z', '6 the next day');
    const read = readRecord(record.dir, READ);
    expect(read.entries.map(({ note }) => note?.[0]).join('')).toBe('123456');
    expect(read.places[0]).toMatchObject({ file: record.file(), line: 2 });
    expect(read.stations.map(({ station, entries }) => [station, entries])).toEqual([
      ['prep', 3],
      ['ward', 3],
    ]);
  });

  it('counts a date of today as no later than it was entered', async () => {
    const record = new TestRecord();
    await record.append(usage({ on: '2026-11-25', note: '1' }), { now: new Date('2026-11-25T10:00:00Z') });
    await record.append(usage({ note: '2' }), { now: new Date('2026-11-25T12:00:00Z') });
    expect(readRecord(record.dir, READ).entries.map(({ note }) => note)).toEqual(['1', '2']);
  });

  it('leaves out what was done after a date, whenever it was entered', async () => {
    const record = new TestRecord();
    await record.append(usage({ on: '2026-11-20', note: 'a' }));
    await record.append(usage({ on: '2026-11-21T23:59:59+00:00', note: 'b' }));
    await record.append(usage({ on: '2026-11-22T00:00:00+00:00', note: 'c' }));
    const read = readRecord(record.dir, { ...READ, asOf: '2026-11-21' });
    expect(read.entries.map(({ note }) => note)).toEqual(['a', 'b']);
    expect(read.stations[0]?.entries).toBe(3);
  });

  it('goes on with a damaged record and says so, with and without the chain', async () => {
    const record = new TestRecord();
    await record.fill(4);
    const lines = record.lines();
    record.write(lines.with(1, 'hello'));
    for (const checkChain of [true, false]) {
      const { entries, damage } = readRecord(record.dir, { ...READ, checkChain });
      expect(entries).toHaveLength(3);
      expect(damage).toMatchObject([{ line: 2 }]);
    }
    record.write(lines.slice(0, 2));
    expect(readRecord(record.dir, READ).damage).toEqual([]);
    expect(readRecord(record.dir, { ...READ, stateDir: record.stateDir }).damage).toMatchObject([
      { code: 'damage_cut_tail' },
    ]);
  });

  it('knows nothing where there is no record, and heads are the same with and without the chain', async () => {
    const record = new TestRecord();
    expect(readRecord(record.dir, READ)).toMatchObject({ exists: false, entries: [], stations: [] });
    await record.fill(3);
    const { stations } = readRecord(record.dir, READ);
    expect(readRecord(record.dir, { ...READ, checkChain: false }).stations).toEqual(stations);
  });

  it('merges two clones that each wrote on their own station, with real git', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const git = (cwd: string, ...args: string[]) =>
      execFileSync(
        'git',
        [
          '-c',
          'user.name=A',
          '-c',
          'user.email=a@larkhill.example',
          '-c',
          'init.defaultBranch=main',
          ...args,
        ],
        { cwd, stdio: 'pipe' },
      );
    git(record.home, 'init', '-q');
    git(record.home, 'add', 'record');
    git(record.home, 'commit', '-qm', 'base');
    const clone = `${record.home}/clone`;
    git(record.home, 'clone', '-q', '.', 'clone');
    await record.append(usage({ note: 'here' }));
    await record.append(usage({ note: 'there' }), { recordDir: `${clone}/record`, station: 'ward' });
    git(record.home, 'commit', '-qam', 'here');
    git(clone, 'add', 'record');
    git(clone, 'commit', '-qm', 'there');
    git(record.home, 'pull', '-q', '--no-rebase', '--no-edit', 'clone', 'main');
    expect(verifyRecord(record.dir, record).damage).toEqual([]);
    expect(readRecord(record.dir, READ).entries).toHaveLength(4);
  });
});

describe('endOfDayIn', () => {
  it('ends where the next date begins, in every zone and on odd days', () => {
    const date = fc.date({ min: new Date('1990-01-01'), max: new Date('2040-01-01'), noInvalidDate: true });
    const zone = fc.constantFrom(
      'Europe/Dublin',
      'America/Los_Angeles',
      'Pacific/Apia',
      'Africa/Cairo',
      'Asia/Beirut',
      'America/Sao_Paulo',
    );
    fc.assert(
      fc.property(date, zone, (instant, timeZone) => {
        const day = instant.toISOString().slice(0, 10);
        const end = endOfDayIn(timeZone, day);
        const local = (ms: number) =>
          new Intl.DateTimeFormat('sv-SE', { timeZone, dateStyle: 'short' }).format(ms);
        return local(end) <= day && local(end + 1000) > day;
      }),
    );
    expect(new Date(endOfDayIn('Pacific/Apia', '2011-12-29')).toISOString()).toBe('2011-12-30T09:59:59.000Z');
    expect(new Date(endOfDayIn('Africa/Cairo', '2026-04-23')).toISOString()).toBe('2026-04-23T21:59:59.000Z');
  });
});

describe('stationName', () => {
  it('bends the name of the host, and takes or refuses the one that was set', () => {
    expect(stationName(undefined, 'Prep_Room.example')).toBe('prep-room');
    expect(stationName('', 'Tierärzte')).toBe('tier-rzte');
    expect(stationName(undefined, '...')).toBe('station');
    expect(stationName(undefined, `--${'x'.repeat(60)}`)).toBe('x'.repeat(40));
    expect(stationName('front-desk', 'x')).toBe('front-desk');
    expect(() => stationName('../etc', 'x')).toThrow(/cannot be the name/);
  });
});

describe('newEntryId', () => {
  it('sorts by time and fits the format', () => {
    const earlier = newEntryId(new Date('2026-11-25T08:14:03.127Z'));
    const later = newEntryId(new Date('2026-11-25T08:14:03.128Z'));
    expect(earlier).toMatch(/^20261125-081403127-[0-9a-z]{6}$/);
    expect(earlier < later).toBe(true);
  });
});
