/** Where a calendar date ends in a zone. */
import { type CalendarDate, timestampIn } from './zone.ts';

const DAY_MS = 86_400_000;

/**
 * The last second of a calendar date in a zone, in ms since 1970. Days of 23 or 25 hours, nights without a midnight and
 * dates that a zone left out are honoured.
 *
 * @throws RangeError where there is no such zone or date.
 * @example new Date(endOfDayIn('Europe/Dublin', '2026-07-01')).toISOString() //=> '2026-07-01T22:59:59.000Z'
 */
export function endOfDayIn(timeZone: string, date: CalendarDate): number {
  const midnightUtc = Date.parse(`${date}T00:00:00Z`) + DAY_MS;
  if (Number.isNaN(midnightUtc)) throw new RangeError(`no date ${date}`);
  // The offset may change on that very night: of the two candidates the one at which the date turns.
  const candidates = [midnightUtc - DAY_MS, midnightUtc + DAY_MS].map(
    near => midnightUtc - offsetMs(timeZone, near),
  );
  const [first = midnightUtc, second = midnightUtc] = candidates.sort((a, b) => a - b);
  return (isDateAtMost(timeZone, first, date) ? second : first) - 1000;
}

function isDateAtMost(timeZone: string, ms: number, date: CalendarDate): boolean {
  return timestampIn(timeZone, new Date(ms)).slice(0, 10) <= date;
}

function offsetMs(timeZone: string, ms: number): number {
  return Date.parse(`${timestampIn(timeZone, new Date(ms)).slice(0, 19)}Z`) - ms;
}
