import type { CodeRow } from '../code.ts';

/** What the due report says beside its items. It never stops the report. */
export const DUE_CODES = {
  asset_left_inventory: {
    means: 'The record speaks of an asset that the inventory no longer has. Its checks are not counted.',
    remedy: 'Nothing to do if it is gone for good; else put it back into the inventory under its old id.',
  },
  use_unknown: {
    means:
      'A check goes by hours in use or by grams gained, and the record does not say from where to count: no reading of a fresh canister was ever entered.',
    remedy: 'Weigh a fresh canister and enter it with holdfast reading ASSET WEIGHT --new.',
  },
} as const satisfies Record<string, CodeRow>;
