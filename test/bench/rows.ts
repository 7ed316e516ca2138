/** How a bench makes its rows. */
import { type Contender, ratioOf, type Spread, timeOf } from './measure.ts';
import { quantity } from './number.ts';
import type { Growth, Row, Unit } from './result.ts';

/** Ours as a multiple of theirs. */
export function ratioRow(what: string, ours: Contender, theirs: Contender, goal: number | null = null): Row {
  const from = [ours, theirs].map(one => quantity(timeOf(one).median, 'ms')).join(' ÷ ');
  return { what, unit: 'times', figure: ratioOf(ours, theirs), goal, judged: 'median', from };
}

export function peakRow(what: string, figure: Spread, goal: number | null): Row {
  return { what, unit: 'MiB', figure, goal, judged: 'median', from: 'whole process' };
}

/** What is counted, once. */
export function countRow(what: string, count: number, unit: Unit, goal: number, from: string): Row {
  const figure = { median: count, low: count, high: count };
  return { what, unit, figure, goal, judged: 'median', from };
}

export function growthOf(
  title: string,
  unit: Unit,
  values: Readonly<Record<string, readonly { lines: number; value: number }[]>>,
): Growth {
  return { title, unit, series: Object.entries(values).map(([name, points]) => ({ name, points })) };
}
