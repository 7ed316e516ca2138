/**
 * The due report for a person: one line that says it all, then the assets, the worst first. Words say what colour says.
 */
import { Chalk, type ChalkInstance } from 'chalk';
import { groupBy } from '../due/group.ts';
import type { DueCaution, DueItem, DueReport, PracticeDue } from '../due/item.ts';
import {
  assetWords,
  countWords,
  dateWords,
  latenessWords,
  STRUCTURE_ONLY,
  stateWords,
  stationWords,
  summaryWords,
} from './due-words.ts';
import { safeText } from './safe-text.ts';
import { padEnd, wrap } from './text.ts';

export interface DueView {
  /** Columns of the terminal; the report never uses more than 80. */
  readonly width: number;
  readonly colour: boolean;
}

const WIDEST = 80;
const LABEL_WIDTH = 9;
/** Where the words stand, behind indent and label. */
const HANGING = ' '.repeat(LABEL_WIDTH + 4);

/** The report as text, with a line break at its end. */
export function renderDueText(report: DueReport, { width, colour }: DueView): string {
  const page: Page = { width: Math.min(width, WIDEST), chalk: new Chalk({ level: colour ? 1 : 0 }) };
  const several = report.practices.length > 1;
  const blocks = [
    [page.chalk.bold(wrap(summaryWords(report.practices), page.width))],
    ...report.practices.flatMap(due => practiceBlocks(due, several, page)),
  ];
  return `${blocks.map(block => block.join('\n')).join('\n\n')}\n`;
}

interface Page {
  readonly width: number;
  readonly chalk: ChalkInstance;
}

function practiceBlocks(due: PracticeDue, several: boolean, page: Page): string[][] {
  const { chalk, width } = page;
  const heading = [chalk.bold(wrap(safeText(`${due.practice}, ${dateWords(due.asOf)}`), width))];
  if (several) heading.push(wrap(countWords(due.items), width));
  // What makes everything below doubtful comes before it.
  const first = due.cautions.filter(({ code }) => code === 'record_damaged' || code === 'no_record');
  const last = due.cautions.filter(caution => !first.includes(caution));
  return [
    heading,
    first.map(caution => cautionLine(caution, page)),
    ...[...groupBy(due.items, ({ asset }) => asset.id).values()].map(items => assetBlock(items, page)),
    last.map(caution => cautionLine(caution, page)),
    recordBlock(due, page),
  ].filter(block => block.length > 0);
}

function cautionLine({ code, message }: DueCaution, { width, chalk }: Page): string {
  if (code === 'record_damaged') {
    const text = `RECORD DAMAGED: ${message}. What stands below may be wrong. Run: holdfast record verify`;
    return chalk.red.bold(wrap(safeText(text), width, '', '  '));
  }
  return chalk.yellow(
    wrap(safeText(`${code === 'no_record' ? 'NOTE' : 'CAUTION'}: ${message}`), width, '', '  '),
  );
}

function assetBlock(items: readonly DueItem[], page: Page): string[] {
  const [first] = items;
  if (first === undefined) return [];
  const { asset } = first;
  const heading = wrap(safeText(`${asset.id} (${assetWords(asset)})`), page.width, '', '  ');
  const lines = [...groupBy(items, lineKey).values()].map(together => itemLines(together, page));
  return [page.chalk.bold(heading), ...lines];
}

/** Items share a line where all that is said of them is the same, and where their asset is out of service. */
function lineKey(item: DueItem): string {
  const { state, dueOn, because, check } = item;
  if (state === 'withdrawn') return state;
  return isPlain(item) ? `${state} ${latenessWords(item)}` : `${state} ${dueOn} ${because} ${check.blocks}`;
}

/** In order, and nothing to say but the date. */
function isPlain({ state, used }: DueItem): boolean {
  return state === 'ok' && used === null;
}

function itemLines(together: readonly DueItem[], page: Page): string {
  const [item] = together;
  if (item === undefined) return '';
  const label = stateWords(item);
  const labelled = `  ${padEnd(label, LABEL_WIDTH)}  `;
  const text = wordsOf(item, together.map(({ check }) => check.id).join(', '))
    .map((words, i) => wrap(safeText(words), page.width, i === 0 ? labelled : HANGING, HANGING))
    .join('\n');
  return text.replace(label, colourOf(item, page.chalk)(label));
}

/** What stands behind the label: the checks and their date, then why. */
function wordsOf(item: DueItem, checks: string): string[] {
  const { state, because, check } = item;
  if (state === 'withdrawn') return [because, `(${checks})`];
  const first = `${checks}: ${latenessWords(item)}`;
  if (isPlain(item)) return [first];
  const stops = check.blocks && state === 'overdue' ? '. Plans stop until it is done' : '';
  return [first, `${because}${stops}`];
}

function colourOf({ state, isUseUnknown }: DueItem, chalk: ChalkInstance): (text: string) => string {
  if (state === 'overdue') return chalk.red.bold;
  if (state === 'due' || isUseUnknown) return chalk.yellow.bold;
  return { soon: chalk.cyan, ok: chalk.green, withdrawn: chalk.dim }[state];
}

function recordBlock({ record, stations }: PracticeDue, { width, chalk }: Page): string[] {
  if (record === 'none' || stations.length === 0) return [];
  const lines = stations.map(station => wrap(safeText(`  ${stationWords(station)}`), width, '', '    '));
  return ['Record', ...lines, wrap(STRUCTURE_ONLY, width, '  ')].map(line => chalk.dim(line));
}
