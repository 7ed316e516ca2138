/**
 * One append with a fault at every system call by which it touches the record: the disk is full, the disk fails, the
 * writer is killed. A first run under strace lists the calls; each is then made to fail in a run of its own.
 */
import { spawnSync } from 'node:child_process';
import { appendFileSync, cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { FaultRecord, runDriver, useDriver } from './kit.ts';

const CALLS = ['openat', 'write', 'fsync', 'ftruncate', 'mkdir', 'rename', 'read', 'pread64', 'unlink'];
const FAULTS = ['error=ENOSPC', 'error=EIO', 'signal=SIGKILL'];
const TORN = '{"v":1,"id":"20261125-0814';

const driver = useDriver();
const hasStrace = spawnSync('strace', ['-V']).status === 0;

interface Scene {
  readonly name: string;
  /** Lays the record out as it is before the append. */
  arrange(record: FaultRecord): void;
  /** The append's --id. */
  readonly id?: string;
}

const SCENES: Scene[] = [
  { name: 'the very first entry', arrange: () => {} },
  { name: 'one more entry', arrange: record => void runDriver(driver.script, [...record.args, '3']) },
  {
    name: 'one more entry with an id, typed again after the fault',
    arrange: record => void runDriver(driver.script, [...record.args, '3']),
    id: '20261125-081403127-again',
  },
  {
    name: 'a torn tail',
    arrange: record => {
      runDriver(driver.script, [...record.args, '3']);
      appendFileSync(path.join(record.folder, `${new Date().getFullYear()}.jsonl`), TORN);
    },
  },
  {
    name: 'an empty file left by a writer that was killed',
    arrange: record => {
      mkdirSync(record.folder, { recursive: true });
      appendFileSync(path.join(record.folder, `${new Date().getFullYear()}.jsonl`), '');
    },
  },
];

describe.skipIf(!hasStrace)('one append, a fault at every system call', () => {
  for (const scene of SCENES) {
    it(scene.name, () => {
      const template = new FaultRecord(mkdtempSync(path.join(driver.folder, 'scene-')));
      scene.arrange(template);
      const args = ['1', ...(scene.id === undefined ? [] : ['--id', scene.id])];
      const calls = callsOf(template, args);
      expect(calls.map(({ name }) => name)).toEqual(
        expect.arrayContaining(['openat', 'write', 'fsync', 'rename']),
      );
      let hits = 0;
      for (const call of calls) {
        for (const fault of FAULTS) hits += Number(tryFault(template, { args, calls: [call], fault }));
        // From here on everything of the kind fails, the cutting back too.
        if (call.name === 'write' || call.name === 'fsync') {
          const all = [call, { name: 'ftruncate', nth: 1 }];
          hits += Number(tryFault(template, { args, calls: all, fault: 'error=EIO', repeat: '+' }));
        }
      }
      // A run may count a call more or less before the record is touched; nearly all must hit.
      expect(hits).toBeGreaterThan(calls.length * FAULTS.length * 0.9);
    });
  }

  it('a file that may not grow: a short write', () => {
    const record = new FaultRecord(mkdtempSync(path.join(driver.folder, 'limit-')));
    runDriver(driver.script, [...record.args, '1']);
    const before = record.lines();
    // Blocks of 1024 bytes: the third line of some 350 bytes no longer fits.
    const limited = ['bash', '-c', 'ulimit -f 1; exec "$@"', 'limited'];
    const { said } = runDriver(driver.script, [...record.args, '5'], { wrapper: limited });
    const recorded = said.filter(line => line.startsWith('recorded'));
    expect(said.length).toBeGreaterThan(recorded.length);
    expect(said.at(-1)).toBe('refused 3 record_disk_full');
    expect(record.lines().length).toBe(before.length + recorded.length);
    expect(record.pieces()).toEqual([]);
    expectGoesOn(record);
  });
});

interface Call {
  readonly name: string;
  /** The n-th of its name in the process. */
  readonly nth: number;
}

/** The calls that touch the record or what is remembered of it, in a run without a fault. */
function callsOf(template: FaultRecord, args: readonly string[]): Call[] {
  const record = copyOf(template);
  const log = path.join(path.dirname(record.dir), 'log');
  runDriver(driver.script, [...record.args, ...args], {
    wrapper: ['strace', '-y', '-o', log, '-e', `trace=${CALLS.join()}`],
  });
  const counts = new Map<string, number>();
  const calls: Call[] = [];
  for (const line of readFileSync(log, 'utf8').split('\n')) {
    const name = /^(\w+)\(/.exec(line)?.[1];
    if (name === undefined) continue;
    const nth = (counts.get(name) ?? 0) + 1;
    counts.set(name, nth);
    if (line.includes(path.dirname(record.dir))) calls.push({ name, nth });
  }
  return calls;
}

interface Trial {
  readonly args: readonly string[];
  readonly calls: readonly Call[];
  readonly fault: string;
  readonly repeat?: string;
}

/** @returns whether the fault struck the record. */
function tryFault(template: FaultRecord, { args, calls, fault, repeat = '' }: Trial): boolean {
  const record = copyOf(template);
  const before = record.lines();
  const log = path.join(path.dirname(record.dir), 'log');
  const injections = calls.flatMap(({ name, nth }) => ['-e', `inject=${name}:${fault}:when=${nth}${repeat}`]);
  const wrapper = ['strace', '-y', '-o', log, '-e', `trace=${CALLS.join()}`, ...injections];
  const { said, status, stderr } = runDriver(driver.script, [...record.args, ...args], { wrapper });
  const label = `${calls.map(({ name, nth }) => `${name} ${nth}`).join(' and ')}: ${fault} → ${said} ${status} ${stderr}`;
  const trace = readFileSync(log, 'utf8').split('\n');
  const isKilled = fault.startsWith('signal');
  const struck = trace.some((line, i) =>
    isKilled
      ? /killed by SIGKILL/.test(line) && (trace[i - 1] ?? '').includes(path.dirname(record.dir))
      : /INJECTED/.test(line) && line.includes(path.dirname(record.dir)),
  );

  // What was there is there.
  const after = record.lines();
  expect(after.slice(0, before.length), label).toEqual(before);
  expect(after.length - before.length, label).toBeLessThanOrEqual(1);
  if (template.pieces().length > 0) expect(record.pieces(), label).toContain(TORN);

  // The word was true. A writer that was killed, or could not even read itself, gave none.
  const word = said[0]?.split(' ');
  if (word?.[0] === 'recorded') expect(record.ids(), label).toContain(word[1]);
  else if (word?.[0] === 'refused' && word[2] !== 'record_write_unsure') expect(after, label).toEqual(before);
  // Where every write fails from here on, it cannot speak either.
  else if (word === undefined && !isKilled && struck && repeat === '') expect.fail(`no word: ${label}`);

  const id = args[2];
  if (id !== undefined) {
    // Typed again: recognised where it is there, entered where it is not, never twice.
    const again = runDriver(driver.script, [...record.args, ...args]).said;
    expect(again, label).toEqual([`${after.length > before.length ? 'known' : 'recorded'} ${id}`]);
    expect(
      record.ids().filter(one => one === id),
      label,
    ).toEqual([id]);
  }
  expectGoesOn(record, label);
  return struck;
}

/** One more entry goes in, and the record is sound. */
function expectGoesOn(record: FaultRecord, label = ''): void {
  const count = record.lines().length;
  const { said, stderr } = runDriver(driver.script, [...record.args, '1']);
  expect(said, `${label} ${stderr}`).toMatchObject([expect.stringMatching(/^recorded /)]);
  expect(record.lines().length, label).toBe(count + 1);
  record.expectSound();
}

function copyOf(template: FaultRecord): FaultRecord {
  const record = new FaultRecord(mkdtempSync(path.join(driver.folder, 'run-')));
  if (existsSync(template.dir)) cpSync(template.dir, record.dir, { recursive: true });
  return record;
}
