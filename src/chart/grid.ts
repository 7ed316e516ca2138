/**
 * The range of a chart cut at every edge: each edge by itself, and each open stretch between two of them. Within one cell
 * nothing that the chart shows can change, so that one plan speaks for all of it.
 */
import { type Kg, kg } from '../quantity/units.ts';
import type { Edge, Span } from './span.ts';

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

/** Equal as far as a computed figure can be: no cell fits between two such edges. */
const SAME = 1e-9;

/**
 * The edges within a range in rising order, each weight once, with all its causes; the ends of the range are edges too.
 *
 * A computed edge that falls on a weight somebody wrote, but for binary dust, is that weight.
 */
export function tidyEdges(edges: readonly Edge[], fromKg: Kg, toKg: Kg): Edge[] {
  const ends: Edge[] = [fromKg, toKg].map(end => ({ kg: end, tolerant: false, because: [] }));
  const within = edges.filter(edge => edge.kg > fromKg && edge.kg < toKg);
  // At the very ends the causes are kept, but nothing lies beyond them.
  const atEnds = edges.filter(edge => isSame(edge.kg, fromKg) || isSame(edge.kg, toKg));
  const written = [...ends, ...[...within, ...atEnds].filter(({ tolerant }) => !tolerant)];
  const computed = [...within, ...atEnds].filter(({ tolerant }) => tolerant);
  const tidy: Edge[] = [];
  const add = (edge: Edge, same: (a: number, b: number) => boolean) => {
    const at = tidy.findIndex(other => same(other.kg, edge.kg));
    const known = tidy[at];
    if (known === undefined) tidy.push(edge);
    else tidy[at] = { ...known, because: distinct([...known.because, ...edge.because]) };
  };
  for (const edge of written) {
    const isEnd = ends.some(end => isSame(end.kg, edge.kg));
    add(edge, isEnd ? isSame : (a, b) => a === b);
  }
  for (const edge of computed) add(edge, isSame);
  return tidy.sort((a, b) => a.kg - b.kg);
}

function isSame(a: number, b: number): boolean {
  return Math.abs(a - b) <= SAME * Math.max(a, b);
}

function distinct<T extends { readonly words: string }>(causes: readonly T[]): T[] {
  return causes.filter((cause, i) => causes.findIndex(({ words }) => words === cause.words) === i);
}
