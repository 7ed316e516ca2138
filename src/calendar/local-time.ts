/** The time on the practice's wall → an instant. */
import { timestampIn } from './zone.ts';

/** `gap`: the clocks were put forward over it, there was no such time. `twice`: they were put back, it was there twice. */
export type LocalInstant = { readonly instant: Date } | 'gap' | 'twice';

const DAY_MS = 86_400_000;

/**
 * The instant at which the clocks of a zone showed this.
 *
 * @param local - YYYY-MM-DDTHH:MM:SS, a date and time of the calendar.
 * @example instantOfLocal('Europe/Dublin', '2026-07-01T09:14:03') //=> { instant: 2026-07-01T08:14:03Z }
 */
export function instantOfLocal(timeZone: string, local: string): LocalInstant {
  const asIfUtc = Date.parse(`${local}Z`);
  // The offset is one of those that hold a day before and a day after: zones do not change twice within two days.
  const offsets = [-DAY_MS, DAY_MS].map(shift => offsetMs(timeZone, new Date(asIfUtc + shift)));
  const instants = [...new Set(offsets)]
    .map(offset => new Date(asIfUtc - offset))
    .filter(instant => timestampIn(timeZone, instant).startsWith(local));
  const [instant, second] = instants;
  if (instant === undefined) return 'gap';
  return second === undefined ? { instant } : 'twice';
}

function offsetMs(timeZone: string, instant: Date): number {
  const shown = timestampIn(timeZone, instant);
  return Date.parse(`${shown.slice(0, 19)}Z`) - Math.floor(instant.getTime() / 1000) * 1000;
}
