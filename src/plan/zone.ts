/** Which class of circuit a weight asks for: below the boundary, between its two ends, or above. */
import type { CircuitClass, Rules } from '../inventory/inventory.ts';
import { isAbove, isAtLeast } from '../quantity/compare.ts';
import type { Kg } from '../quantity/units.ts';

export type Zone = 'below' | 'between' | 'above';

/** @example zoneOf(rules, kg(7)) //=> 'between' (both ends are included) */
export function zoneOf({ boundary }: Rules, weight: Kg): Zone {
  // To within a billionth: a weight in lb or oz that is the limit must not fall beside it by its last binary digit.
  if (isAbove(boundary.nonRebreathingBelowKg.value, weight)) return 'below';
  return isAbove(weight, boundary.rebreathingAboveKg.value) ? 'above' : 'between';
}

/** The class that leads at a weight; between the ends the practice's rule decides. */
export function classAt(rules: Rules, weight: Kg): CircuitClass {
  const zone = zoneOf(rules, weight);
  if (zone === 'between') return rules.boundary.between.value;
  return zone === 'below' ? 'non_rebreathing' : 'rebreathing';
}

/** Whether a weight outside the band lies within `near_kg` of it. */
export function isNearBoundary(rules: Rules, weight: Kg): boolean {
  const { nonRebreathingBelowKg, rebreathingAboveKg, nearKg } = rules.boundary;
  const zone = zoneOf(rules, weight);
  if (zone === 'below') return isAtLeast(weight, nonRebreathingBelowKg.value - nearKg.value);
  return zone === 'above' && isAtLeast(rebreathingAboveKg.value + nearKg.value, weight);
}

export function otherClass(circuitClass: CircuitClass): CircuitClass {
  return circuitClass === 'rebreathing' ? 'non_rebreathing' : 'rebreathing';
}
