/**
 * Stretches of body weight with exact ends: which weights a band holds, and how its ends are written on paper.
 *
 * As in a plan, a weight that is an edge to within a billionth is that edge (quantity/compare.ts).
 */
import { isAbove, isAtLeast } from '../quantity/compare.ts';
import { formatNumber } from '../quantity/format.ts';
import { type Kg, kg } from '../quantity/units.ts';

/** What makes a weight an edge: the rule or the property of an asset. */
export interface EdgeCause {
  /** In words: "bain-1 is for 2 to 12 kg". */
  readonly words: string;
  /** JSON pointer into the inventory; null for what the practice cannot set. */
  readonly path: string | null;
  /** The line in the inventory; null for a default. */
  readonly line: number | null;
}

export interface Edge {
  readonly kg: Kg;
  /** Whether it is the result of a formula; else somebody wrote this very figure. */
  readonly isComputed: boolean;
  readonly because: readonly EdgeCause[];
}

export interface End {
  readonly edge: Edge;
  /** Whether the weight at the edge itself belongs to the stretch. */
  readonly included: boolean;
}

export interface Span {
  readonly low: End;
  readonly high: End;
}

/** Whether a weight does not lie above the upper end. */
export function isUpTo({ edge, included }: End, weightKg: Kg): boolean {
  return included ? isAtLeast(edge.kg, weightKg) : isAbove(edge.kg, weightKg);
}

/** Whether a weight does not lie below the lower end. */
export function isFrom({ edge, included }: End, weightKg: Kg): boolean {
  return included ? isAtLeast(weightKg, edge.kg) : isAbove(weightKg, edge.kg);
}

/** @example contains({ low: from 7, high: to 8 }, kg(7)) //=> true */
export function contains({ low, high }: Span, weightKg: Kg): boolean {
  return isFrom(low, weightKg) && isUpTo(high, weightKg);
}

/** A span that is a single weight. */
export function isPoint({ low, high }: Span): boolean {
  return low.edge.kg === high.edge.kg;
}

/** To how many grams the edges of a chart are printed. */
export type LabelStepG = 1 | 10;

/**
 * Two decimals of a kilogram are what a wall needs. Where somebody wrote a limit to the gram, all edges are to the gram: a
 * limit that is written must be printed as it is.
 *
 * @param edges - all edges of a chart @example labelStepFor(edgesOf(inventory, range)) //=> 10
 */
export function labelStepFor(edges: readonly Edge[]): LabelStepG {
  return edges.every(({ kg, isComputed }) => isComputed || isWhole(kg * 100)) ? 10 : 1;
}

/** The ends of a stretch as they are printed, in kg. */
export interface PrintedSpan {
  readonly low: string;
  readonly lowIncluded: boolean;
  readonly high: string;
  readonly highIncluded: boolean;
  /** A single weight as far as can be told in whole steps. */
  readonly isPoint: boolean;
}

/**
 * Both ends in kg, so that every weight in whole steps stands where the exact edge puts it. An edge that is no whole step is
 * rounded down and belongs to the stretch below: a weight between the two is then taken for the heavier row, with the
 * larger bag.
 *
 * @example printedSpan({ low: 'over 5', high: 'to 5.5555…' }, 10) //=> { low: '5', lowIncluded: false, high: '5.55', … }
 */
export function printedSpan(span: Span, stepG: LabelStepG): PrintedSpan {
  if (isPoint(span)) {
    const label = formatNumber(span.low.edge.kg, 3);
    return { low: label, lowIncluded: true, high: label, highIncluded: true, isPoint: true };
  }
  const [low, high] = [printedEdge(span.low.edge.kg, stepG), printedEdge(span.high.edge.kg, stepG)];
  const lowIncluded = span.low.included && low.isExact;
  const highIncluded = span.high.included || !high.isExact;
  const isSingle = lowIncluded && highIncluded && low.label === high.label;
  return { low: low.label, lowIncluded, high: high.label, highIncluded, isPoint: isSingle };
}

/** Whether no weight in whole steps lies in a span: nothing to print. */
export function isFinerThan(span: Span, stepG: LabelStepG): boolean {
  const [low, high] = [span.low, span.high].map(({ edge }) => Math.round((edge.kg * 1000) / stepG));
  const near = [low, high].flatMap(steps => (steps === undefined ? [] : [steps - 1, steps, steps + 1]));
  return !near.some(steps => contains(span, kg((steps * stepG) / 1000)));
}

function printedEdge(weight: Kg, stepG: LabelStepG): { label: string; isExact: boolean } {
  const inSteps = (weight * 1000) / stepG;
  const isExact = isWhole(inSteps);
  const steps = isExact ? Math.round(inSteps) : Math.floor(inSteps);
  return { label: formatNumber((steps * stepG) / 1000, 3), isExact };
}

function isWhole(value: number): boolean {
  return Math.abs(value - Math.round(value)) <= 1e-9 * value;
}

/** @example describeSpan(between, 10) //=> 'from 7 to 8 kg' @example describeSpan(gap, 10) //=> 'over 12 to below 14 kg' */
export function describeSpan(span: Span, stepG: LabelStepG): string {
  const { low, lowIncluded, high, highIncluded, isPoint } = printedSpan(span, stepG);
  if (isPoint) return `at exactly ${low} kg`;
  return `${lowIncluded ? 'from' : 'over'} ${low} ${highIncluded ? 'to' : 'to below'} ${high} kg`;
}

/** The same in signs, for a narrow column. @example shortSpan(gap, 10) //=> '>12–<14' @example shortSpan(point, 10) //=> '7' */
export function shortSpan(span: Span, stepG: LabelStepG): string {
  const { low, lowIncluded, high, highIncluded, isPoint } = printedSpan(span, stepG);
  if (isPoint) return low;
  return `${lowIncluded ? '' : '>'}${low}–${highIncluded ? '' : '<'}${high}`;
}

/** One stretch from the beginning of the first to the end of the last. */
function join(first: Span, last: Span): Span {
  return { low: first.low, high: last.high };
}

/** Joins neighbours for which `same` holds. @param items in rising order, without holes between them */
export function joinNeighbours<T extends { readonly span: Span }>(
  items: readonly T[],
  same: (a: T, b: T) => boolean,
): { span: Span; items: [T, ...T[]] }[] {
  const joined: { span: Span; items: [T, ...T[]] }[] = [];
  for (const item of items) {
    const last = joined.at(-1);
    if (last !== undefined && touches(last.span, item.span) && same(last.items[0], item)) {
      last.span = join(last.span, item.span);
      last.items.push(item);
    } else joined.push({ span: item.span, items: [item] });
  }
  return joined;
}

function touches(below: Span, above: Span): boolean {
  return below.high.edge.kg === above.low.edge.kg && below.high.included !== above.low.included;
}
