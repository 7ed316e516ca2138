/** One practice's part of the report: from its inventory and the entries of its record to items and cautions. Pure. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';
import type { Inventory } from '../inventory/inventory.ts';
import type { StationHead } from '../record/read.ts';
import { doneOf, foldStanding } from '../record/standing.ts';
import type { Standing } from '../record/standing-types.ts';
import { missingCounts } from './because.ts';
import { dueItems } from './due.ts';
import { countStates, type DueFilter, filterItems } from './filter.ts';
import type { DueCaution, DueItem, PracticeDue } from './item.ts';

/** What was read of a record. */
interface RecordSeen {
  readonly state: 'none' | 'read' | 'damaged';
  /** All stations' entries in the order on, at, station, line. */
  readonly entries: readonly Entry[];
  readonly stations: readonly StationHead[];
  /** What is damaged, one sentence each without a full stop. */
  readonly damage: readonly string[];
}

export interface PracticeRequest {
  readonly inventory: Inventory;
  readonly record: RecordSeen;
  /** Today in the practice's zone. What is dated later cannot have been done. */
  readonly today: CalendarDate;
  /** The date for which it is worked out. What was done later is ignored, whenever it was entered. */
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
  const standing = foldStanding(inventory, entriesUntil(record.entries, asOf < today ? asOf : today));
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
      ...futureCautions(record.entries, today),
      ...unknownCautions(items),
      ...(isNarrowed(filter) ? [] : leftCautions(inventory, standing)),
    ],
  };
}

/**
 * The entries of what was done up to and including a date. Corrections stay, whatever their date: they do not say that
 * something was done later but that something never was.
 */
function entriesUntil(entries: readonly Entry[], last: CalendarDate): Entry[] {
  return entries.filter(entry => entry.kind === 'correct' || dateOf(entry) <= last);
}

function dateOf(entry: Entry): CalendarDate {
  return doneOf(entry, 0).date;
}

function recordCautions({ state, damage }: RecordSeen): DueCaution[] {
  if (state === 'none') {
    const message = 'there is no record, so every check counts from the day its asset came into service';
    return [{ code: 'no_record', message }];
  }
  const named = damage
    .slice(0, MOST_NAMED)
    .map((message): DueCaution => ({ code: 'record_damaged', message }));
  const left = damage.length - named.length;
  if (left > 0) named.push({ code: 'record_damaged', message: `${left} more places are damaged` });
  return named;
}

function futureCautions(entries: readonly Entry[], today: CalendarDate): DueCaution[] {
  const future = entries.filter(entry => entry.kind !== 'correct' && dateOf(entry) > today);
  const named = future.slice(0, MOST_NAMED).map((entry): DueCaution => {
    const message = `entry ${entry.id} of ${entry.station} is dated ${dateOf(entry)}, after today (${today}); it is left out`;
    return { code: 'entry_in_future', message };
  });
  const left = future.length - named.length;
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
    const missing = missingCounts(used);
    if (missing.length === 0) return [];
    const remedy = `enter a fresh one with: holdfast reading ${asset.id} WEIGHT --new`;
    const message = `${asset.id}, ${check.id}: ${missing.join(' and ')} not known, because no fresh one was ever weighed in; ${remedy}`;
    return [{ code: 'use_unknown', message }];
  });
}

/** Whoever asks for one asset or check does not ask what became of others. */
function isNarrowed({ assets, checks }: DueFilter): boolean {
  return assets.length > 0 || checks.length > 0;
}

function leftCautions(inventory: Inventory, standing: Standing): DueCaution[] {
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
