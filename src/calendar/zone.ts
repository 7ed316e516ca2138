/** Instants and the practice's time zone. The clock is read at the edge of the program and passed down. */
import { tzOffset } from '@date-fns/tz/tzOffset';

/** A calendar date, YYYY-MM-DD. Never an instant. */
export type CalendarDate = string;

/** An instant as RFC 3339 with the practice's offset, for example 2026-11-25T08:14:03+00:00. */
export type Timestamp = string;

/**
 * An instant written in a zone, to the second.
 *
 * @throws RangeError where there is no such zone; the inventory's loader has looked before.
 * @example timestampIn('Europe/Dublin', new Date('2026-07-01T08:14:03Z')) //=> '2026-07-01T09:14:03+01:00'
 */
export function timestampIn(timeZone: string, instant: Date): Timestamp {
  const offsetMinutes = offsetIn(timeZone, instant);
  if (offsetMinutes === null) throw new RangeError(`no time zone ${timeZone}`);
  // Offsets with seconds ended everywhere before 1972; the nearest minute is exact for every date since.
  const offset = Math.round(offsetMinutes);
  const local = new Date(instant.getTime() + offset * 60_000).toISOString().slice(0, 19);
  const size = Math.abs(offset);
  const sign = offset < 0 ? '-' : '+';
  return `${local}${sign}${twoDigits(Math.floor(size / 60))}:${twoDigits(size % 60)}`;
}

/**
 * Today's calendar date in a zone, or null where there is no such zone.
 *
 * @example todayIn('Pacific/Auckland', new Date('2026-11-25T12:00:00Z')) //=> '2026-11-26'
 */
export function todayIn(timeZone: string, instant: Date): CalendarDate | null {
  if (offsetIn(timeZone, instant) === null) return null;
  return timestampIn(timeZone, instant).slice(0, 10);
}

/** Minutes east of UTC, or null where there is no such zone. */
function offsetIn(timeZone: string, instant: Date): number | null {
  return isZone(timeZone) ? tzOffset(timeZone, instant) : null;
}

/** Whether the platform knows the zone by its IANA name. A bare offset such as +01:00 is no zone. */
function isZone(timeZone: string): boolean {
  if (!/^[A-Za-z]/.test(timeZone)) return false;
  try {
    // tzOffset alone would take any name with an offset in it.
    new Intl.DateTimeFormat('en', { timeZone });
    return true;
  } catch {
    return false;
  }
}

function twoDigits(n: number): string {
  return String(n).padStart(2, '0');
}
