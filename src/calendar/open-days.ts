/** The days on which a practice is open: its weekdays less the single dates on which it is closed. */
import { type DayNumber, dateOfDay, dayOf } from './date.ts';
import type { CalendarDate } from './zone.ts';

/** Weekdays by the day number modulo 7: 1970-01-01 was a Thursday. */
const WEEKDAYS = ['thu', 'fri', 'sat', 'sun', 'mon', 'tue', 'wed'] as const;

export type WeekdayName = (typeof WEEKDAYS)[number];

export interface OpenDays {
  /** The weekdays, at least one. */
  readonly openDays: readonly WeekdayName[];
  readonly closedDates: readonly CalendarDate[];
}

/** @example weekdayOf('2026-11-25') //=> 'wed' */
export function weekdayOf(date: CalendarDate): WeekdayName {
  return weekdayOfDay(dayOf(date));
}

/** @example isOpen('2026-12-25', { openDays: ['fri'], closedDates: ['2026-12-25'] }) //=> false */
export function isOpen(date: CalendarDate, practice: OpenDays): boolean {
  return openTest(practice)(dayOf(date));
}

/**
 * The n-th open day after a date; the date itself never counts. With 0 it is the date itself, open or not.
 *
 * @throws RangeError where the practice has no open weekday at all; the inventory's schema wants one.
 * @example addOpenDays('2026-11-28', 1, { openDays: ['mon', 'sat'], closedDates: [] }) //=> '2026-11-30'
 */
export function addOpenDays(date: CalendarDate, count: number, practice: OpenDays): CalendarDate {
  if (practice.openDays.length === 0) throw new RangeError('a practice without open days');
  const isOpenDay = openTest(practice);
  let day = dayOf(date);
  for (let left = count; left > 0; ) {
    day++;
    if (isOpenDay(day)) left--;
  }
  return dateOfDay(day);
}

/**
 * How many open days lie after `from`, up to and including `to`; 0 when `to` is not later.
 *
 * @example openDaysBetween('2026-11-27', '2026-11-30', { openDays: ['mon', 'fri'], closedDates: [] }) //=> 1
 */
export function openDaysBetween(from: CalendarDate, to: CalendarDate, practice: OpenDays): number {
  const isOpenDay = openTest(practice);
  const last = dayOf(to);
  let count = 0;
  for (let day = dayOf(from) + 1; day <= last; day++) if (isOpenDay(day)) count++;
  return count;
}

function openTest({ openDays, closedDates }: OpenDays): (day: DayNumber) => boolean {
  const closed = new Set(closedDates.map(dayOf));
  return day => openDays.includes(weekdayOfDay(day)) && !closed.has(day);
}

function weekdayOfDay(day: DayNumber): WeekdayName {
  // The fallback is for the type checker: the index is always 0 to 6.
  return WEEKDAYS[((day % 7) + 7) % 7] ?? 'thu';
}
