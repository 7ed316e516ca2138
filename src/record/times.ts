/** The two times of an entry: when it was entered and when it was done. */
import { type CalendarDate, type Timestamp, timestampIn } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';
import { type Problem, problem, Refusal } from '../problem/problem.ts';
import { isDoneAfter } from './contradiction.ts';

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

/** When an entry is entered, and by which clock. */
export interface Entered {
  /** `enteredAt` */
  readonly at: Timestamp;
  readonly now: Date;
  readonly timeZone: string;
}

/**
 * When it was done, as it is written: a date stays a date, an instant is put into the practice's zone.
 *
 * @param on - undefined: just now.
 * @throws Refusal (exit 2) `time_in_future` where that has not come yet, `time_not_understood` where it is neither.
 * @example doneOn(undefined, { at: '2027-11-25T08:00:00+00:00', now: new Date('2026-11-25T08:14:03Z'), timeZone: 'Europe/Dublin' })
 *   //=> '2026-11-25T08:14:03+00:00'
 */
export function doneOn(on: string | undefined, { at, now, timeZone }: Entered): string {
  const clock = timestampIn(timeZone, now);
  // On one day the order of what was entered is kept, so that a failure never comes before the pass that preceded it. Put on a
  // later day, it would not count today.
  if (on === undefined) return at.slice(0, 10) === clock.slice(0, 10) ? at : clock;
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
  const later = isDate ? on > clock.slice(0, 10) : instant > Date.parse(clock);
  if (later) {
    throw new Refusal([
      problem('time_in_future', `${on} has not come yet; it is ${clock}`, 'correct the time'),
    ]);
  }
  return isDate ? on : timestampIn(timeZone, new Date(instant));
}

/** A writer may have waited for another since it read the clock, and a clock that is set by itself jumps by little. */
const CLOCK_TOLERANCE_MS = 5 * 60_000;

/**
 * What is to be said where the station's last entry is dated in the future by this clock: whatever is entered now stands
 * behind it. Nothing once an entry counts from its right time, though it bears the lifted `at` for as long as the clock was ahead.
 *
 * @param last - the station's last entry; null: none.
 */
export function clockCautions(
  last: Pick<Entry, 'id' | 'at' | 'on'> | null,
  station: string,
  entered: Entered,
): Problem[] {
  const { now, timeZone } = entered;
  if (last === null || Date.parse(last.at) - now.getTime() < CLOCK_TOLERANCE_MS) return [];
  const clock = timestampIn(timeZone, now);
  if (!isDoneAfter({ on: last.on, at: clock })) return [];
  const on = doneOn(undefined, entered);
  const kept =
    on === entered.at
      ? 'so what is entered now is put at that time too'
      : `so what is entered now is entered at that time too, and counts as done at ${on}`;
  const message = `the last entry of ${station}, ${last.id}, bears the time ${last.at}, and by this clock it is ${clock}; ${kept}`;
  return [
    problem(
      'last_entry_in_future',
      message,
      `set the clock of ${station} right; cancel what bears a wrong time with: holdfast correct ${last.id} --because "wrong clock", and enter it anew`,
    ),
  ];
}

function isInCalendar(date: CalendarDate): boolean {
  // Rolls 30 February over, or refuses it; either way it is not the same again.
  const instant = new Date(`${date}T00:00:00Z`);
  return !Number.isNaN(instant.getTime()) && instant.toISOString().startsWith(date);
}
