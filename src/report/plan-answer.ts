/** The first lines of a plan: circuit on machine, flow and where to set the bobbin, bag; at the boundary two classes side by side. */
import type { ChalkInstance } from 'chalk';
import { PHASES } from '../inventory/inventory.ts';
import { nearestMisses } from '../plan/choose.ts';
import { CLASS_WORDS, KIND_WORDS, REASONS_OF_MACHINE } from '../plan/fit.ts';
import type { PhaseFlow } from '../plan/flow.ts';
import type { ClassPlan, Plan } from '../plan/plan.ts';
import { displayWidth } from '../problem/display-width.ts';
import { formatNumber, formatVolume } from '../quantity/format.ts';
import { flowWords, PHASE_WORDS } from './flow-words.ts';
import { safeText } from './safe-text.ts';
import { padEnd, wrap } from './text.ts';

/** The column of the labels. */
export const LABEL_WIDTH = 9;
const INDENT = ' '.repeat(LABEL_WIDTH + 1);
/** The column of what is set, hung or connected. */
const FIGURE_WIDTH = 23;

/** The answer: one class, or two side by side. */
export function answer(plan: Plan, chalk: ChalkInstance, width: number): string[] {
  const { main, other } = plan;
  if (main === null) return [chalk.bold('No figures are given for this weight.')];
  if (other !== null) return sideBySide(plan, [main, other], chalk, width);
  if (main.choice.pair === null) return noCircuit(main, chalk, width);
  return rowsOf(plan, main).map(row => wideRow(row, chalk, width));
}

export interface Row {
  label: string;
  /** What is set, hung or connected. */
  figure: string;
  /** How it came about, in short. */
  detail: string;
}

export function wideRow({ label, figure, detail }: Row, chalk: ChalkInstance, width: number): string {
  const head = `${padEnd(label, LABEL_WIDTH)} ${chalk.bold(padEnd(figure, FIGURE_WIDTH))}`;
  const headWidth = LABEL_WIDTH + 1 + Math.max(FIGURE_WIDTH, displayWidth(figure));
  if (headWidth + 1 + displayWidth(detail) <= width) return `${head} ${detail}`.trimEnd();
  // Ids and places may be long; what it is then stands below.
  return `${head.trimEnd()}\n${wrap(detail, width, INDENT)}`;
}

function rowsOf(plan: Plan, part: ClassPlan): Row[] {
  const { pair } = part.choice;
  if (pair === null || part.flows === null) return [];
  const location = pair.machine.location === null ? '' : safeText(pair.machine.location);
  const kind = `${KIND_WORDS[pair.circuit.kind]}, ${CLASS_WORDS[part.circuitClass]}`;
  return [
    { label: 'CIRCUIT', figure: pair.circuit.id, detail: kind },
    { label: 'MACHINE', figure: pair.machine.id, detail: location },
    ...flowRows(plan, part),
    bagRow(plan),
  ];
}

function flowRows(plan: Plan, part: ClassPlan): Row[] {
  return flowWords(plan, part).map((row, i) => ({ label: i === 0 ? 'OXYGEN' : '', ...row }));
}

function bagRow({ bag, request }: Plan): Row {
  const ideal = request.idealWeightKg === null ? '' : ', by ideal weight';
  if (bag === null) return { label: 'BAG', figure: 'not worked out', detail: '' };
  const wanted = `${formatNumber(bag.wantedMl, 0)} mL wanted (${formatNumber(bag.wantedLowMl, 0)} to ${formatNumber(bag.wantedHighMl, 0)})${ideal}`;
  return {
    label: 'BAG',
    figure: bag.sizeMl === null ? 'none in stock' : formatVolume(bag.sizeMl),
    detail: wanted,
  };
}

const NARROW_LABELS = ['CIRCUIT', '', 'MACHINE', 'OXYGEN', '', '', 'BAG'];

/** Two classes in two columns, the one that leads on the left. */
function sideBySide(
  plan: Plan,
  parts: readonly [ClassPlan, ClassPlan],
  chalk: ChalkInstance,
  width: number,
): string[] {
  const half = Math.floor((width - LABEL_WIDTH - 1) / 2);
  const [main, other] = parts;
  const [left, right] = parts.map(part => narrowColumn(plan, part)) as [string[], string[]];
  const heading = cells(
    `${CLASS_WORDS[main.circuitClass].toUpperCase()} (leads)`,
    `${CLASS_WORDS[other.circuitClass].toUpperCase()} (or)`,
    half,
  );
  const why =
    other.choice.pair === null
      ? passedOverLines(other, width).map(
          text => `${padEnd('or: why', LABEL_WIDTH)}${text.slice(LABEL_WIDTH)}`,
        )
      : [];
  return [
    `${INDENT}${chalk.bold(heading)}`,
    ...NARROW_LABELS.map((label, i) =>
      `${padEnd(label, LABEL_WIDTH)} ${cells(left[i] ?? '', right[i] ?? '', half)}`.trimEnd(),
    ),
    ...why.map(text => chalk.dim(text)),
  ];
}

/** Two cells on a line, or the right one on the next where the left one is too long. */
function cells(left: string, right: string, half: number): string {
  const gap = displayWidth(left) < half || right === '' ? '' : `\n${INDENT}${' '.repeat(half)}`;
  return (gap === '' ? `${padEnd(left, half)}${right}` : `${left}${gap}${right}`).trimEnd();
}

function narrowColumn(plan: Plan, { choice: { pair }, flows }: ClassPlan): string[] {
  if (pair === null || flows === null) return ['none fits'];
  const rows = PHASES.map(phase => narrowFlow(flows.phases[phase], PHASE_WORDS[phase]));
  return [pair.circuit.id, KIND_WORDS[pair.circuit.kind], pair.machine.id, ...rows, bagRow(plan).figure];
}

/** @example narrowFlow(flow, 'to start') //=> '1.75 L/min to start (1.36–2.04)' */
function narrowFlow(
  { lowMlPerMin: low, highMlPerMin: high, setMlPerMin: set }: PhaseFlow,
  when: string,
): string {
  const inLitres = Math.max(high, set) >= 1000;
  const figure = (flow: number) => (inLitres ? formatNumber(flow / 1000) : formatNumber(flow, 0));
  const range = low === high ? figure(low) : `${figure(low)}–${figure(high)}`;
  return `${figure(set)} ${inLitres ? 'L' : 'mL'}/min ${when} (${range})`;
}

/** Nothing fits: the nearest reason for each circuit. */
function noCircuit(main: ClassPlan, chalk: ChalkInstance, width: number): string[] {
  const lines = passedOverLines(main, width);
  return lines.length === 0
    ? [chalk.bold('CIRCUIT   none fits: there is none of this class')]
    : [chalk.bold('CIRCUIT   none fits. Why not:'), ...lines];
}

/** One line a circuit: the nearest reason. */
export function passedOverLines({ choice }: ClassPlan, width: number): string[] {
  const taken = choice.pair?.circuit.id;
  // What was forced has its reasons among the cautions.
  const told = choice.misfits.map(({ reason }) => reason);
  const others = choice.passedOver.filter(
    ({ circuit, reason }) => circuit !== taken || !told.includes(reason),
  );
  return nearestMisses(others).map(({ circuit, code, reason }) => {
    const text = `${circuit}${REASONS_OF_MACHINE.includes(code) ? ':' : ''} ${safeText(reason)}`;
    return wrap(text, width, INDENT, `${INDENT}  `);
  });
}
