/**
 * A writer in a process of its own, for the tests that kill it and fail its system calls.
 *
 *   node driver.cjs RECORD STATION STATE COUNT [--id ID] [--note TEXT] [--hold MS]
 *
 * Prints a line for each entry: `recorded ID`, `known ID`, or `refused EXIT CODE`. With --hold it takes the lock, prints
 * `holding`, and keeps it.
 */
import { writeSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { Refusal } from '../../src/problem/problem.ts';
import { appendEntry } from '../../src/record/append.ts';
import { ensureStationFolder } from '../../src/record/folder.ts';
import { lockStation } from '../../src/record/lock.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    id: { type: 'string' },
    note: { type: 'string' },
    hold: { type: 'string' },
    wait: { type: 'string' },
  },
});
const [recordDir = '', station = '', stateDir = '', count = '1'] = positionals;
const waitMs = values.wait === undefined ? undefined : Number(values.wait);

/** Straight to the descriptor: what was said must have been said even if the next call is the last. */
function say(line: string): void {
  writeSync(1, `${line}\n`);
}

async function main(): Promise<void> {
  if (values.hold !== undefined) {
    const lock = await lockStation(ensureStationFolder(recordDir, station), { waitMs });
    say('holding');
    setTimeout(() => lock.release(), Number(values.hold));
    return;
  }
  for (let i = 0; i < Number(count); i++) await appendOne();
}

async function appendOne(): Promise<void> {
  try {
    const { entry, already } = await appendEntry({
      recordDir,
      station,
      stateDir: stateDir === '' ? null : stateDir,
      now: new Date(),
      timeZone: 'Europe/Dublin',
      id: values.id,
      waitMs,
      draft: {
        kind: 'withdraw',
        by: 'A. Byrne',
        ...(values.note === undefined ? {} : { note: values.note }),
        asset: 'bain-1',
        because: 'cracked',
        inventory: '0123456789abcdef0123456789abcdef01234567',
      },
    });
    say(`${already ? 'known' : 'recorded'} ${entry.id}`);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    say(`refused ${error.exitCode} ${error.problems[0]?.code}`);
    process.exitCode = error.exitCode;
  }
}

void main();
