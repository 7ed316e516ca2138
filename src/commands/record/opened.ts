/** What the commands that read the record have in common: inventory, entries, standing, and a loud word on damage. */
import { parseDate } from '../../calendar/date.ts';
import { type CalendarDate, timestampIn } from '../../calendar/zone.ts';
import type { Inventory } from '../../inventory/inventory.ts';
import { problem, refuse } from '../../problem/problem.ts';
import { stateFolder } from '../../record/head.ts';
import { type RecordRead, readRecord } from '../../record/read.ts';
import { foldStanding } from '../../record/standing.ts';
import type { Standing } from '../../record/standing-types.ts';
import { printCautions } from '../../report/cautions.ts';
import { type RecordState, recordDamagedLine } from '../../report/record-damaged.ts';
import type { Context } from '../context.ts';
import { type FileOptions, openInventory, recordToRead } from '../files.ts';

export interface Opened {
  readonly inventory: Inventory;
  readonly record: RecordRead;
  readonly standing: Standing;
  readonly today: CalendarDate;
  /** Whether there is a record folder, and whether what it says can be relied on. */
  readonly state: RecordState;
}

/**
 * Reads inventory and record. A damaged record is read as far as it can be, with a warning on stderr, and the exit code is 1:
 * there is something to act on, whatever the command finds. That stdout says so too is for `printText` and the JSON documents.
 *
 * @throws Refusal: exit 2 for the inventory, exit 3 for a record that cannot be read.
 */
export function openForReading(context: Context, options: FileOptions): Opened {
  const now = context.now();
  const inventory = openInventory(context, options, now);
  const { timeZone } = inventory.practice;
  const record = readRecord(recordToRead(context, options, inventory.file), {
    timeZone,
    stateDir: stateFolder(context.env),
  });
  warnOfDamage(record, context);
  const state = recordState(record);
  if (state === 'damaged') context.exitCode = 1;
  return {
    inventory,
    record,
    standing: foldStanding(inventory, record.entries),
    today: timestampIn(timeZone, now).slice(0, 10),
    state,
  };
}

/** Whether there is a record, and whether what it says can be relied on. */
export function recordState({ exists, damage }: Pick<RecordRead, 'exists' | 'damage'>): RecordState {
  // A record that is gone as a whole, though it was seen before, is damaged too.
  if (damage.length > 0) return 'damaged';
  return exists ? 'read' : 'none';
}

/** A result for a person on stdout, below a line on the damage where there is some: stderr is often not seen. */
export function printText(
  { damage }: Pick<RecordRead, 'damage'>,
  text: string,
  context: Pick<Context, 'out' | 'width'>,
): void {
  context.out(`${damage.length > 0 ? recordDamagedLine(context.width) : ''}${text}`);
}

/** Says loudly that what follows cannot be relied on. */
export function warnOfDamage({ damage, cautions }: RecordRead, context: Context): void {
  const [first] = damage;
  if (first !== undefined) {
    const places = damage.length === 1 ? 'in one place' : `in ${damage.length} places`;
    const message = `THE RECORD IS DAMAGED ${places}; nothing it says can be relied on. The first: ${first.message}`;
    const { file, line, column } = first;
    printCautions(
      [{ ...problem('record_damaged', message, 'run holdfast record verify'), file, line, column }],
      context,
    );
  }
  printCautions(cautions, context);
}

/** `--since`. @throws Refusal `time_not_understood` */
export function readSince(text: string | undefined): CalendarDate | null {
  if (text === undefined) return null;
  const message = `--since takes a date of the calendar, not '${text}'`;
  return parseDate(text) ?? refuse('time_not_understood', message, 'write it as --since 2026-11-01');
}
