/**
 * A plan for a person at the machine: the answer in the first lines, then cautions worst first, then the leak test, then
 * the safety line. Read at arm's length, so that the figures stand in one column and words do not crowd them.
 */
import { Chalk, type ChalkInstance } from 'chalk';
import { PHASES } from '../inventory/inventory.ts';
import type { Caution } from '../plan/caution.ts';
import { nearestMisses } from '../plan/choose.ts';
import { CLASS_WORDS, KIND_WORDS } from '../plan/fit.ts';

import type { ClassPlan, Plan } from '../plan/plan.ts';
import { formatFlow, formatFlowRange, formatNumber, formatVolume, formatWeight } from '../quantity/format.ts';

import { renderReasons } from './plan-reasons.ts';
import { safeText } from './safe-text.ts';
import { SAFETY_LINE } from './safety.ts';
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
    answer(plan, chalk, view.width),
    cautions(plan, chalk, view.width),
    leakTest(plan, chalk, view.width),
    ...(view.steps ? stepBlocks(plan, chalk, view.width) : []),
    ...(view.reasons ? [renderReasons(plan.reasons, plan.inventory.file, view.width)] : []),
    [chalk.dim(SAFETY_LINE)],
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
  const gap = width - patient.length - where.length;
  return gap < 2
    ? `${chalk.bold(patient)}\n${chalk.dim(where)}`
    : chalk.bold(patient) + ' '.repeat(gap) + chalk.dim(where);
}

const LABEL_WIDTH = 9;

/** The answer: one class, or two side by side. */
function answer(plan: Plan, chalk: ChalkInstance, width: number): string[] {
  const { main, other } = plan;
  if (main === null) return [chalk.bold('No figures are given for this weight.')];
  if (other !== null) return sideBySide(plan, main, other, chalk, width);
  if (main.choice.pair === null) return noCircuit(main, chalk, width);
  return column(plan, main, true).map(({ label, figure, detail }) =>
    `${padEnd(label, LABEL_WIDTH)} ${chalk.bold(padEnd(figure, 23))} ${detail}`.trimEnd(),
  );
}

interface Row {
  label: string;
  /** What is set, hung or connected. */
  figure: string;
  /** How it came about, in short. */
  detail: string;
}

function column(plan: Plan, part: ClassPlan, mayShare: boolean): Row[] {
  const { pair } = part.choice;
  if (pair === null || part.flows === null) return [{ label: 'CIRCUIT', figure: 'none fits', detail: '' }];
  const location = pair.machine.location === null ? '' : safeText(pair.machine.location);
  return [
    {
      label: 'CIRCUIT',
      figure: pair.circuit.id,
      detail: `${KIND_WORDS[pair.circuit.kind]}, ${CLASS_WORDS[part.circuitClass]}`,
    },
    { label: 'MACHINE', figure: pair.machine.id, detail: location },
    ...flowRows(plan, part, mayShare),
    bagRow(plan),
  ];
}

/** The flow to start with stands first; three phases with the same figures share a line, unless they must line up. */
function flowRows(plan: Plan, part: ClassPlan, mayShare: boolean): Row[] {
  if (part.flows === null) return [];
  const { phases } = part.flows;
  const perKg = plan.inventory.rules.freshGasFlow.mlPerKgMin[part.circuitClass];
  const rows = PHASES.map((phase, i): Row => {
    const flow = phases[phase];
    const [low, high] = perKg[phase].value;
    return {
      label: i === 0 ? 'OXYGEN' : '',
      figure: `${formatFlow(flow.setMlPerMin)} ${PHASE_WORDS[phase]}`,
      detail: `${formatFlowRange([flow.lowMlPerMin, flow.highMlPerMin])}, ${low}–${high} mL/kg/min`,
    };
  });
  const [first] = rows;
  const isSame = rows.every(({ detail }) => detail === first?.detail);
  if (!mayShare || !isSame || first === undefined) return rows;
  return [{ ...first, figure: `${formatFlow(phases.induction.setMlPerMin)} throughout` }];
}

const PHASE_WORDS = { induction: 'to start', maintenance: 'then', recovery: 'to wake' };

function bagRow({ bag }: Plan): Row {
  if (bag === null) return { label: 'BAG', figure: 'not worked out', detail: '' };
  const wanted = `${formatNumber(bag.wantedMl, 0)} mL wanted (${formatNumber(bag.wantedLowMl, 0)} to ${formatNumber(bag.wantedHighMl, 0)})`;
  return {
    label: 'BAG',
    figure: bag.sizeMl === null ? 'none in stock' : formatVolume(bag.sizeMl),
    detail: wanted,
  };
}

/** Two classes in two columns, the one that leads on the left. */
function sideBySide(
  plan: Plan,
  main: ClassPlan,
  other: ClassPlan,
  chalk: ChalkInstance,
  width: number,
): string[] {
  const half = Math.floor((width - LABEL_WIDTH - 1) / 2);
  const cells = (left: string, right: string) => `${padEnd(left, half)}${right}`.trimEnd();
  const [left, right] = [column(plan, main, false), column(plan, other, false)];
  const heading = cells(
    `${CLASS_WORDS[main.circuitClass].toUpperCase()} (leads)`,
    `${CLASS_WORDS[other.circuitClass].toUpperCase()} (or)`,
  );
  const lines = [`${' '.repeat(LABEL_WIDTH + 1)}${chalk.bold(heading)}`];
  for (let i = 0; i < Math.max(left.length, right.length); i++) {
    const label = padEnd(left[i]?.label || right[i]?.label || '', LABEL_WIDTH);
    lines.push(`${label} ${cells(left[i]?.figure ?? '', right[i]?.figure ?? '')}`.trimEnd());
    if (label.startsWith('CIRCUIT')) {
      const kinds = [main, other].map(({ choice }) =>
        choice.pair === null ? '' : KIND_WORDS[choice.pair.circuit.kind],
      );
      lines.push(chalk.dim(`${' '.repeat(LABEL_WIDTH + 1)}${cells(kinds[0] ?? '', kinds[1] ?? '')}`));
    }
  }
  return lines;
}

/** Nothing fits: the nearest reason for each circuit of the class. */
function noCircuit(main: ClassPlan, chalk: ChalkInstance, width: number): string[] {
  return [chalk.bold('CIRCUIT   none fits. Why not:'), ...passedOverLines(main, width)];
}

/** One line a circuit: the nearest reason. One that speaks of the machine stands behind a colon. */
function passedOverLines({ choice }: ClassPlan, width: number): string[] {
  return nearestMisses(choice.passedOver).map(({ circuit, machine, reason }) => {
    const text = `${circuit}${reason.includes(machine) ? ':' : ''} ${safeText(reason)}`;
    return wrap(text, width, ' '.repeat(LABEL_WIDTH + 1), ' '.repeat(LABEL_WIDTH + 3));
  });
}

const LEVEL_WORDS = { stop: 'STOP', caution: 'CAUTION', note: 'note' };

function cautions(plan: Plan, chalk: ChalkInstance, width: number): string[] {
  const paint = { stop: chalk.bold.red, caution: chalk.yellow, note: chalk.dim };
  const line = ({ level, message }: Caution) => {
    const text = wrap(safeText(message), width, ' '.repeat(LABEL_WIDTH + 1)).trimStart();
    return `${paint[level](padEnd(LEVEL_WORDS[level], LABEL_WIDTH))} ${text}`;
  };
  const lines = plan.cautions.map(line);
  if (plan.main?.choice.pair) {
    lines.push(
      ...passedOverLines(plan.main, width).map((text, i) =>
        i === 0 ? chalk.dim(padEnd('not taken', LABEL_WIDTH)) + text.slice(LABEL_WIDTH) : text,
      ),
    );
  }
  const codes = [...new Set(plan.cautions.filter(({ level }) => level !== 'note').map(({ code }) => code))];
  if (codes.length > 0)
    lines.push(
      chalk.dim(wrap(`more: holdfast explain ${codes.join(' ')}`, width, ' '.repeat(LABEL_WIDTH + 1))),
    );
  return lines;
}

/** How to hold this pair, in four lines, and what the record says of it. */
function leakTest({ leakHold, main, steps }: Plan, chalk: ChalkInstance, width: number): string[] {
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
    `Patient off, end blocked, pop-off shut. ${fill} ${gauge ? `to ${leakHold.pressureCmH2O} cmH2O` : 'until the bag is taut'}, flow off.`,
    gauge
      ? `Watch the gauge ${leakHold.seconds} s: ${fall} passes, or at most ${leakHold.makeUpMlPerMin} mL/min holds it steady.`
      : `Watch the bag ${leakHold.seconds} s: it must stay taut.`,
    `Then OPEN THE POP-OFF, end still blocked: see ${gauge ? 'the gauge fall to zero' : 'the bag empty'}.`,
  ];
  const record =
    state === 'held' ? [] : [`Record it: holdfast hold ${pair.circuit.id} --machine ${pair.machine.id}`];
  return [
    wrap(`${chalk.bold('LEAK TEST')} ${words[state]}`, width, '', indent),
    ...lines.map(text => wrap(text, width, indent)),
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
