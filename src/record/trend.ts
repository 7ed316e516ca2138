/** The holds of a circuit over time, and where they lead. Pure. */
import { addDays, dayOf, daysBetween } from '../calendar/date.ts';
import type { CalendarDate } from '../calendar/zone.ts';
import type { HoldEntry } from '../generated/entry.ts';
import type { Inventory } from '../inventory/inventory.ts';
import type { CmH2O, MlPerMin } from '../quantity/units.ts';
import type { HoldDone, Standing } from './standing-types.ts';
import { theilSen } from './theil-sen.ts';

interface TrendPoint {
  readonly entry: string;
  readonly on: string;
  readonly date: CalendarDate;
  readonly machine: string;
  readonly result: HoldEntry['result'];
  readonly reason: HoldEntry['reason'];
  /** null: not read from a gauge. */
  readonly fallCmH2O: number | null;
  readonly seconds: number | null;
  /** The measured make-up flow, else the leak estimated from the fall; null: neither. */
  readonly leakMlPerMin: number | null;
  /** The leak is a lower bound, from the gas alone. It is shown, and kept out of the line. */
  readonly leakAtLeast: boolean;
}

export interface Series {
  readonly figure: 'leak_ml_min' | 'fall_cmh2o';
  readonly points: readonly {
    readonly date: CalendarDate;
    readonly value: number;
    readonly result: HoldEntry['result'];
  }[];
  /** The pass mark by the rule as it stands now. */
  readonly mark: number;
  /** Of the last `points` at most 1000; null: fewer than five, or all of one day. */
  readonly slopePerDay: number | null;
  /** The first date on which the line lies above the mark; null where it does not rise, has, or is more than ten years off. */
  readonly crossesOn: CalendarDate | null;
  readonly verdict: 'too_few' | 'steady' | 'rising' | 'above';
}

export interface Trend {
  readonly circuit: string;
  /** In order. */
  readonly points: readonly TrendPoint[];
  /** One per figure that was ever measured; the leak first. */
  readonly series: readonly Series[];
}

/** A line through fewer points would be a guess. */
const FEWEST_POINTS = 5;
/** Pairs grow with the square; older holds say little of where a circuit is going. */
const MOST_POINTS = 1000;
const FARTHEST_DAYS = 3653;

/**
 * The holds of a circuit with every machine, and the line through them.
 *
 * @param since - leaves out what was done before.
 */
export function trendOf(
  standing: Standing,
  inventory: Inventory,
  circuitId: string,
  since: CalendarDate | null,
): Trend {
  const holds = [...standing.pairs.values()]
    .filter(({ circuit }) => circuit === circuitId)
    .flatMap(pair => pair.holds)
    .filter(({ done }) => since === null || done.date >= since)
    .sort((a, b) => a.done.order - b.done.order);
  const points = holds.map(toPoint);
  const kind = inventory.circuits.find(({ id }) => id === circuitId)?.kind;
  if (kind === undefined) return { circuit: circuitId, points, series: [] };
  const rule = inventory.rules.leakHold[kind];
  const leaks = points.map(point => (point.leakAtLeast ? null : point.leakMlPerMin));
  // Over another time than the rule's, a fall is brought to the rule's time: that is what the mark is for.
  const falls = points.map(({ fallCmH2O, seconds }) =>
    fallCmH2O === null || seconds === null ? null : (fallCmH2O / seconds) * rule.seconds.value,
  );
  const series = [
    seriesOf('leak_ml_min', points, leaks, rule.makeUpMlPerMin.value),
    seriesOf('fall_cmh2o', points, falls, rule.dropCmH2O.value),
  ];
  return { circuit: circuitId, points, series: series.filter(one => one.points.length > 0) };
}

function toPoint({ done, entry }: HoldDone): TrendPoint {
  const { fall, make_up: makeUp, leak } = entry;
  return {
    entry: done.entry,
    on: done.on,
    date: done.date,
    machine: entry.machine,
    result: entry.result,
    reason: entry.reason,
    fallCmH2O: fall === undefined ? null : fall.from_cmh2o - fall.to_cmh2o,
    seconds: fall?.seconds ?? entry.taut?.seconds ?? null,
    leakMlPerMin: makeUp?.flow_ml_min ?? leak?.ml_min ?? null,
    leakAtLeast: makeUp === undefined && (leak?.at_least ?? false),
  };
}

function seriesOf(
  figure: Series['figure'],
  all: readonly TrendPoint[],
  values: readonly (number | null)[],
  mark: MlPerMin | CmH2O,
): Series {
  const points = all.flatMap(({ date, result }, i) => {
    const value = values[i];
    return value == null ? [] : [{ date, value, result }];
  });
  const base = { figure, points, mark };
  const first = points.at(-MOST_POINTS)?.date ?? points[0]?.date;
  const last = points.at(-1);
  if (points.length < FEWEST_POINTS || first === undefined || last === undefined) {
    return { ...base, slopePerDay: null, crossesOn: null, verdict: 'too_few' };
  }
  const line = theilSen(
    points.slice(-MOST_POINTS).map(({ date, value }) => ({ x: dayOf(date) - dayOf(first), y: value })),
  );
  if (line === null) return { ...base, slopePerDay: null, crossesOn: null, verdict: 'too_few' };
  const { slope, intercept } = line;
  const now = intercept + slope * daysBetween(first, last.date);
  if (now > mark) return { ...base, slopePerDay: slope, crossesOn: null, verdict: 'above' };
  if (slope <= 0) return { ...base, slopePerDay: slope, crossesOn: null, verdict: 'steady' };
  const days = Math.floor((mark - intercept) / slope) + 1;
  const crossesOn = days > daysBetween(first, last.date) + FARTHEST_DAYS ? null : addDays(first, days);
  return { ...base, slopePerDay: slope, crossesOn, verdict: 'rising' };
}
