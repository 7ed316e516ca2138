/** What is asked of a disk, and what one does that fails in the middle, which a real one does only under a tracer (test/faults). */
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Lock, lockStation } from '../../src/record/lock.ts';
import { fileEnd, setTornTailAside } from '../../src/record/tail.ts';
import { writeLine } from '../../src/record/write.ts';
import { refusalBy, restoreSystemAfterEach, systemError } from './refused.ts';
import { NOW, TestRecord, tempFolder, usage } from './store-kit.ts';

/** The problem that a refused piece of work names. */
const refusalOf = (work: () => void) => refusalBy(work).problems[0];

const CALLS = [
  'statSync',
  'mkdirSync',
  'openSync',
  'readSync',
  'writeSync',
  'fsyncSync',
  'ftruncateSync',
] as const;
/** The real one. */
const { mkdirSync: makeFolder } = fs;

const BEFORE = 'the line before\n';
const LINE = Buffer.from('a new line\n');

let file: string;
let fd: number;

beforeEach(() => {
  file = path.join(tempFolder(), '2026.jsonl');
  fs.writeFileSync(file, BEFORE);
  fd = fs.openSync(file, 'a+');
  // Whoever makes them.
  for (const call of CALLS) vi.spyOn(fs, call);
  syncBuiltinESMExports();
});

afterEach(() => fs.closeSync(fd));
restoreSystemAfterEach();

const write = () => writeLine(fd, file, BEFORE.length, LINE, 'entry-000001');
const content = () => fs.readFileSync(file, 'utf8');

describe('writeLine', () => {
  it('writes the line by one call, and the disk keeps it before it is called written', () => {
    write();
    expect(content()).toBe(BEFORE + LINE);
    expect(vi.mocked(fs.writeSync)).toHaveBeenCalledTimes(1);
    expect(vi.mocked(fs.fsyncSync)).toHaveBeenCalledExactlyOnceWith(fd);
    expect(vi.mocked(fs.writeSync)).toHaveBeenCalledBefore(vi.mocked(fs.fsyncSync));
    expect(vi.mocked(fs.ftruncateSync)).not.toHaveBeenCalled();
  });

  it('cuts off again what came through of a write that failed', () => {
    vi.mocked(fs.writeSync).mockImplementationOnce(() => {
      fs.appendFileSync(file, 'a ne');
      throw systemError('ENOSPC', 'write');
    });
    expect(refusalOf(write)).toMatchObject({ code: 'record_disk_full', file });
    expect(content()).toBe(BEFORE);
    // The cut is kept by the disk as well.
    expect(vi.mocked(fs.fsyncSync)).toHaveBeenCalledExactlyOnceWith(fd);
  });

  it('cuts off again what is only part of the line', () => {
    vi.mocked(fs.writeSync).mockImplementationOnce(() => {
      fs.appendFileSync(file, 'a ne');
      return 4;
    });
    expect(refusalOf(write)).toMatchObject({
      code: 'record_disk_full',
      file,
      message: `not recorded: only 4 of 11 bytes fitted into ${file}`,
      remedy: 'make room, then type the command again',
    });
    expect(content()).toBe(BEFORE);
  });

  it('calls a line not recorded that the disk would not keep, once it is cut off again', () => {
    vi.mocked(fs.fsyncSync).mockImplementationOnce(() => {
      throw systemError('EIO', 'fsync');
    });
    expect(refusalOf(write)).toMatchObject({ code: 'record_not_written', file });
    expect(content()).toBe(BEFORE);
  });

  it('says that it does not know where the cut fails too, and how a retry is recognised', () => {
    const unsure = {
      code: 'record_write_unsure',
      file,
      message: `it is not certain that the entry was recorded in ${file} (EIO)`,
      remedy: 'type the command again with --id entry-000001',
    };
    vi.mocked(fs.fsyncSync).mockImplementation(() => {
      throw systemError('EIO', 'fsync');
    });
    // Cut, but who knows whether the disk has that.
    expect(refusalOf(write)).toMatchObject(unsure);
    expect(content()).toBe(BEFORE);
    vi.mocked(fs.ftruncateSync).mockImplementationOnce(() => {
      throw systemError('EIO', 'ftruncate');
    });
    expect(refusalOf(write)).toMatchObject(unsure);
    expect(content()).toBe(BEFORE + LINE);
  });

  it('notices a program that wrote past the lock, and cuts nothing of it', () => {
    vi.mocked(fs.fsyncSync).mockImplementationOnce(() => fs.appendFileSync(file, 'theirs\n'));
    expect(refusalOf(write)).toMatchObject({
      code: 'record_disturbed',
      file,
      message: `${file} should have 27 bytes and has 34: another program wrote to it past the lock`,
      remedy: 'run holdfast record verify; a retry needs --id entry-000001',
    });
    expect(content()).toBe(`${BEFORE}${LINE}theirs\n`);
  });
});

describe('a torn tail that is set aside', () => {
  const TORN = 'a ne';
  const names = () => fs.readdirSync(path.dirname(file));

  it('stays where it is, and only there, where the disk takes nothing of its copy', () => {
    fs.appendFileSync(file, TORN);
    vi.mocked(fs.writeSync).mockReturnValueOnce(0);
    expect(() => setTornTailAside(fd, file, fileEnd(fd), 'entry-000001')).toThrow('nothing was written');
    expect(content()).toBe(BEFORE + TORN);
    expect(names()).toEqual(['2026.jsonl']);
  });

  it('is copied to its end where the disk takes it piece by piece', () => {
    fs.appendFileSync(file, TORN);
    vi.mocked(fs.writeSync).mockImplementationOnce((to, bytes) => {
      fs.appendFileSync(to, String(bytes).slice(0, 1));
      return 1;
    });
    const aside = setTornTailAside(fd, file, fileEnd(fd), 'entry-000001');
    expect(fs.readFileSync(aside, 'utf8')).toBe(TORN);
    expect(content()).toBe(BEFORE);
  });
});

describe('appendEntry', () => {
  const refused = (code: string) => ({ problems: [{ code }] });

  it('refuses where there is no room for a torn tail beside its file', async () => {
    const record = new TestRecord();
    await record.append();
    fs.appendFileSync(record.file(), '{"v":1');
    vi.mocked(fs.writeSync).mockReturnValueOnce(0);
    await expect(record.append()).rejects.toMatchObject(refused('record_disk_full'));
    expect(record.bytes().toString()).toMatch(/\n\{"v":1$/);
  });

  it('refuses where the file is cut while it is read', async () => {
    const record = new TestRecord();
    await record.append();
    vi.mocked(fs.readSync).mockReturnValue(0);
    await expect(record.append()).rejects.toMatchObject({
      problems: [
        { code: 'record_not_written', message: expect.stringMatching(/could not be written \(EIO\)$/) },
      ],
    });
    vi.mocked(fs.readSync).mockRestore();
    expect(record.lines()).toHaveLength(1);
  });

  it('passes on what is the program’s own fault, and blames no disk for it', async () => {
    const record = new TestRecord();
    await expect(record.append(usage(), { timeZone: 'Larkhill/Yard' })).rejects.toThrow(RangeError);
    await expect(record.append(usage(), { recordDir: 'a\0b' })).rejects.toThrow(TypeError);
  });

  it('has the disk keep the names above a line that is the first of its file, and of no other', async () => {
    const record = new TestRecord();
    const synced = async (now: Date) => {
      vi.mocked(fs.openSync).mockClear();
      await record.append(usage(), { now });
      const { calls } = vi.mocked(fs.openSync).mock;
      return calls.filter(([, flags]) => flags === fs.constants.O_RDONLY).map(([folder]) => folder);
    };
    const above = [path.dirname(record.file()), record.dir, record.home];
    expect(await synced(NOW)).toEqual(above);
    expect(await synced(NOW)).toEqual([]);
    expect(await synced(new Date('2027-02-01T08:00:00Z'))).toEqual(above);
  });

  it('calls a retry recorded only once the disk keeps what the earlier try wrote', async () => {
    const record = new TestRecord();
    const id = '20261125-081403127-abcdef';
    await record.append(usage(), { id });
    vi.mocked(fs.fsyncSync)
      .mockClear()
      .mockImplementationOnce(() => {
        throw systemError('EIO', 'fsync');
      });
    await expect(record.append(usage(), { id })).rejects.toMatchObject(refused('record_not_written'));
    expect(await record.append(usage(), { id })).toMatchObject({ already: true });
    expect(vi.mocked(fs.fsyncSync)).toHaveBeenCalledTimes(2);
  });

  it('looks once for a lock that another holds, where it may not wait', async () => {
    const record = new TestRecord();
    await record.append();
    const lock = await lockStation(path.dirname(record.file()));
    vi.mocked(fs.statSync).mockClear();
    await expect(record.append(usage(), { waitMs: 0 })).rejects.toMatchObject(refused('record_busy'));
    expect(vi.mocked(fs.statSync)).toHaveBeenCalledTimes(1);
    lock.release();
  });

  it('waits no longer than it may for one who is quicker in the folder that it has made itself', async () => {
    const record = new TestRecord();
    const folder = path.dirname(record.file());
    const quicker: Promise<Lock>[] = [];
    vi.mocked(fs.mkdirSync).mockImplementation((made, mode) => {
      makeFolder(made, mode);
      // The name is taken by the call itself.
      if (made === folder) quicker.push(lockStation(folder));
      return undefined;
    });
    await expect(record.append(usage(), { waitMs: 0 })).rejects.toMatchObject({
      problems: [{ code: 'record_busy', message: expect.stringMatching(/for 0 s$/) }],
    });
    expect(quicker).toHaveLength(1);
    for (const lock of await Promise.all(quicker)) lock.release();
  });
});
