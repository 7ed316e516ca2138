/** What plans must know of the checks: which are overdue or failed, and which of these block. */
import { groupBy } from './group.ts';
import type { DueItem } from './item.ts';

/** A check that stands overdue or failed on an asset. */
export interface CheckTrouble {
  readonly asset: string;
  readonly check: string;
  readonly state: 'overdue' | 'failed';
  /** Whether it stops plans with the asset. */
  readonly blocks: boolean;
  /** In words without a full stop: "overdue since 2026-11-24: 1 open day after …". */
  readonly words: string;
}

/**
 * The checks that stand overdue or failed, in the order of the items. Those of an asset that is out of service are left
 * out: it stops plans by itself.
 *
 * @example checkTroubles(items).filter(({ blocks }) => blocks) //=> [{ asset: 'bain-1', check: 'inner-tube', … }]
 */
export function checkTroubles(items: readonly DueItem[]): CheckTrouble[] {
  return items
    .filter(({ state }) => state === 'overdue')
    .map(({ asset, check, failedOn, dueOn, because }) => ({
      asset: asset.id,
      check: check.id,
      state: failedOn === null ? 'overdue' : 'failed',
      blocks: check.blocks,
      words: failedOn === null ? `overdue since ${dueOn}: ${because}` : because,
    }));
}

/** Only those that keep a patient off the asset, by the asset's id. */
export function blockingChecks(items: readonly DueItem[]): ReadonlyMap<string, readonly CheckTrouble[]> {
  return groupBy(
    checkTroubles(items).filter(({ blocks }) => blocks),
    ({ asset }) => asset,
  );
}
