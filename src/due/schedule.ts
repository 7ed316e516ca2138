/** When a check comes round by the calendar. Use and failures are looked at elsewhere. Pure. */

import { firstOnGridAfter, nthDate } from '../calendar/interval.ts';
import type { CalendarDate } from '../calendar/zone.ts';
import type { Check, Practice } from '../inventory/inventory.ts';

/** The part of a check that says when it comes round. */
export type Schedule = Pick<Check, 'every' | 'countedFrom' | 'starting'>;

/**
 * The next date of a check, or null where it has no interval, or nothing to count from.
 *
 * Counted from last_done: the last pass + the interval; never passed: from the day the asset came into service. Counted
 * from the calendar: the first date of the grid strictly after the last pass, so that passing early does not bring a second
 * date into the same period; never passed: strictly after the day the asset came into service, and where that is not
 * known the first date of the grid.
 *
 * @param lastPass - the date of the last pass, or null
 * @param since - the date since which the asset is in service, or null
 * @example nextDate({ every: { unit: 'months', count: 1 }, countedFrom: 'last_done', starting: null }, '2026-01-31', null, practice) //=> '2026-02-28'
 */
export function nextDate(
  { every, countedFrom, starting }: Schedule,
  lastPass: CalendarDate | null,
  since: CalendarDate | null,
  practice: Practice,
): CalendarDate | null {
  if (every === null) return null;
  const base = lastPass ?? since;
  if (countedFrom === 'last_done') return base === null ? null : nthDate(base, every, 1, practice);
  if (starting === null) return null;
  return base === null ? starting : firstOnGridAfter(starting, every, base, practice);
}
