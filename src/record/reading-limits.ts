/** What a gauge can show. */
import type { Cylinder } from '../inventory/inventory.ts';
import { type Psi, psi } from '../quantity/units.ts';

/** A fresh cylinder may read above full; beyond this it is another cylinder or another unit. */
const MOST_OF_FULL = 1.3;

/** The highest reading that is believed. @example highestReadingPsi({ fullPsi: psi(1900), … }) //=> 2470 */
export function highestReadingPsi({ fullPsi }: Pick<Cylinder, 'fullPsi'>): Psi {
  return psi(fullPsi * MOST_OF_FULL);
}
