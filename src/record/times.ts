/** The two times of an entry: when it was entered and when it was done. */
import { type CalendarDate, type Timestamp, timestampIn } from '../calendar/zone.ts';
import { problem, Refusal } from '../problem/problem.ts';

const DATE = /^\d{4}-\d{2}-\d{2}$/;

/**
 * When it is entered: now, but never before the station's last entry, should the clock have been set back.
 *
 * @example enteredAt(new Date('2026-11-25T08:00:00Z'), 'Europe/Dublin', '2026-11-25T08:14:03+00:00') //=> '2026-11-25T08:14:03+00:00'
 */
export function enteredAt(now: Date, timeZone: string, lastAt: Timestamp | null): Timestamp {
  if (lastAt !== null && Math.floor(now.getTime() / 1000) * 1000 < Date.parse(lastAt)) return lastAt;
  return timestampIn(timeZone, now);
}

/**
 * When it was done, as it is written: a date stays a date, an instant is put into the practice's zone.
 *
 * @param on - undefined: just now.
 * @throws Refusal (exit 2) `time_in_future` where that is after `at`, `time_not_understood` where it is neither.
 */
export function doneOn(on: string | undefined, at: Timestamp, timeZone: string): string {
  if (on === undefined) return at;
  const isDate = DATE.test(on);
  const instant = Date.parse(on);
  if (Number.isNaN(instant) || (isDate && !isInCalendar(on))) {
    throw new Refusal([
      problem(
        'time_not_understood',
        `'${on}' is no date and no time`,
        'write it as 2026-11-25 or 2026-11-25T08:14:03+00:00',
      ),
    ]);
  }
  const later = isDate ? on > at.slice(0, 10) : instant > Date.parse(at);
  if (later) {
    throw new Refusal([problem('time_in_future', `${on} has not come yet; it is ${at}`, 'correct the time')]);
  }
  return isDate ? on : timestampIn(timeZone, new Date(instant));
}

function isInCalendar(date: CalendarDate): boolean {
  // Rolls 30 February over, or refuses it; either way it is not the same again.
  const instant = new Date(`${date}T00:00:00Z`);
  return !Number.isNaN(instant.getTime()) && instant.toISOString().startsWith(date);
}
