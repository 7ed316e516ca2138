/** `holdfast due`: every check of every asset with its next date and state. The report that runs at night. */
import path from 'node:path';
import { Command, Option } from 'commander';
import { parseDate } from '../calendar/date.ts';
import { type CalendarDate, todayIn } from '../calendar/zone.ts';
import type { DueFilter } from '../due/filter.ts';
import { DUE_STATES, type DueReport, type DueState, type PracticeDue } from '../due/item.ts';
import { practiceDue } from '../due/practice-due.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { loadInventory } from '../inventory/load.ts';
import { didYouMean } from '../problem/nearest.ts';
import { type Problem, Refusal, refuse } from '../problem/problem.ts';
import { scanRecord } from '../record/scan/scan.ts';
import { renderDueCsv } from '../report/due-csv.ts';
import { renderDueIcs } from '../report/due-ics.ts';
import { renderDueJson } from '../report/due-json.ts';
import { renderDueMarkdown } from '../report/due-markdown.ts';
import { renderDueText } from '../report/due-text.ts';
import { summaryLine } from '../report/due-words.ts';
import { writeFileWhole } from '../report/out-file.ts';
import { renderProblems } from '../report/problems.ts';
import type { Context } from './context.ts';
import { inventoryFile, recordOption, recordToRead } from './files.ts';
import { recordState } from './record/opened.ts';

const FORMATS = ['text', 'json', 'markdown', 'csv', 'ics'] as const;
type Format = (typeof FORMATS)[number];

interface DueOptions {
  asOf?: string;
  soon?: string;
  format?: Format;
  inventory?: string[];
  record?: string;
  asset?: string[];
  check?: string[];
  state?: string[];
  out?: string;
  quiet?: boolean;
  json?: boolean;
}

const EXAMPLES = `
Several ids or states: repeat the option, or part them by commas.
Exit code: 0 nothing overdue or due, 1 something is or the record is damaged,
2 or 3 not done.

Examples:
  what is late, and what comes within two weeks:
  holdfast due --soon 14
  what to act on today, for a chat or an issue:
  holdfast due --state overdue,due --format markdown`;

export function command(context: Context): Command {
  const due = new Command('due')
    .description('Says of every check of every asset when it is due, the worst first.')
    .option('--as-of <date>', 'how it stood or will stand on this date (YYYY-MM-DD); else today')
    .option('--soon <days>', 'what is due within so many days is shown as soon; else 7')
    .addOption(new Option('--format <format>', 'how to print it; else text').choices(FORMATS))
    .option('--inventory <file>', 'the inventory; repeat it for one report of several practices', collect)
    .option('--asset <id>', 'only this asset', collectList)
    .option('--check <id>', 'only this check', collectList)
    .option('--state <state>', `only this state: ${DUE_STATES.join(', ')}`, collectList)
    .option('--out <file>', 'write the report into a file, whole or not at all, and print one line')
    .option('--quiet', 'print one line of text only')
    .option('--json', 'the same as --format json')
    .addHelpText('after', EXAMPLES)
    .action((options: DueOptions) => runDue(options, context));
  return recordOption(due);
}

function collect(value: string, before: string[] = []): string[] {
  return [...before, value];
}

function collectList(value: string, before: string[] = []): string[] {
  return [...before, ...value.split(',').filter(word => word !== '')];
}

function runDue(options: DueOptions, context: Context): void {
  const now = context.now();
  const format = readFormat(options);
  ensureOneLineIsText(options, format);
  const soonDays = readSoon(options.soon ?? '7');
  const asOf = options.asOf === undefined ? null : readDate(options.asOf);
  const inventories = openInventories(options, context, now);
  const filter = readFilter(options, inventories);
  const practices = inventories.map(inventory =>
    onePractice(inventory, { options, context, now, asOf, soonDays, filter }),
  );
  const report: DueReport = { asOf: asOf ?? practices[0]?.asOf ?? '', madeAt: now, practices };
  print(report, format, options, context);
  context.exitCode = practices.some(isToActOn) ? 1 : 0;
}

/** A damaged record is something to act on, whatever it says of the checks. */
function isToActOn({ counts, record }: PracticeDue): boolean {
  return counts.overdue + counts.due > 0 || record === 'damaged';
}

function print(report: DueReport, format: Format, options: DueOptions, context: Context): void {
  const line = `${summaryLine(report)}\n`;
  const text = () => rendered(report, format, context, options.out === undefined);
  if (options.out !== undefined) writeFileWhole(path.resolve(context.cwd, options.out), text());
  context.out(options.out === undefined && !options.quiet ? text() : line);
}

function rendered(report: DueReport, format: Format, context: Context, isForScreen: boolean): string {
  switch (format) {
    case 'text':
      return renderDueText(report, isForScreen ? context : { width: 80, colour: false });
    case 'json':
      return renderDueJson(report);
    case 'markdown':
      return renderDueMarkdown(report);
    case 'csv':
      return renderDueCsv(report);
    case 'ics':
      return renderDueIcs(report);
  }
}

interface PracticeAsk {
  readonly options: DueOptions;
  readonly context: Context;
  readonly now: Date;
  readonly asOf: CalendarDate | null;
  readonly soonDays: number;
  readonly filter: DueFilter;
}

function onePractice(
  inventory: Inventory,
  { options, context, now, asOf, soonDays, filter }: PracticeAsk,
): PracticeDue {
  const { timeZone } = inventory.practice;
  // The inventory's loader has refused a zone that there is none of.
  const today = todayIn(timeZone, now) ?? now.toISOString().slice(0, 10);
  const folder = recordToRead(context, { record: options.record }, inventory.file);
  const record = scanRecord(folder, { inventory, today, asOf: asOf ?? today });
  // The screen says of damage by itself; whoever sends the report elsewhere is told here.
  const isOnScreen = readFormat(options) === 'text' && options.out === undefined && !options.quiet;
  const problems = [...record.cautions, ...(isOnScreen ? [] : record.damage)];
  if (problems.length > 0) context.err(renderProblems(problems, context.width));
  return practiceDue({
    inventory,
    record: {
      folder,
      state: recordState(record),
      standing: record.standing,
      future: record.future,
      stations: record.stations,
      damage: record.damage.map(({ file, message }) => (file === null ? message : `${file}: ${message}`)),
    },
    today,
    asOf: asOf ?? today,
    soonDays,
    filter,
  });
}

function readFormat({ format, json }: DueOptions): Format {
  if (json && format !== undefined && format !== 'json') {
    refuse('options_clash', `--json and --format ${format} do not go together`, 'leave one of them out');
  }
  return json ? 'json' : (format ?? 'text');
}

/** A report asked for in a format must not come as another one; into a file it goes whole, and the line is shown besides. */
function ensureOneLineIsText({ quiet, out, json }: DueOptions, format: Format): void {
  if (!quiet || out !== undefined || format === 'text') return;
  refuse(
    'options_clash',
    `--quiet prints one line of text, and ${json ? '--json' : `--format ${format}`} is asked for`,
    'leave one of them out, or write the report into a file with --out FILE',
  );
}

function readSoon(text: string): number {
  if (/^\d{1,4}$/.test(text)) return Number(text);
  return refuse('option_value', `--soon takes whole days, 0 to 9999, not '${text}'`, 'write it as --soon 14');
}

function readDate(text: string): CalendarDate {
  const message = `--as-of takes a date of the calendar, not '${text}'`;
  return parseDate(text) ?? refuse('time_not_understood', message, 'write it as --as-of 2026-11-25');
}

/** All inventories, or all that is wrong with any of them. */
function openInventories({ inventory = [], record }: DueOptions, context: Context, now: Date): Inventory[] {
  if (inventory.includes('')) {
    const message = '--inventory wants the name of a file, and got an empty text';
    refuse('option_value', message, 'write it as --inventory inventory.yaml, or leave it out');
  }
  if (inventory.length > 1) refuseOneRecord(record, context);
  const files = inventory.length > 0 ? [...new Set(inventory)] : [inventoryFile(context, {})];
  const inventories: Inventory[] = [];
  const problems: Problem[] = [];
  for (const file of files) {
    const loaded = loadInventory(file, zone => todayIn(zone, now));
    if (loaded.ok) inventories.push(loaded.inventory);
    else problems.push(...loaded.problems);
  }
  if (problems.length > 0) throw new Refusal(problems);
  return inventories;
}

/** One record cannot be that of several practices: entries of one would count for the other. */
function refuseOneRecord(record: string | undefined, { env }: Context): void {
  const name = record !== undefined ? '--record' : env.HOLDFAST_RECORD ? 'HOLDFAST_RECORD' : null;
  if (name === null) return;
  const message = `${name} names one record, and there are several inventories`;
  refuse('options_clash', message, `leave ${name} out: each inventory has its record beside it, in record/`);
}

function readFilter(
  { asset = [], check = [], state = [] }: DueOptions,
  inventories: readonly Inventory[],
): DueFilter {
  const assets = inventories.flatMap(inventory => [...inventory.assets.keys()]);
  const checks = inventories.flatMap(inventory => inventory.checks.map(({ id }) => id));
  for (const id of asset) {
    if (!assets.includes(id))
      refuse('asset_unknown', `no asset '${id}' in the inventory`, didYouMean(id, assets));
  }
  for (const id of check) {
    if (!checks.includes(id))
      refuse('check_unknown', `no check '${id}' in the inventory`, didYouMean(id, checks));
  }
  return { assets: asset, checks: check, states: state.map(readState) };
}

function readState(word: string): DueState {
  const state = DUE_STATES.find(known => known === word);
  return (
    state ??
    refuse(
      'option_value',
      `--state takes ${DUE_STATES.join(', ')}, not '${word}'`,
      didYouMean(word, DUE_STATES),
    )
  );
}
