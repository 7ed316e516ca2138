import {
  chmodSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { lineHash } from '../../src/record/chain.ts';
import { KeptHead, type Memory, memoryFile, recallHead } from '../../src/record/head.ts';
import { TestRecord } from './store-kit.ts';

const headOf = (letter: string, n: number) => ({
  head: letter.repeat(64),
  n,
  file: '2026.jsonl',
  byte: n * 300,
  length: 299,
});
const memoryOf = (letter: string, missing = 0): Memory => ({
  last: headOf(letter, 7),
  missing: Array.from({ length: missing }, (_, n) => headOf('f', n)),
});

function testRecord(): TestRecord {
  const record = new TestRecord();
  mkdirSync(record.dir);
  return record;
}

function kept(record: TestRecord, work: (head: KeptHead) => void): void {
  const head = new KeptHead(record.stateDir, record.dir, 'prep');
  work(head);
  head.close();
}

const recalled = (record: TestRecord) => recallHead(record.stateDir, record.dir, 'prep');

describe('a head held open', () => {
  it.each([
    ['nothing', null, memoryOf('a')],
    ['one as long', memoryOf('a'), memoryOf('b')],
    ['a shorter one', memoryOf('a'), memoryOf('b', 9)],
    ['a longer one', memoryOf('a', 9), memoryOf('b')],
    ['one that is longer than it is read at once', memoryOf('a', 40), memoryOf('b', 40)],
  ])('is remembered in place of %s', (_, before, after) => {
    const record = testRecord();
    if (before !== null) kept(record, head => expect(head.remember(before)).toBeNull());
    kept(record, head => {
      expect(head.memory).toEqual(before);
      expect(head.remember(after)).toBeNull();
    });
    expect(recalled(record)).toEqual(after);
  });

  it('is written over where it lies, and is put in place of a link instead of through it', () => {
    const record = testRecord();
    kept(record, head => head.remember(memoryOf('a')));
    const file = memoryFile(record.stateDir, record.dir, 'prep');
    const { ino } = lstatSync(file);
    kept(record, head => head.remember(memoryOf('b')));
    expect(lstatSync(file).ino).toBe(ino);
    const target = path.join(record.home, 'target');
    renameSync(file, target);
    symlinkSync(target, file);
    const there = readFileSync(target, 'utf8');
    kept(record, head => {
      expect(head.memory).toEqual(memoryOf('b'));
      expect(head.remember(memoryOf('c'))).toBeNull();
    });
    expect(readFileSync(target, 'utf8')).toBe(there);
    expect(lstatSync(file).isSymbolicLink()).toBe(false);
    expect(recalled(record)).toEqual(memoryOf('c'));
  });

  it('is read where it may only be read, and replaced', () => {
    const record = testRecord();
    kept(record, head => head.remember(memoryOf('a')));
    chmodSync(memoryFile(record.stateDir, record.dir, 'prep'), 0o400);
    kept(record, head => {
      expect(head.memory).toEqual(memoryOf('a'));
      expect(head.remember(memoryOf('b'))).toBeNull();
    });
    expect(recalled(record)).toEqual(memoryOf('b'));
  });

  it('says where it could not be remembered', () => {
    const record = testRecord();
    kept(record, head => head.remember(memoryOf('a')));
    const head = new KeptHead(record.stateDir, record.dir, 'prep');
    rmSync(record.dir, { recursive: true });
    expect(head.remember(memoryOf('b', 9))).toMatchObject({ code: 'head_not_kept' });
    head.close();
  });
});

describe('what is remembered', () => {
  /** Puts this in place of what is remembered, sealed as it should be. */
  function remembered(content: unknown): ReturnType<typeof recallHead> {
    const record = testRecord();
    kept(record, head => head.remember(memoryOf('a')));
    const json = JSON.stringify(content);
    writeFileSync(
      memoryFile(record.stateDir, record.dir, 'prep'),
      `${lineHash(Buffer.from(json))} ${json}   \n`,
    );
    return recalled(record);
  }
  const last = headOf('a', 7);

  it('is a head and those that were missing, and a number where there is one', () => {
    expect(remembered({ last, missing: [headOf('b', 3)] })).toEqual({ last, missing: [headOf('b', 3)] });
    expect(remembered({ last })).toEqual({ last, missing: [] });
    expect(remembered({ last: { ...last, n: 'seven' } })).toEqual({
      last: { ...last, n: null },
      missing: [],
    });
    expect(remembered({ last, missing: 'none' })).toEqual({ last, missing: [] });
    expect(remembered({ last, missing: [null, 7, headOf('b', 3), {}] })?.missing).toEqual([headOf('b', 3)]);
  });

  it.each([
    null,
    7,
    'last',
    [],
    {},
    { last: null },
    { last: 'a' },
    { last: { ...last, head: 7 } },
    { last: { ...last, file: 7 } },
    { last: { ...last, file: '../2026.jsonl' } },
    { last: { ...last, byte: '7' } },
    { last: { ...last, length: null } },
  ])('is nothing where a newer or a strange program has left %j', content => {
    expect(remembered(content)).toBeNull();
  });

  it('is for the person alone, and leaves nothing behind where it cannot be put in its place', () => {
    const record = testRecord();
    kept(record, head => head.remember(memoryOf('a')));
    const file = memoryFile(record.stateDir, record.dir, 'prep');
    expect(lstatSync(file).mode & 0o777).toBe(0o600);
    rmSync(file);
    mkdirSync(file);
    kept(record, head => expect(head.remember(memoryOf('b'))?.code).toBe('head_not_kept'));
    expect(readdirSync(record.stateDir)).toEqual([path.basename(file)]);
  });
});
