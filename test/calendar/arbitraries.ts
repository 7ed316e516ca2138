import fc from 'fast-check';
import { INTERVAL_UNITS, type Interval, type IntervalUnit } from '../../src/calendar/interval.ts';
import type { OpenDays } from '../../src/calendar/open-days.ts';
import { daysInMonth, write } from './naive.ts';

/** Dates of the years 1990 to 2060; ends of months and 29 February more often than they fall. */
export const someDate: fc.Arbitrary<string> = fc
  .tuple(
    fc.integer({ min: 1990, max: 2060 }),
    fc.integer({ min: 1, max: 12 }),
    fc.integer({ min: 1, max: 31 }),
  )
  .map(([year, month, day]) => write({ year, month, day: Math.min(day, daysInMonth(year, month)) }));

/** Never longer than about three years, so that walking stays cheap. */
const MOST: Readonly<Record<IntervalUnit, number>> = {
  days: 400,
  weeks: 60,
  months: 30,
  years: 3,
  open_days: 90,
};

export const someInterval: fc.Arbitrary<Interval> = fc
  .constantFrom(...INTERVAL_UNITS)
  .chain(unit => fc.record({ unit: fc.constant(unit), count: fc.integer({ min: 1, max: MOST[unit] }) }));

export const somePractice: fc.Arbitrary<OpenDays> = fc.record({
  openDays: fc.subarray(['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const, { minLength: 1 }),
  closedDates: fc.uniqueArray(someDate, { maxLength: 20 }),
});
