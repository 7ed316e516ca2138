/**
 * Intervals counted from an anchor. The n-th date is always anchor + n × interval, never the one before plus one interval:
 * 31 January, 28 February, 31 March; chained it would stay on the 28th.
 */
import { addDays, addMonths, daysBetween, monthsBetween } from './date.ts';
import { addOpenDays, type OpenDays, openDaysBetween } from './open-days.ts';
import type { CalendarDate } from './zone.ts';

/** Every unit, as the key under `every` in an inventory. */
export const INTERVAL_UNITS = ['days', 'weeks', 'months', 'years', 'open_days'] as const;

export type IntervalUnit = (typeof INTERVAL_UNITS)[number];

/** An interval in whole units of one kind. */
export interface Interval {
  readonly unit: IntervalUnit;
  /** At least 1. */
  readonly count: number;
}

/**
 * Anchor + n × interval; n = 0 is the anchor itself. Month ends clamp. Open days count only the days the practice is open.
 *
 * @example nthDate('2026-01-31', { unit: 'months', count: 1 }, 2, practice) //=> '2026-03-31'
 */
export function nthDate(
  anchor: CalendarDate,
  interval: Interval,
  n: number,
  practice: OpenDays,
): CalendarDate {
  const steps = n * interval.count;
  switch (interval.unit) {
    case 'days':
      return addDays(anchor, steps);
    case 'weeks':
      return addDays(anchor, steps * 7);
    case 'months':
      return addMonths(anchor, steps);
    case 'years':
      return addMonths(anchor, steps * 12);
    case 'open_days':
      return addOpenDays(anchor, steps, practice);
  }
}

/**
 * The first date of the grid anchor, anchor + interval, anchor + 2 × interval, … that lies strictly after a date.
 *
 * @example firstOnGridAfter('2026-01-31', { unit: 'months', count: 6 }, '2026-07-31', practice) //=> '2027-01-31'
 */
export function firstOnGridAfter(
  anchor: CalendarDate,
  interval: Interval,
  after: CalendarDate,
  practice: OpenDays,
): CalendarDate {
  if (after < anchor) return anchor;
  if (interval.unit === 'open_days') {
    // Counting on from `after` is the same as counting from the anchor, because what lies between was counted from there.
    const passed = openDaysBetween(anchor, after, practice);
    return addOpenDays(after, interval.count - (passed % interval.count), practice);
  }
  // A step never too far; clamped month ends can make it one or two short.
  let n = Math.floor(unitsBetween(anchor, after, interval.unit) / interval.count);
  while (nthDate(anchor, interval, n, practice) <= after) n++;
  return nthDate(anchor, interval, n, practice);
}

function unitsBetween(
  from: CalendarDate,
  to: CalendarDate,
  unit: Exclude<IntervalUnit, 'open_days'>,
): number {
  switch (unit) {
    case 'days':
      return daysBetween(from, to);
    case 'weeks':
      return Math.floor(daysBetween(from, to) / 7);
    case 'months':
      return monthsBetween(from, to);
    case 'years':
      return Math.floor(monthsBetween(from, to) / 12);
  }
}

/**
 * About how many days an interval lasts, to tell short ones from long ones: a month counts 30, a year 365, open days by
 * the open weekdays of a week.
 *
 * @example daysInInterval({ unit: 'open_days', count: 5 }, { openDays: ['mon', 'tue', 'wed', 'thu', 'fri'], closedDates: [] }) //=> 7
 */
export function daysInInterval({ unit, count }: Interval, { openDays }: OpenDays): number {
  switch (unit) {
    case 'days':
      return count;
    case 'weeks':
      return count * 7;
    case 'months':
      return count * 30;
    case 'years':
      return count * 365;
    case 'open_days':
      return (count * 7) / openDays.length;
  }
}
