/** The entry that the benches of the record append, in process, and who asks for it in a process of its own. */
import { useQuickOffsets } from '../../src/calendar/zone.ts';
import { offsetsByProcess } from '../../src/process-zone.ts';
import { appendEntry } from '../../src/record/append.ts';

export const INVENTORY = '0123456789abcdef0123456789abcdef01234567';

// As main has it.
useQuickOffsets(offsetsByProcess(process.env));

export async function appendOne(recordDir: string, stateDir: string): Promise<void> {
  await appendEntry({
    recordDir,
    station: 'prep',
    draft: { kind: 'withdraw', by: 'A. Byrne', asset: 'bain-1', because: 'cracked', inventory: INVENTORY },
    now: new Date(),
    timeZone: 'Europe/Dublin',
    stateDir,
  });
}

/** One of several writers: `main.cjs write RECORD STATE COUNT`. */
export async function appendMany([
  recordDir = '',
  stateDir = '',
  count = '',
]: readonly string[]): Promise<void> {
  for (let i = 0; i < Number(count); i++) await appendOne(recordDir, stateDir);
}
