/**
 * The flow to set as the weight rises: a staircase, because a flowmeter is set to its marks. Where the steps lie is
 * computed from the marks, never sampled.
 */
import {
  type CircuitClass,
  type Flowmeter,
  type Inventory,
  type Machine,
  PHASES,
  type Phase,
} from '../inventory/inventory.ts';
import { markAtOrAbove, phaseFigures } from '../plan/flow.ts';
import { isAbove } from '../quantity/compare.ts';
import { type Kg, kg, type MlPerKgMin, type MlPerMin, mlPerMin, type Range } from '../quantity/units.ts';
import { cellsBetween, tidyEdges } from './grid.ts';
import { type Edge, joinNeighbours, type Span } from './span.ts';

/** A stretch of weights with one mark to set. */
export interface FlowStep {
  readonly span: Span;
  readonly setMlPerMin: MlPerMin;
}

/** One phase over a stretch of weights. */
export interface FlowRange {
  readonly phase: Phase;
  /** Of the range to keep within: its low end at the least weight, its high end at the greatest. */
  readonly lowMlPerMin: MlPerMin;
  readonly highMlPerMin: MlPerMin;
  /** The lowest and the highest mark to set. */
  readonly setLowMlPerMin: MlPerMin;
  readonly setHighMlPerMin: MlPerMin;
  /** Which mark from where to where. */
  readonly steps: readonly FlowStep[];
}

/** The flows of a class on a machine over a stretch of weights. */
export function flowRanges(
  inventory: Inventory,
  machine: Machine,
  circuitClass: CircuitClass,
  span: Span,
): FlowRange[] {
  return PHASES.map(phase => {
    const figures = (weight: Kg) => phaseFigures(inventory, machine, circuitClass, weight, phase);
    const edges = markEdges(linesOf(inventory, circuitClass, phase), machine.flowmeter, span);
    const cells = cellsBetween(edges)
      .filter(cell => isWithin(cell.span, span))
      .map(cell => ({ span: cell.span, setMlPerMin: figures(cell.sampleKg).setMlPerMin }));
    const steps = joinNeighbours(cells, (a, b) => a.setMlPerMin === b.setMlPerMin).map(
      ({ span, items: [{ setMlPerMin }] }) => ({ span, setMlPerMin }),
    );
    const sets = steps.map(({ setMlPerMin }) => setMlPerMin);
    return {
      phase,
      lowMlPerMin: figures(span.low.edge.kg).lowMlPerMin,
      highMlPerMin: figures(span.high.edge.kg).highMlPerMin,
      setLowMlPerMin: mlPerMin(Math.min(...sets)),
      setHighMlPerMin: mlPerMin(Math.max(...sets)),
      steps,
    };
  });
}

/** Every weight in a span at which the mark to set may change. */
function markEdges(lines: Lines, flowmeter: Flowmeter, { low, high }: Span): Edge[] {
  const [from, to] = [low.edge.kg, high.edge.kg];
  if (from === to) return [low.edge];
  const marks = marksBetween(flowmeter, lines.low(from), lines.high(to));
  const edges = tidyEdges(marks.flatMap(lines.weightsAt).map(computedEdge), from, to);
  // The ends keep what is known of them: why they are edges.
  return [low.edge, ...edges.slice(1, -1), high.edge];
}

/** Of the cells only those at the two ends can lie outside. */
function isWithin(cell: Span, span: Span): boolean {
  const isEnd = cell.low.edge === cell.high.edge;
  if (isEnd && cell.low.edge === span.low.edge && !span.low.included) return false;
  return !(isEnd && cell.low.edge === span.high.edge && !span.high.included);
}

/** The weights at which a pair begins or ceases to need more than a limit. */
export function limitCrossings(
  inventory: Inventory,
  machine: Machine,
  circuitClass: CircuitClass,
  limit: MlPerMin,
  fromKg: Kg,
  toKg: Kg,
): Kg[] {
  const weights = PHASES.flatMap(phase => {
    const lines = linesOf(inventory, circuitClass, phase);
    // The mark to set can pass the limit only between the weight at which the range's high end does and the one at which
    // its low end does; in between it may come and go, mark by mark.
    const last = lastMarkUpTo(machine.flowmeter, limit);
    const [least, greatest] = [last / lines.perKg[1], Math.min(toKg, last / lines.perKg[0])];
    const marks = marksBetween(machine.flowmeter, last, lines.high(kg(greatest)));
    return [last, limit, ...marks]
      .flatMap(lines.weightsAt)
      .filter(weight => weight >= least * (1 - 1e-6) && weight <= greatest * (1 + 1e-6));
  });
  const edges = tidyEdges(weights.map(computedEdge), fromKg, toKg);
  const needs = (weight: Kg, phase: Phase) =>
    phaseFigures(inventory, machine, circuitClass, weight, phase).setMlPerMin;
  const cells = cellsBetween(edges).map(({ span, sampleKg }) => ({
    span,
    isAbove: PHASES.some(phase => isAbove(needs(sampleKg, phase), limit)),
  }));
  const stretches = joinNeighbours(cells, (a, b) => a.isAbove === b.isAbove);
  return stretches.slice(1).map(({ span }) => span.low.edge.kg);
}

/** Low end, high end and middle of a phase's range, as lines over the weight. */
interface Lines {
  readonly perKg: Range<MlPerKgMin>;
  low(weight: Kg): number;
  high(weight: Kg): number;
  /** Every weight at which one of the three lines may have this flow. */
  weightsAt(flow: number): number[];
}

function linesOf(inventory: Inventory, circuitClass: CircuitClass, phase: Phase): Lines {
  const { mlPerKgMin, minimumMlPerMin } = inventory.rules.freshGasFlow;
  const perKg = mlPerKgMin[circuitClass][phase].value;
  const [lowPerKg, highPerKg] = perKg;
  const minimum = minimumMlPerMin.value;
  return {
    perKg,
    low: weight => Math.max(lowPerKg * weight, minimum),
    high: weight => Math.max(highPerKg * weight, minimum),
    weightsAt: flow => [
      flow / lowPerKg,
      flow / highPerKg,
      (2 * flow) / (lowPerKg + highPerKg),
      // The middle while the low end alone is raised to the floor.
      (2 * flow - minimum) / highPerKg,
    ],
  };
}

function computedEdge(weight: number): Edge {
  return { kg: kg(weight), isComputed: true, because: [] };
}

/** All marks in a stretch of flow, its ends included, and the ends of the stretches of marks. */
function marksBetween(flowmeter: Flowmeter, low: number, high: number): number[] {
  const marks: number[] = flowmeter.marks.map(({ upToMlPerMin }) => upToMlPerMin);
  for (let mark = markAtOrAbove(flowmeter, 0); mark <= high * (1 + 1e-9); ) {
    marks.push(mark);
    // Marks are at least 1 mL/min apart.
    const next = markAtOrAbove(flowmeter, mark + 0.5);
    if (next <= mark) break;
    mark = next;
  }
  return marks.filter(mark => mark >= low * (1 - 1e-9) && mark <= high * (1 + 1e-9));
}

function lastMarkUpTo(flowmeter: Flowmeter, limit: MlPerMin): number {
  return Math.max(0, ...marksBetween(flowmeter, 0, limit));
}
