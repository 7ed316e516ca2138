/** What use has done to an asset since its check was last answered: hours in use, and grams gained. Pure. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Asset, Check } from '../inventory/inventory.ts';
import { isAtLeast } from '../quantity/compare.ts';
import type { AssetDueStanding, Moment, SeenReading, SeenUse } from '../record/standing-types.ts';
import { caughtG } from '../record/wear.ts';

export interface Count {
  /** Hours or grams so far; null: not known, because nothing says from where to count. */
  readonly value: number | null;
  readonly limit: number;
  /** From which day it is counted; null: from the first entry there is. */
  readonly from: CalendarDate | null;
  /** The date of the entry with which the limit was reached; null: not reached. */
  readonly reachedOn: CalendarDate | null;
}

/** The counts that a check goes by; null where it does not go by that one. */
export interface UseCounts {
  readonly hoursInUse: Count | null;
  readonly gainG: Count | null;
}

/**
 * Counts the use of an asset for a check.
 *
 * Hours count from the later of the last pass and the last reading marked new. Grams count from the last reading marked
 * new alone: by the scale, and after the last weighing by the agent that later uses let through, as in plans. Neither
 * weighing nor a sign-off renews a canister. Before a canister was ever marked new or signed off, how
 * long it had been in use is not known, and nothing is guessed.
 *
 * @param standing - what the record says of the asset; undefined: nothing
 */
export function countUse(check: Check, asset: Asset, standing: AssetDueStanding | undefined): UseCounts {
  const { hoursInUse, gainG } = check.after;
  return {
    hoursInUse: hoursInUse === null ? null : countHours(hoursInUse, check, asset, standing),
    gainG: gainG === null ? null : countGain(gainG, standing?.readings ?? [], standing?.uses ?? []),
  };
}

function countHours(
  limit: number,
  check: Check,
  asset: Asset,
  standing: AssetDueStanding | undefined,
): Count {
  const from = later(
    standing?.checks.get(check.id)?.lastPass,
    standing?.readings.findLast(({ isNew }) => isNew)?.done,
  );
  if (from === null && isCharcoal(asset)) return { value: null, limit, from: null, reachedOn: null };
  let minutes = 0;
  let reachedOn: CalendarDate | null = null;
  for (const use of standing?.uses ?? []) {
    if (from !== null && use.done.order <= from.order) continue;
    minutes += use.minutes;
    if (isAtLeast(minutes / 60, limit)) reachedOn ??= use.done.date;
  }
  return { value: minutes / 60, limit, from: from?.date ?? asset.since, reachedOn };
}

function countGain(limit: number, readings: readonly SeenReading[], uses: readonly SeenUse[]): Count {
  const newest = readings.findLastIndex(({ isNew, g }) => isNew && g !== null);
  const empty = readings[newest];
  if (empty === undefined || empty.g === null) return { value: null, limit, from: null, reachedOn: null };
  let most = 0;
  let lastWeighed = empty.done;
  let reachedOn: CalendarDate | null = null;
  for (const { done, g } of readings.slice(newest + 1)) {
    if (g === null) continue;
    // The greatest so far: what charcoal has taken up does not leave it because the scale once read less.
    most = Math.max(most, g - empty.g);
    lastWeighed = done;
    if (isAtLeast(g - empty.g, limit)) reachedOn ??= done.date;
  }
  for (const use of uses) {
    if (use.done.order <= lastWeighed.order) continue;
    // A use that does not say agent and setting adds what is known of it: nothing.
    most += caughtG(use) ?? 0;
    if (isAtLeast(most, limit)) reachedOn ??= use.done.date;
  }
  return { value: most, limit, from: empty.done.date, reachedOn };
}

function isCharcoal(asset: Asset): boolean {
  return asset.type === 'scavenging' && asset.kind === 'charcoal';
}

function later(a: Moment | null | undefined, b: Moment | null | undefined): Moment | null {
  if (a == null || b == null) return a ?? b ?? null;
  return a.order > b.order ? a : b;
}
