/**
 * A plan for a person at the machine: the answer in the first lines, then cautions worst first, then the leak test, then
 * the safety line. Read at arm's length, so that the figures stand in one column and words do not crowd them.
 */
import { Chalk, type ChalkInstance } from 'chalk';
import type { Caution } from '../plan/caution.ts';
import type { Plan } from '../plan/plan.ts';
import { displayWidth } from '../problem/display-width.ts';
import { formatWeight } from '../quantity/format.ts';
import { answer, LABEL_WIDTH, passedOverLines } from './plan-answer.ts';
import { renderReasons } from './plan-reasons.ts';
import { safeText } from './safe-text.ts';
import { SAFETY_LINE } from './safety.ts';
import { suppliesBlock } from './supplies-text.ts';
import { padEnd, wrap } from './text.ts';

export interface PlanView {
  readonly width: number;
  readonly colour: boolean;
  readonly steps?: boolean;
  readonly reasons?: boolean;
}

/** The screen for one plan, with a line break at its end. */
export function renderPlan(plan: Plan, view: PlanView): string {
  const chalk = new Chalk({ level: view.colour ? 1 : 0 });
  const blocks = [
    [header(plan, view.width, chalk)],
    stops(plan, chalk, view.width),
    answer(plan, chalk, view.width),
    suppliesBlock(plan, chalk, view.width),
    cautions(plan, chalk, view.width),
    leakTest(plan, chalk, view),
    ...(view.steps ? stepBlocks(plan, chalk, view.width) : []),
    ...(view.reasons ? [renderReasons(plan.reasons, plan.inventory, view.width)] : []),
    [chalk.dim(wrap(SAFETY_LINE, view.width))],
  ];
  return `${blocks
    .filter(block => block.length > 0)
    .map(block => block.join('\n'))
    .join('\n\n')}\n`;
}

function header({ request, inventory, at }: Plan, width: number, chalk: ChalkInstance): string {
  const ideal = request.idealWeightKg === null ? '' : `, ideal ${formatWeight(request.idealWeightKg)}`;
  const species = request.species === null ? '' : `, ${request.species}`;
  const patient = `${formatWeight(request.weightKg)}${species}${ideal}`;
  const where = `${safeText(inventory.practice.name)}, ${at.slice(0, 16).replace('T', ' ')}`;
  const gap = width - displayWidth(patient) - displayWidth(where);
  return gap < 2
    ? `${chalk.bold(patient)}\n${chalk.dim(wrap(where, width))}`
    : chalk.bold(patient) + ' '.repeat(gap) + chalk.dim(where);
}

const LEVEL_WORDS = { stop: 'STOP', caution: 'CAUTION', note: 'note' };

/** What must keep the patient off this equipment stands before the figures, so that nobody reads them first. */
function stops(plan: Plan, chalk: ChalkInstance, width: number): string[] {
  return plan.cautions.filter(({ level }) => level === 'stop').map(one => cautionLine(one, chalk, width));
}

function cautionLine({ level, message }: Caution, chalk: ChalkInstance, width: number): string {
  const paint = { stop: chalk.bold.red, caution: chalk.yellow, note: chalk.dim };
  const text = wrap(safeText(message), width, ' '.repeat(LABEL_WIDTH + 1)).trimStart();
  return `${paint[level](padEnd(LEVEL_WORDS[level], LABEL_WIDTH))} ${text}`;
}

function cautions(plan: Plan, chalk: ChalkInstance, width: number): string[] {
  const lines = plan.cautions
    .filter(({ level }) => level !== 'stop')
    .map(one => cautionLine(one, chalk, width));
  // Where nothing fits and nothing stands beside it, the answer itself has said why.
  if (plan.main !== null && (plan.main.choice.pair !== null || plan.other !== null)) {
    lines.push(
      ...passedOverLines(plan.main, width).map((text, i) =>
        i === 0 ? chalk.dim(padEnd('not taken', LABEL_WIDTH)) + text.slice(LABEL_WIDTH) : text,
      ),
    );
  }
  const codes = [...new Set(plan.cautions.filter(({ level }) => level !== 'note').map(({ code }) => code))];
  if (codes.length > 0)
    lines.push(
      chalk.dim(
        wrap(
          `holdfast explain ${codes.join(' ')}`,
          width,
          `${padEnd('more', LABEL_WIDTH)} `,
          ' '.repeat(LABEL_WIDTH + 1),
        ),
      ),
    );
  return lines;
}

/** How to hold this pair, in four lines, and what the record says of it. */
function leakTest(
  { leakHold, main, steps }: Plan,
  chalk: ChalkInstance,
  { width, steps: hasSteps = false }: PlanView,
): string[] {
  const pair = main?.choice.pair;
  if (leakHold === null || !pair || steps === null) return [];
  const { state, last, because } = leakHold;
  const by = last === null ? '' : ` (${last.on.slice(0, 16).replace('T', ' ')}, ${safeText(last.by)})`;
  const words = {
    held: `passed${by}`,
    needed: because === null ? 'needed before this case' : `needed: ${safeText(because)}`,
    failed: `FAILED${by}`,
  };
  const gauge = leakHold.watch === 'gauge';
  const fill = leakHold.fill === 'flush' ? 'Flush' : 'By flowmeter';
  const fall = leakHold.dropCmH2O === 0 ? 'no fall' : `a fall of at most ${leakHold.dropCmH2O} cmH2O`;
  const indent = ' '.repeat(2);
  const lines = [
    `Patient off, end blocked, pop-off shut. ${fill} ${gauge ? `to ${leakHold.pressureCmH2O} cmH2O` : 'to a taut bag'}, flow off.`,
    gauge
      ? `Watch the gauge ${leakHold.seconds} s: ${fall}; if any, up to ${leakHold.makeUpMlPerMin} mL/min must hold it steady.`
      : `Watch the bag ${leakHold.seconds} s: it must stay taut.`,
    `Then OPEN THE POP-OFF, end still blocked: see ${gauge ? 'the gauge fall to zero' : 'the bag empty'}.`,
  ];
  const record =
    state === 'held' ? [] : [`Record it: holdfast hold ${pair.circuit.id} --machine ${pair.machine.id}`];
  return [
    wrap(`${chalk.bold('LEAK TEST')} ${words[state]}`, width, '', indent),
    // Done, or told step by step below: then once is enough.
    ...(state === 'held' || hasSteps ? [] : lines.map(text => wrap(text, width, indent))),
    ...record.map(text => chalk.dim(`${indent}${text}`)),
  ];
}

function stepBlocks({ steps }: Plan, chalk: ChalkInstance, width: number): string[][] {
  if (steps === null) return [];
  const titles = {
    connect: 'CONNECT',
    hold: 'LEAK TEST, STEP BY STEP',
    watch: 'WATCH',
    back: 'BACK TO A CIRCLE',
  } as const;
  const keys = ['connect', 'hold', 'watch', 'back'] as const;
  return keys
    .filter(key => steps[key].length > 0)
    .map(key => [
      chalk.bold(titles[key]),
      ...steps[key].map((step, i) => wrap(step, width, `${String(i + 1).padStart(3)}  `, '     ')),
    ]);
}
