/** Every check of every asset: when it is due, and how it stands on a date. Pure. */
import { daysBetween } from '../calendar/date.ts';
import { daysInInterval } from '../calendar/interval.ts';
import type { CalendarDate } from '../calendar/zone.ts';
import type { Asset, Check, Inventory, Practice } from '../inventory/inventory.ts';
import { type AssetDueStanding, type DueStanding, standsFailed } from '../record/standing-types.ts';
import { because, type Facts, unknownUse } from './because.ts';
import { groupBy } from './group.ts';
import { DUE_STATES, type DueItem, type DueState, type Limit } from './item.ts';
import { nextDate } from './schedule.ts';
import { countUse } from './use.ts';

/** What the items are worked out from. */
export interface DueRequest {
  readonly inventory: Inventory;
  /** What the record says up to and including `asOf`; later entries must not be in it. */
  readonly standing: DueStanding;
  readonly asOf: CalendarDate;
  /** Within so many days it is due soon; 0: nothing is. */
  readonly soonDays: number;
}

/**
 * The items, worst first: the asset with the worst item leads, and within an asset its worst item. What stands equal
 * comes in the order of its date, then of the inventory.
 *
 * @example dueItems({ inventory, standing, asOf: '2026-11-25', soonDays: 7 })[0]?.state //=> 'overdue'
 */
export function dueItems({ inventory, standing, asOf, soonDays }: DueRequest): DueItem[] {
  const items = inventory.checks.flatMap(check =>
    check.assets.flatMap(id => {
      const asset = inventory.assets.get(id);
      if (asset === undefined) return [];
      return [
        dueItem(check, asset, standing.assets.get(id), { practice: inventory.practice, asOf, soonDays }),
      ];
    }),
  );
  return worstFirst(items);
}

interface Day {
  readonly practice: Practice;
  readonly asOf: CalendarDate;
  readonly soonDays: number;
}

function dueItem(check: Check, asset: Asset, standing: AssetDueStanding | undefined, day: Day): DueItem {
  const checkStanding = standing?.checks.get(check.id) ?? { lastPass: null, lastFail: null };
  const lastDoneOn = checkStanding.lastPass?.date ?? null;
  const failedOn = standsFailed(checkStanding) ? (checkStanding.lastFail?.date ?? null) : null;
  const counts = countUse(check, asset, standing);
  const used = counts.hoursInUse === null && counts.gainG === null ? null : counts;

  const earliest = earliestOf([
    ['failed', failedOn],
    ['hours_in_use', counts.hoursInUse?.reachedOn ?? null],
    ['gain_g', counts.gainG?.reachedOn ?? null],
    ['interval', nextDate(check, lastDoneOn, asset.since, day.practice)],
  ]);
  const dueOn = earliest?.date ?? null;
  const withdrawn = standing?.withdrawn ?? null;
  const state = withdrawn !== null ? 'withdrawn' : failedOn !== null ? 'overdue' : stateOf(check, dueOn, day);
  const facts: Facts = {
    asset,
    check,
    state,
    dueOn,
    limit: earliest?.limit ?? null,
    daysOverdue: state === 'overdue' && dueOn !== null ? Math.max(0, daysBetween(dueOn, day.asOf)) : 0,
    lastDoneOn,
    failedOn,
    used,
    withdrawn: withdrawn === null ? null : { date: withdrawn.done.date, because: withdrawn.because },
  };
  const { withdrawn: _, ...item } = facts;
  return {
    ...item,
    isUseUnknown: used !== null && unknownUse(used, asset.id).length > 0,
    because: because(facts),
  };
}

type Candidate = readonly [limit: Limit, date: CalendarDate | null];

/** The earliest of the dates; of equal ones the first. */
function earliestOf(candidates: readonly Candidate[]): { limit: Limit; date: CalendarDate } | null {
  let earliest: { limit: Limit; date: CalendarDate } | null = null;
  for (const [limit, date] of candidates) {
    if (date !== null && (earliest === null || date < earliest.date)) earliest = { limit, date };
  }
  return earliest;
}

function stateOf({ every }: Check, dueOn: CalendarDate | null, { practice, asOf, soonDays }: Day): DueState {
  if (dueOn === null) return 'ok';
  if (dueOn < asOf) return 'overdue';
  if (dueOn === asOf) return 'due';
  // A daily check is always due within the week; saying so every day would hide the others.
  const isLong = every !== null && daysInInterval(every, practice) > soonDays;
  return isLong && daysBetween(asOf, dueOn) <= soonDays ? 'soon' : 'ok';
}

function worstFirst(items: readonly DueItem[]): DueItem[] {
  const sorted = [...items].sort(byRank);
  const byAsset = groupBy(sorted, ({ asset }) => asset.id);
  // Groups come in the order of their first item, which is the worst of the asset.
  return [...byAsset.values()].flat();
}

/** Sorting is stable, so that equal ones keep the order of the inventory. */
function byRank(a: DueItem, b: DueItem): number {
  const rank = DUE_STATES.indexOf(a.state) - DUE_STATES.indexOf(b.state);
  if (rank !== 0) return rank;
  const [dateA, dateB] = [a.dueOn ?? '9999-12-31', b.dueOn ?? '9999-12-31'];
  return dateA < dateB ? -1 : dateA > dateB ? 1 : 0;
}
