/** `--on`: when something was done, as a person types it. */
import { parseDate } from '../calendar/date.ts';
import { instantOfLocal } from '../calendar/local-time.ts';
import { timestampIn } from '../calendar/zone.ts';
import { type Problem, problem } from '../problem/problem.ts';

export interface WhenAsked {
  readonly timeZone: string;
  readonly now: Date;
  /** Whether a bare date is too little: of a leak test the hour decides whether it still counts. */
  readonly timeNeeded: boolean;
}

const FORMS =
  '2026-11-25T08:14 (on the clock of the practice), or with its offset as 2026-11-25T08:14:03+00:00';
const WRITTEN = /^(\d{4}-\d{2}-\d{2})[T ](\d{2}):(\d{2})(?::(\d{2}))?(Z|[+-]\d{2}:\d{2})?$/i;

/**
 * Reads a date or a time. Without an offset it is the time on the practice's own clock.
 *
 * @returns the date, or the instant with the practice's offset; else the problem.
 * @example readWhen('2026-07-01T09:14', { timeZone: 'Europe/Dublin', … }) //=> '2026-07-01T09:14:00+01:00'
 */
export function readWhen(text: string, { timeZone, now, timeNeeded }: WhenAsked): string | Problem {
  const date = parseDate(text);
  if (date !== null) {
    if (timeNeeded) {
      const message = `'${text}' is a date, and here the time is needed: what was done to the pair later that day decides whether it counts`;
      return problem('time_not_understood', message, `write it as ${FORMS}`);
    }
    const today = timestampIn(timeZone, now).slice(0, 10);
    return date > today ? inFuture(text, timeZone, now) : date;
  }
  const instant = readInstant(text, timeZone);
  if (!(instant instanceof Date)) return instant;
  return instant.getTime() > now.getTime() ? inFuture(text, timeZone, now) : timestampIn(timeZone, instant);
}

function readInstant(text: string, timeZone: string): Date | Problem {
  const [, date = '', hours = '', minutes = '', seconds = '00', offset] = WRITTEN.exec(text) ?? [];
  const isTime = Number(hours) < 24 && Number(minutes) < 60 && Number(seconds) < 60;
  if (parseDate(date) === null || !isTime || !isOffset(offset)) {
    return problem(
      'time_not_understood',
      `'${text}' is no date or time of the calendar`,
      `write it as 2026-11-25, or ${FORMS}`,
    );
  }
  const local = `${date}T${hours}:${minutes}:${seconds}`;
  if (offset !== undefined) return new Date(`${local}${offset.toUpperCase()}`);
  const found = instantOfLocal(timeZone, local);
  if (found === 'gap') {
    return problem(
      'time_not_understood',
      `there was no ${text} in ${timeZone}: the clocks were put forward over it`,
      'correct the time',
    );
  }
  if (found === 'twice') {
    return problem(
      'time_not_understood',
      `${text} was there twice in ${timeZone}: the clocks were put back`,
      `add the offset, as in 2026-10-25T01:30+01:00`,
    );
  }
  return found.instant;
}

function isOffset(offset: string | undefined): boolean {
  if (offset === undefined || /^z$/i.test(offset)) return true;
  return Number(offset.slice(1, 3)) <= 14 && Number(offset.slice(4)) < 60;
}

function inFuture(text: string, timeZone: string, now: Date): Problem {
  return problem(
    'time_in_future',
    `${text} has not come yet; here it is ${timestampIn(timeZone, now)}`,
    'correct the time',
  );
}
