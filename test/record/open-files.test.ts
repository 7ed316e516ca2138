/** Another program may use the record for days on end: a file left open at every look would in the end stop it. */
import {
  appendFileSync,
  closeSync,
  openSync,
  readdirSync,
  renameSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../src/record/read.ts';
import { fileEnd, setTornTailAside } from '../../src/record/tail.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { TestRecord, TIME_ZONE, usage } from './store-kit.ts';

const RUNS = 8;

/** Whether a piece of work leaves a file open each time, whether it succeeds or not. */
async function leavesOpen(work: (run: number) => unknown): Promise<boolean> {
  const open = () => readdirSync('/proc/self/fd').length;
  const before = open();
  for (let run = 0; run < RUNS; run++) {
    try {
      await work(run);
    } catch {
      // Refused; what it had opened is closed all the same.
    }
  }
  // The process itself may open or close one meanwhile.
  return open() - before > RUNS / 2;
}

const IN_2027 = new Date('2027-02-01T08:00:00Z');

/** Two years of a station. */
async function record(): Promise<TestRecord> {
  const made = new TestRecord();
  await made.fill(3);
  await made.append(usage(), { now: IN_2027 });
  return made;
}

const verify = (made: TestRecord) => verifyRecord(made.dir, { stateDir: null });

describe.skipIf(process.platform !== 'linux')('no file is left open', () => {
  it('by reading and verifying, also what is damaged', async () => {
    const made = await record();
    expect(await leavesOpen(() => verify(made))).toBe(false);
    expect(await leavesOpen(() => readRecord(made.dir, { timeZone: TIME_ZONE }))).toBe(false);
    expect(await leavesOpen(() => readRecord(made.dir, { timeZone: TIME_ZONE, checkChain: false }))).toBe(
      false,
    );
    made.write(made.lines().toSpliced(1, 1));
    expect(verify(made).damage).toHaveLength(1);
    expect(await leavesOpen(() => verify(made))).toBe(false);
  });

  it('by an entry, also where the last line is in an older file or the one seen last is looked for', async () => {
    const made = await record();
    writeFileSync(made.file(2028), '');
    const now = new Date('2028-02-01T08:00:00Z');
    expect(await leavesOpen(() => made.append(usage(), { now, stateDir: null }))).toBe(false);
    const elsewhere = path.join(made.home, 'elsewhere');
    const bothInTurn = async () => {
      await made.append(usage(), { now });
      await made.append(usage(), { now, stateDir: elsewhere });
    };
    expect(await leavesOpen(bothInTurn)).toBe(false);
    const emptied = () => {
      writeFileSync(made.file(2028), '');
      return made.append(usage(), { now, stateDir: null });
    };
    expect(await leavesOpen(emptied)).toBe(false);
    const inNewYear = (run: number) =>
      made.append(usage(), { now: new Date(`${2029 + run}-02-01T08:00:00Z`), stateDir: null });
    expect(await leavesOpen(inNewYear)).toBe(false);
  });

  it('by a retry', async () => {
    const made = await record();
    const id = '20261125-081403127-abcdef';
    await made.append(usage(), { id });
    expect(await leavesOpen(() => made.append(usage(), { id }))).toBe(false);
  });

  it('where an entry is refused', async () => {
    const made = await record();
    appendFileSync(made.file(2027), 'hello\n');
    await expect(made.append(usage(), { now: IN_2027 })).rejects.toThrow(/is not as it was written/);
    expect(await leavesOpen(() => made.append(usage(), { now: IN_2027 }))).toBe(false);
    const moved = path.join(made.home, 'moved');
    renameSync(made.file(2027), moved);
    symlinkSync(moved, made.file(2027));
    expect(await leavesOpen(() => made.append(usage(), { now: IN_2027 }))).toBe(false);
    expect(await leavesOpen(() => verify(made))).toBe(false);
  });

  it('where a torn tail is set aside or cannot be', async () => {
    const made = await record();
    const tear = (now: Date) => {
      appendFileSync(made.file(2027), '{"v":1');
      return made.append(usage(), { now });
    };
    expect(await leavesOpen(() => tear(IN_2027))).toBe(false);
    appendFileSync(made.file(2027), '{"v":1');
    const fd = openSync(made.file(2027), 'r');
    expect(await leavesOpen(run => setTornTailAside(fd, made.file(2027), fileEnd(fd), `id-${run}`))).toBe(
      false,
    );
    closeSync(fd);
  });
});
