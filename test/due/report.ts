import type { DueReport } from '../../src/due/item.ts';
import { practiceDue } from '../../src/due/practice-due.ts';
import type { Entry } from '../../src/generated/entry.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { larkhill } from './helpers.ts';
import { seenIn } from './seen.ts';

export const STATION = { station: 'theatre', head: 'ab'.repeat(32), entries: 12 };

/** A report of one practice on Wednesday 25 November 2026. */
export function reportOf(
  entries: readonly Entry[],
  { inventory = larkhill(), damage = [] as string[], asOf = '2026-11-25' } = {},
): DueReport {
  return {
    asOf,
    madeAt: new Date('2026-11-25T06:00:00Z'),
    practices: [
      practiceDue({
        inventory,
        record: {
          folder: 'larkhill/record',
          state: damage.length > 0 ? 'damaged' : 'read',
          ...seenIn(inventory, entries, { today: '2026-11-25', asOf }),
          stations: [STATION],
          damage,
        },
        today: '2026-11-25',
        asOf,
        soonDays: 7,
        filter: { assets: [], checks: [], states: [] },
      }),
    ],
  };
}

/** The practice under another name, as a person may have typed it. */
export function named(name: string): Inventory {
  const inventory = larkhill();
  return { ...inventory, practice: { ...inventory.practice, name } };
}
