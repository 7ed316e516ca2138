/** Whether a weight can be true for the species, and what may have slipped where it can not. */
import type { Species } from '../inventory/inventory.ts';
import { isAtLeast } from '../quantity/compare.ts';
import { kgFromPounds } from '../quantity/convert.ts';
import { formatNumber, formatWeight } from '../quantity/format.ts';
import { type Kg, kg, type Range } from '../quantity/units.ts';

/**
 * Weights outside these are hardly possible (common practice, no published source). A cat above 8 kg exists, but rarely
 * enough that a slip is likelier.
 */
const PLAUSIBLE_KG: Readonly<Partial<Record<Species, Range<Kg>>>> = {
  dog: [kg(0.5), kg(100)],
  cat: [kg(0.5), kg(8)],
  rabbit: [kg(0.5), kg(8)],
  ferret: [kg(0.2), kg(3)],
};

/** Outside these weights a plan stops for this species; null where nothing is known. @example plausibleKg('cat') //=> [0.5, 8] */
export function plausibleKg(species: Species): Range<Kg> | null {
  return PLAUSIBLE_KG[species] ?? null;
}

/** An ideal weight outside of these multiples of the actual one is likelier a slip than a patient; common practice. */
const IDEAL_OF_ACTUAL: Range<number> = [0.5, 1.5];

/**
 * Why an ideal weight is implausible beside the actual one; null where it is plausible.
 *
 * @example implausibleIdeal(kg(24), kg(2.4)) //=> 'ideal 2.4 kg (5.29 lb) is hardly possible at 24 kg (52.91 lb): a slipped decimal point? (24 kg)'
 */
export function implausibleIdeal(weight: Kg, ideal: Kg): string | null {
  const [least, most] = IDEAL_OF_ACTUAL;
  const fits = (candidate: number) =>
    isAtLeast(candidate, least * weight) && isAtLeast(most * weight, candidate);
  if (fits(ideal)) return null;
  const shifted = ideal > weight ? ideal / 10 : ideal * 10;
  const meant = fits(shifted) ? `: a slipped decimal point? (${formatNumber(shifted, 3)} kg)` : '';
  return `ideal ${formatWeight(ideal)} is hardly possible at ${formatWeight(weight)}${meant}`;
}

/**
 * Why a weight is implausible for its species, with the likely slip named; null where it is plausible or no species is
 * given.
 *
 * @example implausibleWeight(kg(45), 'cat') //=> '45 kg (99.21 lb) is hardly possible for a cat (0.5 to 8 kg): a slipped decimal point? (4.5 kg)'
 */
export function implausibleWeight(weight: Kg, species: Species | null): string | null {
  const range = species === null ? undefined : PLAUSIBLE_KG[species];
  if (range === undefined) return null;
  const [low, high] = range;
  const fits = (candidate: number) => isAtLeast(candidate, low) && isAtLeast(high, candidate);
  if (fits(weight)) return null;

  const slips: string[] = [];
  const shifted = weight > high ? weight / 10 : weight * 10;
  if (fits(shifted)) slips.push(`a slipped decimal point? (${formatNumber(shifted, 3)} kg)`);
  const inPounds = kgFromPounds(weight);
  if (weight > high && fits(inPounds))
    slips.push(`pounds typed as kilograms? (${formatNumber(inPounds)} kg)`);
  const meant = slips.length === 0 ? '' : `: ${slips.join(' or ')}`;
  return `${formatWeight(weight)} is hardly possible for a ${species} (${low} to ${high} kg)${meant}`;
}
