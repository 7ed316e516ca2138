/** What a gauge can show. */
import type { Cylinder } from '../inventory/inventory.ts';
import { type Psi, psi } from '../quantity/units.ts';

/** A fresh cylinder may read above full; beyond this it is another cylinder or another unit. */
const MOST_OF_FULL = 1.3;

/** The highest reading that is believed. @example highestReadingPsi({ fullPsi: psi(1900), … }) //=> 2470 */
export function highestReadingPsi({ fullPsi }: Pick<Cylinder, 'fullPsi'>): Psi {
  return psi(fullPsi * MOST_OF_FULL);
}

/** A gauge may rise by this share of full from the warmth of a room. */
export const WARMTH = 0.1;

/** A gauge that fell below this share of the reading before, without a use in between, was likely read in another unit. */
export const UNLIKELY_FALL = 0.2;

/** A canister that gained more than so many times its limit was likely weighed with a slipped digit. */
export const MOST_TIMES_GAIN_LIMIT = 10;
