/** What readers of the record say of a disk that fails when a file is open already. */
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Refusal } from '../../src/problem/problem.ts';
import { lookUp } from '../../src/record/lookup.ts';
import { readRecord } from '../../src/record/read.ts';
import { findEntry } from '../../src/record/retry.ts';
import { Fetch } from '../../src/record/scan/fetch.ts';
import { placeOf } from '../../src/record/scan/key.ts';
import { scanRecord } from '../../src/record/scan/scan.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { whileOpen } from '../../src/record/while-open.ts';
import { larkhill } from './entries.ts';
import { TestRecord, TIME_ZONE } from './store-kit.ts';

afterEach(() => {
  vi.restoreAllMocks();
  syncBuiltinESMExports();
});

function failingDisk(): void {
  vi.spyOn(fs, 'readSync').mockImplementation(() => {
    throw Object.assign(new Error('EIO: i/o error, read'), { code: 'EIO', syscall: 'read' });
  });
  syncBuiltinESMExports();
}

const today = '2026-11-25';
const scan = { inventory: larkhill(), today, asOf: today };

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
