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

/**
 * Both ends to the gram, rounded so that every weight in whole grams falls on the side where the exact edge puts it:
 * downwards where the edge belongs to the stretch below it, upwards where it belongs to the one above.
 *
 * @example gramLabels({ low: 'over 5', high: 'to 5.5555…' }) //=> { low: '5', high: '5.555' }
 */
export function gramLabels({ low, high }: Span): { low: string; high: string } {
  if (isPoint({ low, high })) {
    const label = formatNumber(low.edge.kg, 3);
    return { low: label, high: label };
  }
  return { low: gramLabel(low.edge.kg, !low.included), high: gramLabel(high.edge.kg, high.included) };
}

/** Whether no weight in whole grams lies in a span: nothing that a scale shows, and nothing to print. */
export function isFinerThanGrams(span: Span): boolean {
  const [low, high] = [span.low, span.high].map(({ edge }) => Math.round(edge.kg * 1000));
  const near = [low, high].flatMap(grams => (grams === undefined ? [] : [grams - 1, grams, grams + 1]));
  return !near.some(grams => contains(span, kg(grams / 1000)));
}

function gramLabel(weight: Kg, belongsBelow: boolean): string {
  const inGrams = weight * 1000;
  const nearest = Math.round(inGrams);
  const isWhole = Math.abs(inGrams - nearest) <= 1e-9 * inGrams;
  const rounded = isWhole ? nearest : belongsBelow ? Math.floor(inGrams) : Math.ceil(inGrams);
  return formatNumber(rounded / 1000, 3);
}

/** @example describeSpan(between) //=> 'from 7 to 8 kg' @example describeSpan(gap) //=> 'over 12 to below 14 kg' */
export function describeSpan(span: Span): string {
  const { low, high } = gramLabels(span);
  if (isPoint(span)) return `at exactly ${low} kg`;
  return `${span.low.included ? 'from' : 'over'} ${low} ${span.high.included ? 'to' : 'to below'} ${high} kg`;
}

/** The same in signs, for a narrow column. @example shortSpan(gap) //=> '>12–<14' @example shortSpan(point) //=> '7' */
export function shortSpan(span: Span): string {
  const { low, high } = gramLabels(span);
  if (isPoint(span)) return low;
  return `${span.low.included ? '' : '>'}${low}–${span.high.included ? '' : '<'}${high}`;
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
