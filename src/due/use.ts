/** What use has done to an asset since its check was last answered: hours in use, and grams gained. Pure. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Asset, Check } from '../inventory/inventory.ts';
import { isAtLeast } from '../quantity/compare.ts';
import { type GainUnknown, gainSince } from '../record/gain.ts';
import type { AssetDueStanding, Moment, SeenReading, SeenUse } from '../record/standing-types.ts';

export interface Count {
  /** Hours or grams so far; null: not known, because nothing says from where to count. */
  readonly value: number | null;
  readonly limit: number;
  /** From which day it is counted; null: from the first entry there is. */
  readonly from: CalendarDate | null;
  /** The date of the entry with which the limit was reached; null: not reached. */
  readonly reachedOn: CalendarDate | null;
}

/** Grams gained. Where the limit is reached by what is known, that is the value, though the whole is not known. */
export interface GainCount extends Count {
  /** What is known of the gain. */
  readonly atLeastG: number;
  /** Why the whole is not known; null: it is. */
  readonly unknown: GainUnknown | null;
}

/** The counts that a check goes by; null where it does not go by that one. */
export interface UseCounts {
  readonly hoursInUse: Count | null;
  readonly gainG: GainCount | null;
}

/**
 * Counts the use of an asset for a check.
 *
 * Hours count from the later of the last pass and the last reading marked new. Grams count from the last reading marked
 * new alone, as `gainSince` tells it for plans too. Neither
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

function countGain(limit: number, readings: readonly SeenReading[], uses: readonly SeenUse[]): GainCount {
  const { gainG, gainAtLeastG, gainUnknown, from, steps } = gainSince(readings, uses);
  const reachedOn = steps.find(({ g }) => isAtLeast(g, limit))?.done.date ?? null;
  const value = reachedOn === null ? gainG : gainAtLeastG;
  return { value, atLeastG: gainAtLeastG, unknown: gainUnknown, limit, from: from?.date ?? null, reachedOn };
}

function isCharcoal(asset: Asset): boolean {
  return asset.type === 'scavenging' && asset.kind === 'charcoal';
}

function later(a: Moment | null | undefined, b: Moment | null | undefined): Moment | null {
  if (a == null || b == null) return a ?? b ?? null;
  return a.order > b.order ? a : b;
}
