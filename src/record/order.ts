/** The order of the entries of all stations: on, at, station, line. */
import { endOfDayIn } from '../calendar/day-end.ts';
import type { CalendarDate } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';

/**
 * Gives the instant by which an entry counts, in ms since 1970. A bare date counts as the end of that day in the practice's zone,
 * but never after the entry was entered: of two things done on one day, the one without a time is taken as the later,
 * which is the safe side for a failure and costs at most one more leak test for a pass.
 *
 * @returns a function that remembers each day's end.
 * @example doneAtMs('Europe/Dublin')(entry) //=> 1795680843000
 */
export function doneAtMs(timeZone: string): (entry: Pick<Entry, 'on' | 'at'>) => number {
  const onDate = doneOnDateMs(timeZone);
  return ({ on, at }) => (on.includes('T') ? Date.parse(on) : onDate(on, Date.parse(at)));
}

/** The same for what has a bare date, and was entered at an instant in ms since 1970. */
export function doneOnDateMs(timeZone: string): (on: CalendarDate, atMs: number) => number {
  const ends = new Map<string, number>();
  return (on, atMs) => {
    let end = ends.get(on);
    if (end === undefined) {
      end = endOfDayIn(timeZone, on);
      ends.set(on, end);
    }
    return Math.min(end, atMs);
  };
}

/** What an entry is ordered by. `line` counts over all years of its station. */
export interface OrderKey {
  readonly on: number;
  readonly at: number;
  readonly station: string;
  readonly line: number;
}

/** For sorting. */
export function byOrder(a: OrderKey, b: OrderKey): number {
  if (a.on !== b.on) return a.on - b.on;
  if (a.at !== b.at) return a.at - b.at;
  if (a.station !== b.station) return a.station < b.station ? -1 : 1;
  return a.line - b.line;
}
