/** What a disk does that fails in the middle, which a real one does only under a tracer (test/faults). */
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Refusal } from '../../src/problem/problem.ts';
import { writeLine } from '../../src/record/write.ts';
import { tempFolder } from './store-kit.ts';

/** The problem that a refused piece of work names. */
function refusalOf(work: () => void) {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error.problems[0];
    throw error;
  }
  throw new Error('it was not refused');
}

const CALLS = ['writeSync', 'fsyncSync', 'ftruncateSync'] as const;

const failure = (code: string, syscall: string) => Object.assign(new Error(code), { code, syscall });
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

afterEach(() => {
  vi.restoreAllMocks();
  syncBuiltinESMExports();
  fs.closeSync(fd);
});

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
      throw failure('ENOSPC', 'write');
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
      throw failure('EIO', 'fsync');
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
      throw failure('EIO', 'fsync');
    });
    // Cut, but who knows whether the disk has that.
    expect(refusalOf(write)).toMatchObject(unsure);
    expect(content()).toBe(BEFORE);
    vi.mocked(fs.ftruncateSync).mockImplementationOnce(() => {
      throw failure('EIO', 'ftruncate');
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
