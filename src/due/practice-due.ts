/** One practice's part of the report: from its inventory and what its record says to items and cautions. Pure. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Inventory } from '../inventory/inventory.ts';
import type { StationHead } from '../record/read.ts';
import type { DueStanding } from '../record/standing-types.ts';
import { unknownUse } from './because.ts';
import { dueItems } from './due.ts';
import { countStates, type DueFilter, filterItems } from './filter.ts';
import type { DueCaution, DueItem, PracticeDue } from './item.ts';

/** What was read of a record. */
interface RecordSeen {
  /** Where it was looked for. */
  readonly folder: string;
  readonly state: 'none' | 'read' | 'damaged';
  /** What the record says up to and including the earlier of `today` and `asOf`. */
  readonly standing: DueStanding;
  readonly future: FutureEntries;
  readonly stations: readonly StationHead[];
  /** What is damaged, one sentence each without a full stop. */
  readonly damage: readonly string[];
}

/** Entries dated after today. Corrections are none: they say not that something was done but that something never was. */
export interface FutureEntries {
  readonly count: number;
  /** The earliest of them, in the order of the record. */
  readonly first: readonly { readonly id: string; readonly station: string; readonly date: CalendarDate }[];
}

export interface PracticeRequest {
  readonly inventory: Inventory;
  readonly record: RecordSeen;
  /** Today in the practice's zone. */
  readonly today: CalendarDate;
  /** The date for which it is worked out. */
  readonly asOf: CalendarDate;
  readonly soonDays: number;
  readonly filter: DueFilter;
}

/** More than this of one kind are counted, not named one by one. */
const MOST_NAMED = 5;

export function practiceDue({
  inventory,
  record,
  today,
  asOf,
  soonDays,
  filter,
}: PracticeRequest): PracticeDue {
  const { standing } = record;
  const items = filterItems(dueItems({ inventory, standing, asOf, soonDays }), filter);
  return {
    practice: inventory.practice.name,
    inventory: { file: inventory.file, blob: inventory.blob },
    asOf,
    record: record.state,
    stations: record.stations,
    items,
    counts: countStates(items),
    cautions: [
      ...recordCautions(record),
      ...futureCautions(record.future, today),
      ...unknownCautions(items),
      ...(isNarrowed(filter) ? [] : leftCautions(inventory, standing)),
    ],
  };
}

function recordCautions({ folder, state, stations, damage }: RecordSeen): DueCaution[] {
  const unknown = 'so nothing is known to have been done';
  const place = folder.replace(/\/?$/, '/');
  if (state === 'none') return [{ code: 'no_record', message: `there is no record at ${place}, ${unknown}` }];
  // A folder that was made but never written to, or a wrong one: the report looks the same as without any.
  if (state === 'read' && stations.every(({ entries }) => entries === 0))
    return [{ code: 'no_record', message: `the record at ${place} has no entries, ${unknown}` }];
  const named = damage
    .slice(0, MOST_NAMED)
    .map((message): DueCaution => ({ code: 'record_damaged', message }));
  const left = damage.length - named.length;
  if (left > 0) named.push({ code: 'record_damaged', message: `${left} more places are damaged` });
  return named;
}

function futureCautions({ count, first }: FutureEntries, today: CalendarDate): DueCaution[] {
  const named = first.map(({ id, station, date }): DueCaution => {
    const message = `entry ${id} of ${station} is dated ${date}, after today (${today}); it is left out`;
    return { code: 'entry_in_future', message };
  });
  const left = count - named.length;
  if (left > 0)
    named.push({
      code: 'entry_in_future',
      message: `${left} more entries are dated after today; they are left out`,
    });
  return named;
}

function unknownCautions(items: readonly DueItem[]): DueCaution[] {
  return items.flatMap(({ asset, check, used, state }): DueCaution[] => {
    if (used === null || state === 'withdrawn') return [];
    return unknownUse(used, asset.id).map(({ what, why, remedy }): DueCaution => {
      const message = `${asset.id}, ${check.id}: ${what} not known, because ${why}; ${remedy}`;
      return { code: 'use_unknown', message };
    });
  });
}

/** Whoever asks for one asset or check does not ask what became of others. */
function isNarrowed({ assets, checks }: DueFilter): boolean {
  return assets.length > 0 || checks.length > 0;
}

function leftCautions(inventory: Inventory, standing: DueStanding): DueCaution[] {
  const left = [...standing.assets.keys()].filter(id => !inventory.assets.has(id)).sort();
  if (left.length === 0) return [];
  const verb = left.length === 1 ? 'stands' : 'stand';
  return [
    {
      code: 'asset_left_inventory',
      message: `${left.join(', ')} ${verb} in the record but no longer in the inventory; not counted`,
    },
  ];
}
