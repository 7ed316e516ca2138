import {
  appendFileSync,
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { FIRST_PREV, lineHash } from '../../src/record/chain.ts';
import { abstractName, lockStation } from '../../src/record/lock.ts';
import { readRecord } from '../../src/record/read.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { refusalIn } from './refused.ts';
import { INVENTORY, NOW, TestRecord, TIME_ZONE, usage, withdraw } from './store-kit.ts';

const isRoot = process.getuid?.() === 0;

/** The code and exit of the refusal that a promise ends in. */
async function refusalOf(
  promise: Promise<unknown>,
): Promise<{ code: string | undefined; exitCode: number; message: string }> {
  const { problems, exitCode, message } = await refusalIn(promise);
  return { code: problems[0]?.code, exitCode, message };
}

describe('appendEntry', () => {
  it('writes one line with the keys of the format in their order', async () => {
    const record = new TestRecord();
    const { entry, already, file } = await record.append(withdraw('bain-1'));
    const [line = ''] = record.lines();
    expect(JSON.parse(line)).toEqual(entry);
    expect(Object.keys(entry).join()).toBe('v,id,at,station,kind,by,on,asset,because,n,inventory,tool,prev');
    expect(entry).toMatchObject({
      v: 1,
      at: '2026-11-25T08:14:03+00:00',
      on: '2026-11-25T08:14:03+00:00',
      station: 'prep',
      n: 1,
      prev: FIRST_PREV,
      inventory: INVENTORY,
    });
    expect({ already, file }).toEqual({ already: false, file: record.file() });
  });

  it('chains each line to the bytes of the one before, on across years', async () => {
    const record = new TestRecord();
    await record.append();
    const { entry } = await record.append(usage(), { now: new Date('2027-01-01T00:00:00Z') });
    expect(entry.prev).toBe(lineHash(Buffer.from(record.lines(2026).at(-1) ?? '')));
    expect(entry).toMatchObject({ n: 2, at: '2027-01-01T00:00:00+00:00' });
    expect(record.lines(2027)).toHaveLength(1);
  });

  it('takes the year of the practice, and never goes back to an older file', async () => {
    const record = new TestRecord();
    await record.append(usage(), { now: new Date('2026-12-31T22:30:00Z'), timeZone: 'Africa/Cairo' });
    expect(record.lines(2027)).toHaveLength(1);
    await record.append(usage(), { now: new Date('2026-06-01T10:00:00Z') });
    expect(existsSync(record.file(2026))).toBe(false);
    expect(record.lines(2027)).toHaveLength(2);
  });

  it('never enters before the last entry, should the clock have been set back', async () => {
    const record = new TestRecord();
    await record.append();
    const { entry } = await record.append(usage(), { now: new Date('2026-11-25T08:00:00Z') });
    expect(entry.at).toBe('2026-11-25T08:14:03+00:00');
  });

  it('counts today what is entered after an entry of a clock that was a year ahead, says so, and verifies', async () => {
    const record = new TestRecord();
    const ahead = await record.append(usage(), { now: new Date('2027-11-25T08:14:03Z') });
    const { entry, cautions, file } = await record.append(withdraw('bain-1'));
    expect(entry).toMatchObject({ at: '2027-11-25T08:14:03+00:00', on: '2026-11-25T08:14:03+00:00' });
    expect(cautions).toMatchObject([
      { code: 'last_entry_in_future', remedy: expect.stringContaining(`holdfast correct ${ahead.entry.id}`) },
    ]);
    expect(file).toBe(record.file(2027));
    expect(verifyRecord(record.dir, { stateDir: record.stateDir }).damage).toEqual([]);
    const upToToday = readRecord(record.dir, { timeZone: TIME_ZONE, asOf: '2026-11-25' });
    expect(upToToday.entries.map(({ id }) => id)).toEqual([entry.id]);
  });

  it('recognises a retry also behind an entry of a clock that was ahead', async () => {
    const record = new TestRecord();
    await record.append(usage(), { now: new Date('2027-11-25T08:14:03Z') });
    const id = '20261125-081403127-abcdef';
    const first = await record.append(withdraw('bain-1'), { id });
    const again = await record.append(withdraw('bain-1'), { id, now: new Date('2026-11-25T09:00:00Z') });
    expect(again).toMatchObject({ already: true, entry: first.entry });
    const typed = '20261125-081403128-abcdef';
    await record.append(withdraw('bain-1', { on: '2026-11-25T08:00:00Z' }), { id: typed });
    expect(await refusalOf(record.append(withdraw('bain-1'), { id: typed }))).toMatchObject({
      code: 'entry_id_taken',
    });
  });

  it('puts --on into the practice’s zone, keeps a date, and refuses the future', async () => {
    const record = new TestRecord();
    const on = async (text: string) => (await record.append(usage({ on: text }))).entry.on;
    expect(await on('2026-07-01T09:00:00+02:00')).toBe('2026-07-01T08:00:00+01:00');
    expect(await on('2026-11-24')).toBe('2026-11-24');
    expect(await on('2026-11-25')).toBe('2026-11-25');
    for (const text of ['2026-11-26', '2026-11-25T08:14:04+00:00']) {
      expect(await refusalOf(record.append(usage({ on: text })))).toMatchObject({
        code: 'time_in_future',
        exitCode: 2,
      });
    }
    for (const text of ['2026-02-30', 'yesterday', '']) {
      expect(await refusalOf(record.append(usage({ on: text })))).toMatchObject({
        code: 'time_not_understood',
        exitCode: 2,
      });
    }
    expect(record.lines()).toHaveLength(3);
  });

  it('recognises a retry by its id, and refuses the same id with other content', async () => {
    const record = new TestRecord();
    const id = '20261125-081403127-abcdef';
    const first = await record.append(usage({ note: 'x' }), { id });
    await record.append();
    const again = await record.append(usage({ note: 'x', inventory: 'f'.repeat(40) }), {
      id,
      now: new Date('2026-11-26T08:00:00Z'),
    });
    expect(again).toMatchObject({ already: true, entry: first.entry });
    expect(record.lines()).toHaveLength(2);
    const others = [
      usage({ note: 'y' }),
      usage(),
      usage({ note: 'x', on: '2026-11-24' }),
      withdraw('bain-1', { note: 'x' }),
    ];
    for (const other of others) {
      expect(await refusalOf(record.append(other, { id }))).toMatchObject({
        code: 'entry_id_taken',
        exitCode: 2,
      });
    }
    expect(await refusalOf(record.append(usage(), { id: 'UPPER CASE' }))).toMatchObject({
      code: 'entry_id_not_valid',
    });
  });

  it('recognises a retry with --on, also from another station', async () => {
    const record = new TestRecord();
    const id = '20261125-081403127-abcdef';
    await record.append(usage({ on: '2026-11-25T09:00:00+01:00' }), { id });
    const again = await record.append(usage({ on: '2026-11-25T08:00:00Z' }), { id, station: 'ward' });
    expect(again.already).toBe(true);
  });

  it('keeps control characters, right-to-left text and newlines on one line', async () => {
    const record = new TestRecord();
    const note = 'a\nb\r\u001b[31m\u2028\u202e\u0000 ☃ 🐕 \ud800';
    const { entry } = await record.append(usage({ note }));
    expect(entry).toMatchObject({ note });
    expect(record.lines()).toHaveLength(1);
    expect(verifyRecord(record.dir, record).damage).toEqual([]);
  });

  it('writes nothing that its own reader would not take', async () => {
    const record = new TestRecord();
    const refused = await refusalOf(record.append(usage({ note: 'x'.repeat(100_000) })));
    expect(refused).toMatchObject({
      code: 'entry_not_valid',
      exitCode: 2,
      message: expect.stringContaining('note must NOT have more than 4000 characters'),
    });
    expect(existsSync(record.file())).toBe(false);
  });

  it('sets a torn tail aside with its bytes kept, then goes on', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const torn = Buffer.from([0x7b, 0xff, 0x00, 0x22]);
    appendFileSync(record.file(), torn);
    const { cautions } = await record.append();
    expect(cautions).toMatchObject([{ code: 'torn_tail_set_aside' }]);
    const [aside = ''] = readdirSync(path.dirname(record.file())).filter(name =>
      name.startsWith('2026.jsonl.torn-'),
    );
    expect(readFileSync(path.join(path.dirname(record.file()), aside))).toEqual(torn);
    expect(record.lines()).toHaveLength(3);
    expect(verifyRecord(record.dir, record).damage).toEqual([]);
  });

  it('sets aside a torn tail in the old year’s file when the new year begins', async () => {
    const record = new TestRecord();
    await record.fill(2);
    appendFileSync(record.file(), '{"v":1');
    await record.append(usage(), { now: new Date('2027-01-02T08:00:00Z') });
    expect(record.bytes(2026).at(-1)).toBe(0x0a);
    expect(verifyRecord(record.dir, record).damage).toEqual([]);
  });

  it('puts back a newline that went missing behind the very entry last recorded', async () => {
    const record = new TestRecord();
    await record.fill(2);
    const whole = record.bytes();
    writeFileSync(record.file(), whole.subarray(0, -1));
    const { cautions } = await record.append();
    expect(cautions).toMatchObject([{ code: 'newline_restored' }]);
    expect(record.bytes().subarray(0, whole.length)).toEqual(whole);
    expect(verifyRecord(record.dir, record).damage).toEqual([]);
  });

  it('refuses to write after a damaged last line, and goes on after damage further up', async () => {
    const record = new TestRecord();
    await record.fill(3);
    const lines = record.lines();
    const edited = (lines[2] ?? '').replace('"minutes":3', '"minutes":4');
    for (const last of ['hello', '', '{}', edited, (lines[2] ?? '').replace('"prep"', '"ward"')]) {
      record.write(lines.with(2, last));
      expect(await refusalOf(record.append()), last).toMatchObject({
        code: 'last_line_damaged',
        exitCode: 3,
      });
    }
    record.write(lines.with(1, 'hello'));
    await record.append();
    expect(record.lines()).toHaveLength(4);
  });

  it('lets one writer in at a time within a process too, and gives up after the wait', async () => {
    const record = new TestRecord();
    await Promise.all(Array.from({ length: 20 }, () => record.append()));
    expect(record.lines()).toHaveLength(20);
    expect(verifyRecord(record.dir, record).damage).toEqual([]);
    const lock = await lockStation(path.dirname(record.file()));
    expect(await refusalOf(record.append(usage(), { waitMs: 50 }))).toMatchObject({
      code: 'record_busy',
      exitCode: 3,
    });
    await record.append(usage(), { station: 'ward', waitMs: 50 });
    lock.release();
    await record.append();
  });

  it('names the lock by exactly 107 bytes, or versions of Node would not exclude each other', () => {
    for (const id of [0n, 1n, 2n ** 64n - 1n]) {
      const name = Buffer.from(abstractName({ dev: id, ino: id }));
      expect(name).toHaveLength(108);
      expect(name.indexOf(0)).toBe(0);
      expect(name.lastIndexOf(0)).toBe(0);
    }
  });

  it('gives no lock where the system has none', async () => {
    const record = new TestRecord();
    await record.append();
    const locked = lockStation(path.dirname(record.file()), { platform: 'aix' });
    expect(await refusalOf(locked)).toMatchObject({ code: 'record_lock_unavailable', exitCode: 3 });
  });

  it('remembers the head elsewhere, and a state folder that cannot be written is a caution', async () => {
    const record = new TestRecord();
    writeFileSync(path.join(record.home, 'file'), '');
    const { cautions, entry } = await record.append(usage(), {
      stateDir: path.join(record.home, 'file', 'x'),
    });
    expect(cautions).toMatchObject([{ code: 'head_not_kept' }]);
    expect(entry.n).toBe(1);
    await record.append();
    expect(readdirSync(record.stateDir)).toMatchObject([expect.stringMatching(/^[0-9a-f]{16}-prep\.head$/)]);
  });

  it('remembers no head where no state folder is given, and says nothing of it', async () => {
    const record = new TestRecord();
    expect((await record.append(usage(), { stateDir: null })).cautions).toEqual([]);
    expect(readdirSync(record.home)).toEqual(['record']);
  });
});

describe('where the record lies', () => {
  it('makes folders and files with the usual modes', async () => {
    const record = new TestRecord();
    const umask = process.umask();
    await record.append();
    const modeOf = (file: string) => statSync(file).mode & 0o777;
    expect(modeOf(record.dir)).toBe(0o755 & ~umask);
    expect(modeOf(record.file())).toBe(0o644 & ~umask);
  });

  it('refuses symbolic links, pipes in disguise and files where folders belong', async () => {
    const record = new TestRecord();
    const real = path.join(record.home, 'elsewhere');
    mkdirSync(real);
    symlinkSync(real, record.dir);
    expect(await refusalOf(record.append())).toMatchObject({ code: 'record_symlink', exitCode: 3 });
    expect(await refusalOf(record.append(usage(), { recordDir: `${record.dir}/` }))).toMatchObject({
      code: 'record_symlink',
    });
    rmSync(record.dir);
    writeFileSync(record.dir, 'x');
    expect(await refusalOf(record.append())).toMatchObject({ code: 'record_not_folder', exitCode: 3 });
    rmSync(record.dir);
    mkdirSync(record.dir);
    symlinkSync(real, path.join(record.dir, 'prep'));
    expect(await refusalOf(record.append())).toMatchObject({ code: 'record_symlink' });
    // Not even an empty file is made behind the link.
    expect(readdirSync(real)).toEqual([]);
    rmSync(path.join(record.dir, 'prep'));
    await record.append();
    renameSync(record.file(), path.join(real, 'moved'));
    symlinkSync(path.join(real, 'moved'), record.file());
    expect(await refusalOf(record.append())).toMatchObject({ code: 'record_symlink' });
    expect(() => verifyRecord(record.dir, record)).toThrow(/symbolic link/);
    rmSync(record.file());
    mkdirSync(record.file());
    expect((await refusalOf(record.append())).exitCode).toBe(3);
    expect(() => verifyRecord(record.dir, record)).toThrow(/no regular file/);
  });

  it('looks at another station only for an id that was given', async () => {
    const record = new TestRecord();
    await record.append();
    symlinkSync(path.dirname(record.file()), path.join(record.dir, 'ward'));
    await record.append();
    expect(record.lines()).toHaveLength(2);
    const id = '20261125-081403127-abcdef';
    expect(await refusalOf(record.append(usage(), { id }))).toMatchObject({ code: 'record_symlink' });
  });

  it('takes no path as a station', async () => {
    const record = new TestRecord();
    for (const station of ['..', '../x', 'a/b', '', '.', 'A', 'a'.repeat(41), '-a', 'a\u0000']) {
      expect(await refusalOf(record.append(usage(), { station })), station).toMatchObject({
        code: 'station_name',
        exitCode: 2,
      });
    }
  });

  it.skipIf(isRoot)('says so where it may not write', async () => {
    const record = new TestRecord();
    await record.append();
    chmodSync(record.file(), 0o444);
    expect(await refusalOf(record.append())).toMatchObject({ code: 'record_read_only', exitCode: 3 });
    chmodSync(path.dirname(record.file()), 0o555);
    expect(await refusalOf(record.append(usage(), { now: new Date('2027-03-01T00:00:00Z') }))).toMatchObject({
      code: 'record_read_only',
    });
    chmodSync(path.dirname(record.file()), 0o755);
  });

  it('cautions where every user may write', async () => {
    const record = new TestRecord();
    await record.append(usage(), { now: NOW });
    chmodSync(record.dir, 0o777);
    expect(verifyRecord(record.dir, record).cautions).toMatchObject([{ code: 'record_world_writable' }]);
    writeFileSync(path.join(record.dir, 'prep', '2026 (1).jsonl'), '');
    expect(verifyRecord(record.dir, record).cautions.map(({ code }) => code)).toEqual([
      'record_world_writable',
      'stray_file',
    ]);
  });

  it('says so where there is no record', () => {
    const record = new TestRecord();
    expect(() => verifyRecord(record.dir, record)).toThrow(/there is no record/);
  });
});
