/** What readers of the record say of a disk that fails when a file is open already. */
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import path from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { Refusal } from '../../src/problem/problem.ts';
import { openRecord } from '../../src/record/folder.ts';
import { lookUp } from '../../src/record/lookup.ts';
import { readRecord } from '../../src/record/read.ts';
import { findEntry } from '../../src/record/retry.ts';
import { Fetch } from '../../src/record/scan/fetch.ts';
import { placeOf } from '../../src/record/scan/key.ts';
import { scanRecord } from '../../src/record/scan/scan.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { whileOpen } from '../../src/record/while-open.ts';
import { larkhill } from './entries.ts';
import { restoreSystemAfterEach, systemError } from './refused.ts';
import { TestRecord, TIME_ZONE } from './store-kit.ts';

restoreSystemAfterEach();

function failingDisk(): void {
  vi.spyOn(fs, 'readSync').mockImplementation(() => {
    throw systemError('EIO', 'read');
  });
  syncBuiltinESMExports();
}

const today = '2026-11-25';
const scan = { inventory: larkhill(), today, asOf: today };

describe('a disk that fails when a file of the record is opened or closed', () => {
  const refused = (file: string) =>
    expect.objectContaining({
      exitCode: 3,
      problems: [expect.objectContaining({ code: 'record_not_readable', file })],
    });
  const fail = (
    call: 'fstatSync' | 'lstatSync' | 'closeSync',
    code: string,
    times = Number.POSITIVE_INFINITY,
  ) => {
    const real = fs[call] as (...args: unknown[]) => unknown;
    let calls = 0;
    vi.spyOn(fs, call).mockImplementation(((...args: unknown[]) => {
      const result = real.apply(fs, args);
      calls += 1;
      if (calls <= times) throw systemError(code, call);
      return result;
    }) as never);
    syncBuiltinESMExports();
  };

  it('is named where what was opened cannot be looked at, and the file is closed', async () => {
    const record = new TestRecord();
    await record.append();
    fail('fstatSync', 'EIO', 1);
    const closed = vi.spyOn(fs, 'closeSync');
    syncBuiltinESMExports();
    expect(() => whileOpen(record.file(), () => 'read')).toThrow(refused(record.file()));
    expect(closed).toHaveBeenCalledTimes(1);
  });

  it('is nothing to what was read where only the close fails, and takes no other refusal’s place', async () => {
    const record = new TestRecord();
    await record.append();
    fail('closeSync', 'EIO');
    expect(whileOpen(record.file(), () => 'read')).toBe('read');
    const other = new Refusal([]);
    expect(() =>
      whileOpen(record.file(), () => {
        throw other;
      }),
    ).toThrow(other);
  });

  it('is named where the record’s folder may be listed and nothing in it looked at', async () => {
    const record = new TestRecord();
    await record.append();
    const real = fs.lstatSync;
    vi.spyOn(fs, 'lstatSync').mockImplementation(((place: string, ...more: []) => {
      if (path.dirname(place) === path.resolve(record.dir)) throw systemError('EACCES', 'lstat');
      return real(place, ...more);
    }) as never);
    syncBuiltinESMExports();
    const station = path.join(record.dir, path.basename(path.dirname(record.file())));
    expect(() => openRecord(record.dir)).toThrow(refused(station));
  });
});

describe('a disk that fails while a file of the record is read', () => {
  it.each<[string, (record: TestRecord) => unknown]>([
    ['verify', ({ dir }) => verifyRecord(dir, { stateDir: null })],
    ['a report', ({ dir }) => readRecord(dir, { timeZone: TIME_ZONE })],
    [
      'a report that passes the chain by',
      ({ dir }) => readRecord(dir, { timeZone: TIME_ZONE, checkChain: false }),
    ],
    ['the list of what is due', ({ dir }) => scanRecord(dir, scan)],
    ['the search for an id', ({ dir }) => findEntry(dir, 'entry-000001')],
    ['the search for a line', record => lookUp([record.file()], new Set())],
    ['a look back at a line', record => new Fetch([record.file()]).id(placeOf(0, 0))],
  ])('is named by %s, and is no fault of the program', async (_, read) => {
    const record = new TestRecord();
    await record.append();
    failingDisk();
    expect(() => read(record)).toThrow(Refusal);
    expect(() => read(record)).toThrow(
      expect.objectContaining({
        exitCode: 3,
        problems: [
          {
            code: 'record_not_readable',
            file: record.file(),
            line: null,
            column: null,
            message: `${record.file()} cannot be read (EIO)`,
            remedy: 'check its permissions and the disk',
          },
        ],
      }),
    );
  });
});

describe('whileOpen', () => {
  it('gives what the work gives, passes on what else goes wrong in it, and closes the file each time', async () => {
    const record = new TestRecord();
    await record.append();
    const { length } = record.bytes();
    const close = vi.spyOn(fs, 'closeSync');
    syncBuiltinESMExports();
    const opened: number[] = [];
    const size = whileOpen(record.file(), fd => {
      opened.push(fd);
      return fs.fstatSync(fd).size;
    });
    expect(size).toBe(length);
    const bug = new TypeError('a fault of the program');
    expect(() =>
      whileOpen(record.file(), fd => {
        opened.push(fd);
        throw bug;
      }),
    ).toThrow(bug);
    expect(close.mock.calls.map(([fd]) => fd)).toEqual(opened);
  });
});
