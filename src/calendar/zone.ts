/** Instants and the practice's time zone. The clock is read at the edge of the program and passed down. */

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
  const offset = offsetIn(timeZone, instant);
  if (offset === null) throw new RangeError(`no time zone ${timeZone}`);
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

/** Minutes east of UTC of a zone at an instant, or null where there is no such zone. */
export type OffsetIn = (timeZone: string, instant: Date) => number | null;

/** Asked before `Intl`, which takes half as long as a whole start of Node for its first answer; null: it does not know. */
let quickOffsetIn: OffsetIn = () => null;

/** Lets the process boundary supply a quicker way to the same offsets. What it does not know is asked of `Intl`. */
export function useQuickOffsets(quick: OffsetIn): void {
  quickOffsetIn = quick;
}

function offsetIn(timeZone: string, instant: Date): number | null {
  return quickOffsetIn(timeZone, instant) ?? offsetByIntl(timeZone, instant);
}

const formats = new Map<string, Intl.DateTimeFormat | null>();

/** As `Intl` has it; a bare offset such as +01:00 is no zone. Sets the standard for anything quicker. */
export function offsetByIntl(timeZone: string, instant: Date): number | null {
  let format = formats.get(timeZone);
  if (format === undefined) {
    format = zoneFormat(timeZone);
    formats.set(timeZone, format);
  }
  if (format === null) return null;
  // "11/25/2026, GMT+01:00"; plain "GMT" is UTC. A zone's far past may have seconds, which are left out.
  const match = /GMT(?:([+-])(\d{2}):(\d{2}))?/.exec(format.format(instant));
  const minutes = Number(match?.[2] ?? 0) * 60 + Number(match?.[3] ?? 0);
  return match?.[1] === '-' ? -minutes : minutes;
}

function zoneFormat(timeZone: string): Intl.DateTimeFormat | null {
  if (!/^[A-Za-z]/.test(timeZone)) return null;
  try {
    return new Intl.DateTimeFormat('en-US', { timeZone, timeZoneName: 'longOffset' });
  } catch {
    return null;
  }
}

function twoDigits(n: number): string {
  return String(n).padStart(2, '0');
}
