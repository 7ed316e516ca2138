/** What entries in memory say for the due report, the plain way: what a scan of a record must find as well. */
import type { PracticeRequest } from '../../src/due/practice-due.ts';
import type { Entry } from '../../src/generated/entry.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { foldStanding } from '../../src/record/standing.ts';

/** @param entries - in the order on, at, station, line. */
export function seenIn(
  inventory: Inventory,
  entries: readonly Entry[],
  { today, asOf }: { today: string; asOf: string },
): Pick<PracticeRequest['record'], 'standing' | 'future'> {
  const last = asOf < today ? asOf : today;
  const dateOf = (entry: Entry) => entry.on.slice(0, 10);
  // Corrections stay, whatever their date: they do not say that something was done later but that something never was.
  const done = entries.filter(entry => entry.kind === 'correct' || dateOf(entry) <= last);
  const future = entries.filter(entry => entry.kind !== 'correct' && dateOf(entry) > today);
  return {
    standing: foldStanding(inventory, done),
    future: {
      count: future.length,
      first: future.slice(0, 5).map(entry => ({ id: entry.id, station: entry.station, date: dateOf(entry) })),
    },
  };
}
