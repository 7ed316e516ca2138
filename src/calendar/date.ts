/**
 * Calendar dates and what is counted on them. Everything goes by numbers of days and months, never by local time, so that
 * the zone of the machine cannot move a date: some zones have left whole days out.
 */
import type { CalendarDate } from './zone.ts';

/** Days since 1970-01-01, negative before. */
export type DayNumber = number;

const DAY_MS = 86_400_000;
const WRITTEN = /^(\d{4})-(\d{2})-(\d{2})$/;

/**
 * A date written YYYY-MM-DD that stands in the calendar, or null.
 *
 * @example parseDate('2026-02-29') //=> null
 */
export function parseDate(text: string): CalendarDate | null {
  const day = dayOrNull(text);
  // Not by dateOfDay: 0000-00-00 and 9999-12-32 count to days of years that no date is written with.
  return day !== null && new Date(day * DAY_MS).toISOString().slice(0, 10) === text ? text : null;
}

/**
 * Where a date stands in the count of days.
 *
 * @throws RangeError where the text is no date; what reads files and options has looked before.
 * @example dayOf('1970-01-02') //=> 1
 */
export function dayOf(date: CalendarDate): DayNumber {
  const day = dayOrNull(date);
  if (day === null) throw new RangeError(`no calendar date: ${date}`);
  return day;
}

/**
 * The date of a day's number, in the years 0000 to 9999.
 *
 * @throws RangeError beyond those years: longer dates would no longer sort as texts.
 * @example dateOfDay(1) //=> '1970-01-02'
 */
export function dateOfDay(day: DayNumber): CalendarDate {
  const written = new Date(day * DAY_MS).toISOString();
  if (!/^\d{4}-/.test(written)) throw new RangeError(`no calendar date: day ${day}`);
  return written.slice(0, 10);
}

/** @example addDays('2026-02-28', 1) //=> '2026-03-01' */
export function addDays(date: CalendarDate, days: number): CalendarDate {
  return dateOfDay(dayOf(date) + days);
}

/**
 * The same day of the month, so many months on; where that month is too short, its last day.
 *
 * @example addMonths('2026-01-31', 1) //=> '2026-02-28'
 */
export function addMonths(date: CalendarDate, months: number): CalendarDate {
  const target = monthOf(date) + months;
  const last = firstDayOf(target + 1) - firstDayOf(target);
  return dateOfDay(firstDayOf(target) + Math.min(Number(date.slice(8)), last) - 1);
}

/** Whole days from one date to another, negative when the other is earlier. @example daysBetween('2026-02-28', '2026-03-01') //=> 1 */
export function daysBetween(from: CalendarDate, to: CalendarDate): number {
  return dayOf(to) - dayOf(from);
}

/** Months from one date's month to another's, whatever the days. @example monthsBetween('2026-01-31', '2026-03-01') //=> 2 */
export function monthsBetween(from: CalendarDate, to: CalendarDate): number {
  return monthOf(to) - monthOf(from);
}

/** Months since year 0. */
function monthOf(date: CalendarDate): number {
  return Number(date.slice(0, 4)) * 12 + Number(date.slice(5, 7)) - 1;
}

function firstDayOf(month: number): DayNumber {
  return dayNumber(Math.floor(month / 12), month % 12, 1);
}

/** Months count from 0. setUTCFullYear, because Date.UTC takes the years 0 to 99 for 1900 to 1999. */
function dayNumber(year: number, month: number, day: number): DayNumber {
  return new Date(0).setUTCFullYear(year, month, day) / DAY_MS;
}

function dayOrNull(text: string): DayNumber | null {
  const [, year, month, day] = WRITTEN.exec(text) ?? [];
  return year === undefined ? null : dayNumber(Number(year), Number(month) - 1, Number(day));
}
