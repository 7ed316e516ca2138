/** What of a record counts on a day where some of it is dated later: a workplace's clock was ahead. Pure. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';
import { cancelledIds } from './cancelled.ts';

/** The entries that count on a day, and those dated after it. */
export interface CountedEntries {
  /**
   * In the order of the record. Of what is dated later only what speaks against equipment is there, at the end, as though
   * it had just been done.
   */
  readonly entries: readonly Entry[];
  /**
   * All that is dated later and was not cancelled. Corrections are none of them: they say not that something was done but
   * that something never was, whatever date they bear.
   */
  readonly future: readonly Entry[];
}

/**
 * Sorts out what counts. A withdrawal or a failure was entered because something is wrong, and a wrong clock does not mend
 * it; a pass, a return or a reading with an impossible date proves nothing.
 *
 * @param entriesInOrder - all stations' entries in the order on, at, station, line.
 * @example countedOn([withdrawal2027, pass2027], '2026-11-25').entries //=> [withdrawal2027]
 */
export function countedOn(entriesInOrder: readonly Entry[], today: CalendarDate): CountedEntries {
  const isLater = ({ on, kind }: Entry) => kind !== 'correct' && on.slice(0, 10) > today;
  if (!entriesInOrder.some(isLater)) return { entries: entriesInOrder, future: [] };
  const cancelled = cancelledIds(entriesInOrder);
  const entries = entriesInOrder.flatMap((entry): Entry[] => {
    if (!isLater(entry)) return [entry];
    if (!speaksAgainst(entry)) return [];
    // Wear is dated by the use that reached a limit; with a later date it would not be reached yet.
    return [entry.kind === 'usage' ? { ...entry, on: today } : entry];
  });
  const future = entriesInOrder.filter(entry => isLater(entry) && !cancelled.has(entry.id));
  return { entries, future };
}

function speaksAgainst(entry: Entry): boolean {
  switch (entry.kind) {
    case 'withdraw':
    case 'usage':
      return true;
    case 'hold':
      return entry.result === 'fail' || entry.pop_off !== 'open';
    case 'supply_hold':
    case 'sign_off':
      return entry.result === 'fail';
    case 'reading':
    case 'return':
    case 'compliance':
    case 'correct':
      return false;
  }
}

/** More than this are counted, not named. */
const MOST_NAMED = 3;

/**
 * What is to be said of entries dated after a day, as one sentence without a full stop; null where there are none.
 *
 * @example futureWords(future, '2026-11-25') //=> '2 entries are dated after today (2026-11-25): … (prep, 2027-11-25) …'
 */
export function futureWords(future: readonly Entry[], today: CalendarDate): string | null {
  if (future.length === 0) return null;
  const named = future
    .slice(0, MOST_NAMED)
    .map(({ id, station, on }) => `${id} (${station}, ${on.slice(0, 10)})`);
  const more = future.length > named.length ? ` and ${future.length - named.length} more` : '';
  const stations = [...new Set(future.map(({ station }) => station))];
  const count = future.length === 1 ? '1 entry is' : `${future.length} entries are`;
  return (
    `${count} dated after today (${today}): ${named.join(', ')}${more}; what fails or withdraws counts, what passes does not. ` +
    `Set the clock of ${stations.join(' and ')} right, cancel what is dated wrong with holdfast correct ENTRY, and enter it anew`
  );
}
