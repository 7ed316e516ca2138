/**
 * The range of a chart cut at every edge: each edge by itself, and each open stretch between two of them. Within one cell
 * nothing that the chart shows can change, so that one plan speaks for all of it.
 */
import { isAbove, isAtLeast } from '../quantity/compare.ts';
import { type Kg, kg } from '../quantity/units.ts';
import type { Edge, EdgeCause, Span } from './span.ts';

export interface Cell {
  readonly span: Span;
  /** A weight in it. */
  readonly sampleKg: Kg;
}

/** @param edges in rising order, the two ends of the range included */
export function cellsBetween(edges: readonly Edge[]): Cell[] {
  return edges.flatMap((edge, i): Cell[] => {
    const at = { edge, included: true };
    const point: Cell = { span: { low: at, high: at }, sampleKg: edge.kg };
    const next = edges[i + 1];
    if (next === undefined) return [point];
    const span = { low: { edge, included: false }, high: { edge: next, included: false } };
    return [point, { span, sampleKg: kg((edge.kg + next.kg) / 2) }];
  });
}

/**
 * The edges within a range in rising order, each weight once, with all its causes; the ends of the range are edges too.
 *
 * Edges that a plan could not tell apart are one; of a written and a computed one, the written figure is kept.
 */
export function tidyEdges(edges: readonly Edge[], fromKg: Kg, toKg: Kg): Edge[] {
  const ends = [fromKg, toKg].map((end): Edge => ({ kg: end, isComputed: false, because: [] }));
  const within = edges.filter(({ kg }) => isAtLeast(kg, fromKg) && isAtLeast(toKg, kg));
  const tidy: Edge[] = [];
  for (const edge of [...ends, ...within].sort((a, b) => a.kg - b.kg)) {
    const last = tidy.at(-1);
    if (last === undefined || isAbove(edge.kg, last.kg)) tidy.push(edge);
    else tidy[tidy.length - 1] = merge(last, edge, ends);
  }
  return tidy;
}

function merge(a: Edge, b: Edge, ends: readonly Edge[]): Edge {
  // The ends of the range stay what they are.
  const rank = ({ kg, isComputed }: Edge) => (ends.some(end => end.kg === kg) ? 2 : isComputed ? 0 : 1);
  const kept = rank(b) > rank(a) ? b : a;
  return { ...kept, because: distinct([...a.because, ...b.because]) };
}

function distinct(causes: readonly EdgeCause[]): EdgeCause[] {
  if (causes.length < 2) return [...causes];
  return causes.filter((cause, i) => causes.findIndex(({ words }) => words === cause.words) === i);
}
