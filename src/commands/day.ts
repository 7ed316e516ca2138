/** `holdfast day LIST`: the day's cases planned as a whole, and the technician's morning list. */
import { isUtf8 } from 'node:buffer';
import { existsSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { Command, Option } from 'commander';
import { parseDate } from '../calendar/date.ts';
import { type CalendarDate, timestampIn, todayIn } from '../calendar/zone.ts';
import { type Day, hasDayStop, planDay } from '../day/day.ts';
import { type ListKind, readDayList } from '../day/list/list.ts';
import { Source } from '../inventory/source.ts';
import { NO_RECORD } from '../plan/request.ts';
import { fileProblem, Refusal, refuse } from '../problem/problem.ts';
import { countedOn } from '../record/future.ts';
import { stateFolder } from '../record/head.ts';
import { readRecord } from '../record/read.ts';
import { renderDayCsv } from '../report/day-csv.ts';
import { renderDayHtml } from '../report/day-html.ts';
import { renderDayJson } from '../report/day-json.ts';
import { renderDayText } from '../report/day-text.ts';
import { daySummary } from '../report/day-words.ts';
import { writeFileWhole } from '../report/out-file.ts';
import type { Context } from './context.ts';
import { statesOf } from './equipment-state.ts';
import { type FileOptions, inventoryOption, openInventory, recordOption, recordToRead } from './files.ts';
import { warnOfDamage } from './record/opened.ts';

const FORMATS = ['text', 'json', 'csv', 'html'] as const;
type Format = (typeof FORMATS)[number];

interface DayOptions extends FileOptions {
  date?: string;
  format?: Format;
  out?: string;
  json?: boolean;
}

const EXAMPLES = `
The list, as CSV (commas or semicolons), or as YAML with the same keys under
patients:
  ref,species,weight,start,minutes,machine,agent,setting
  K-101,cat,4.2kg,08:30,40,,isoflurane,2
  K-102,dog,31kg,08:30,90,theatre-1,isoflurane,1.5
  K-103,dog,7.4kg,09:15,45,,,
Needed: ref, species, weight, start, minutes. Optional: machine, circuit, agent,
setting, ideal_weight, confirm_weight (yes).
The earliest case takes the first of its circuits and machines with which all
others can still be served, then the next case, and so on.
Exit code: 0 all planned, 1 something to act on, 2 or 3 not done.

Examples:
  holdfast day monday.csv
  holdfast day monday.csv --date 2026-11-30 --format html --out monday.html`;

export function command(context: Context): Command {
  const day = new Command('day')
    .description(
      "Plans a day's list as a whole: who gets which machine, circuit and bag, what clashes, what runs out, and what to do before each case.",
    )
    .argument('<list>', "the day's list, .csv or .yaml")
    .option('--date <date>', 'the date of the list (YYYY-MM-DD); else today')
    .addOption(new Option('--format <format>', 'how to print it; else text').choices(FORMATS))
    .option('--out <file>', 'write it into a file, whole or not at all, and print one line')
    .option('--json', 'the same as --format json')
    .addHelpText('after', EXAMPLES)
    .action((list: string, options: DayOptions) => runDay(list, options, context));
  return recordOption(inventoryOption(day));
}

function runDay(list: string, options: DayOptions, context: Context): void {
  const now = context.now();
  const format = readFormat(options);
  const asked = options.date === undefined ? null : readDate(options.date);
  const inventory = openInventory(context, options, now);
  const { timeZone } = inventory.practice;
  // The inventory's loader has refused a zone that there is none of.
  const today = todayIn(timeZone, now) ?? now.toISOString().slice(0, 10);
  const date = asked ?? today;
  const kind = kindOf(list);
  const read = readDayList(kind, { source: readList(list, context.cwd), inventory, date });
  if (!read.ok) throw new Refusal(read.problems);

  const folder = recordToRead(context, options, inventory.file);
  const record = readRecord(folder, { timeZone, stateDir: stateFolder(context.env) });
  warnOfDamage(record, context);
  // Equipment that is looked at for a day to come is due what is due by then.
  const isPast = date < today;
  const damaged = record.damage.length > 0;
  const counted = countedOn(record.entries, today);
  const equipmentOn = (asOf: CalendarDate) =>
    record.exists ? statesOf(inventory, counted, { now: today, today: asOf, damaged }) : () => NO_RECORD;
  const day = planDay({
    inventory,
    date,
    isPast,
    at: timestampIn(timeZone, now),
    cases: read.cases,
    equipmentFor: equipmentOn(isPast ? today : date),
    equipmentToday: date > today ? equipmentOn(today)(null) : null,
  });
  print(day, format, options, context);
  context.exitCode = hasDayStop(day) ? 1 : 0;
}

function print(day: Day, format: Format, { out }: DayOptions, context: Context): void {
  const text = rendered(day, format, out === undefined ? context : { width: 80, colour: false });
  if (out === undefined) context.out(text);
  else {
    writeFileWhole(path.resolve(context.cwd, out), text);
    context.out(`${daySummary(day)}\n`);
  }
}

function rendered(day: Day, format: Format, view: { width: number; colour: boolean }): string {
  switch (format) {
    case 'text':
      return renderDayText(day, view);
    case 'json':
      return renderDayJson(day);
    case 'csv':
      return renderDayCsv(day);
    case 'html':
      return renderDayHtml(day);
  }
}

function readFormat({ format, json }: DayOptions): Format {
  if (json && format !== undefined && format !== 'json') {
    refuse('options_clash', `--json and --format ${format} do not go together`, 'leave one of them out');
  }
  return json ? 'json' : (format ?? 'text');
}

function readDate(text: string): CalendarDate {
  const message = `--date takes a date of the calendar, not '${text}'`;
  return parseDate(text) ?? refuse('time_not_understood', message, 'write it as --date 2026-11-30');
}

function kindOf(list: string): ListKind {
  const ending = path.extname(list).toLowerCase();
  if (ending === '.csv') return 'csv';
  if (ending === '.yaml' || ending === '.yml') return 'yaml';
  throw listRefusal(
    'list_kind',
    list,
    `${list} is neither .csv nor .yaml`,
    'save the list as CSV, or write it as YAML',
  );
}

const MOST_BYTES = 1024 * 1024;

/** The text of a list. @throws Refusal where it cannot be read */
function readList(list: string, cwd: string): Source {
  const bytes = readBytes(list, path.resolve(cwd, list));
  const isUtf16 = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  if (isUtf16 || !isUtf8(bytes)) {
    const what = isUtf16
      ? `${list} is UTF-16`
      : `${list} holds bytes that are not UTF-8, first on line ${badLine(bytes)}`;
    throw listRefusal(
      'list_not_utf8',
      list,
      what,
      'save it as CSV UTF-8; spreadsheets offer this beside plain CSV',
    );
  }
  return new Source(list, new TextDecoder().decode(bytes));
}

function readBytes(list: string, file: string): Buffer {
  if (!existsSync(file))
    throw listRefusal('list_not_readable', list, `${list} does not exist`, 'check the path');
  let bytes: Buffer;
  try {
    const stat = statSync(file);
    if (!stat.isFile())
      throw listRefusal('list_not_readable', list, `${list} is no file`, 'name the list itself');
    if (stat.size > MOST_BYTES) {
      const message = `${list} has ${stat.size} bytes; a list has at most ${MOST_BYTES}`;
      throw listRefusal('list_too_large', list, message, 'check that it is the right file');
    }
    bytes = readFileSync(file);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    const code = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    throw listRefusal('list_not_readable', list, `${list} cannot be read (${code})`, 'check its permissions');
  }
  return bytes;
}

function badLine(bytes: Buffer): number {
  let line = 1;
  for (let from = 0; ; line++) {
    const end = bytes.indexOf(0x0a, from);
    if (end === -1 || !isUtf8(bytes.subarray(from, end))) return line;
    from = end + 1;
  }
}

function listRefusal(
  code: 'list_kind' | 'list_not_readable' | 'list_not_utf8' | 'list_too_large',
  list: string,
  message: string,
  remedy: string,
): Refusal {
  return new Refusal([fileProblem(code, list, message, remedy)]);
}
