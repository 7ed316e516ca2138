/** A day's plan for a person: what stops it, the timeline, the cases, the morning list, what runs out. */
import { Chalk, type ChalkInstance } from 'chalk';
import type { Day, PlannedCase, UnplannedCase } from '../day/day.ts';
import type { Level } from '../problem/codes.ts';
import { renderTimeline } from './day-timeline.ts';
import {
  bagWords,
  cautionWords,
  circuitWords,
  clashWords,
  clock,
  daySummary,
  machineOf,
  morningWords,
  noRemedyWords,
  numbersWords,
  OPENING_TITLE,
  openingCommands,
  oxygenWords,
  patientWords,
  remedyWords,
  STATE_WORDS,
  sharedCautions,
  spanWords,
  supplyWords,
} from './day-words.ts';
import { dateWords } from './due-words.ts';
import { safeText } from './safe-text.ts';
import { SAFETY_LINE } from './safety.ts';
import { padEnd, padStart, wrap } from './text.ts';

export interface DayView {
  readonly width: number;
  readonly colour: boolean;
}

const WIDEST = 80;
const LEVEL_WORDS: Readonly<Record<Level, string>> = { stop: 'STOP', caution: 'CAUTION', note: 'note' };

export function renderDayText(day: Day, view: DayView): string {
  const width = Math.min(view.width, WIDEST);
  const chalk = new Chalk({ level: view.colour ? 1 : 0 });
  const numbers = new Map(day.cases.map((one, i) => [one, i + 1]));
  const planned = new Map(
    [...numbers].flatMap(([one, n]) => (one.state === 'planned' ? [[one, n] as const] : [])),
  );
  const timeline = renderTimeline(day, planned, width);
  const blocks = [
    [
      chalk.bold(wrap(`${dateWords(day.date)}  ${daySummary(day)}`, width)),
      wrap(safeText(day.inventory.practice.name), width),
    ],
    clashes(day, width, chalk),
    timeline.length === 0
      ? []
      : [...timeline, chalk.dim(wrap('A case begins with its number; . is the turnover.', width))],
    [
      chalk.bold('CASES'),
      ...[...numbers].flatMap(([one, number]) => caseLines(day, one, number, width, chalk)),
    ],
    cautions(day, width, chalk),
    morning(day, numbers, width, chalk),
    supplies(day, width, chalk),
    [chalk.dim(wrap(SAFETY_LINE, width))],
  ];
  return `${blocks
    .filter(block => block.length > 0)
    .map(block => block.join('\n'))
    .join('\n\n')}\n`;
}

function clashes(day: Day, width: number, chalk: ChalkInstance): string[] {
  return day.clashes.flatMap(clash => {
    const lines = [
      chalk.red.bold(wrap(safeText(`STOP      ${clashWords(day, clash)}`), width, '', ' '.repeat(10))),
    ];
    if (clash.remedies.length > 0)
      lines.push(wrap('Each of these by itself would resolve it:', width, ' '.repeat(10)));
    for (const remedy of clash.remedies)
      lines.push(wrap(safeText(remedyWords(day, remedy)), width, `${' '.repeat(10)}- `, ' '.repeat(12)));
    if (clash.remedies.length === 0) lines.push(wrap(noRemedyWords(clash), width, ' '.repeat(10)));
    return lines;
  });
}

const INDENT = ' '.repeat(4);

function caseLines(
  day: Day,
  one: PlannedCase | UnplannedCase,
  number: number,
  width: number,
  chalk: ChalkInstance,
): string[] {
  const head = `${padStart(String(number), 3)} ${spanWords(day, one)}  ${one.dayCase.ref}  ${patientWords(one)}`;
  const lines = [chalk.bold(wrap(safeText(head), width, '', INDENT))];
  if (one.state !== 'planned') {
    lines.push(chalk.red.bold(`${INDENT}${STATE_WORDS[one.state].toUpperCase()}`));
    return [...lines, ...stops(one, width, chalk)];
  }
  const text = `${machineOf(one)}, ${circuitWords(one)}, bag ${bagWords(one.bag)}, oxygen ${oxygenWords(one)}`;
  return [...lines, wrap(safeText(text), width, INDENT), ...stops(one, width, chalk)];
}

function stops({ plan }: PlannedCase | UnplannedCase, width: number, chalk: ChalkInstance): string[] {
  return plan.cautions
    .filter(({ level }) => level === 'stop')
    .map(caution =>
      chalk.red.bold(wrap(safeText(`STOP ${cautionWords(caution)}`), width, INDENT, `${INDENT}     `)),
    );
}

function cautions(day: Day, width: number, chalk: ChalkInstance): string[] {
  return sharedCautions(day).map(caution => {
    const { level, message } = caution;
    const words = `${padEnd(LEVEL_WORDS[level], 9)} ${message}${numbersWords(caution)}`;
    const paint = { stop: chalk.red.bold, caution: chalk.yellow, note: chalk.dim }[level];
    return paint(wrap(safeText(words), width, '', ' '.repeat(10)));
  });
}

function morning(
  day: Day,
  numbers: ReadonlyMap<PlannedCase | UnplannedCase, number>,
  width: number,
  chalk: ChalkInstance,
): string[] {
  if (day.morning.length === 0) return [];
  const commands = openingCommands(day);
  const first =
    commands.length === 0
      ? []
      : [
          chalk.bold(wrap(OPENING_TITLE, width, '  ', '    ')),
          ...commands.map(line => wrap(line, width, '    [ ] ', ' '.repeat(10))),
        ];
  const blocks = day.morning.flatMap(({ ref, start, items }) => {
    const number = [...numbers].find(([one]) => one.dayCase.ref === ref)?.[1];
    return [
      chalk.bold(wrap(safeText(`  before ${clock(day, start)}, case ${number}, ${ref}`), width)),
      ...items.map(item => wrap(safeText(morningWords(item)), width, '    [ ] ', ' '.repeat(8))),
    ];
  });
  return [chalk.bold('MORNING LIST'), ...first, ...blocks];
}

function supplies(day: Day, width: number, chalk: ChalkInstance): string[] {
  if (day.supplies.length === 0) return [];
  return [
    chalk.bold('OVER THE DAY'),
    ...day.supplies.map(one => wrap(safeText(supplyWords(one)), width, '  ', '    ')),
  ];
}
