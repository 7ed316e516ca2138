/** The tidal volume at the low end of its range, which breathing and dead space go by. */
import type { Rule } from '../../inventory/inventory.ts';
import { formatNumber } from '../../quantity/format.ts';
import { type Ml, type MlPerKg, ml, type Range } from '../../quantity/units.ts';
import { tidalVolumeRule } from '../bag.ts';
import { type Missing, missingKey, type SupplyCase } from './case.ts';

export interface LowTidalVolume {
  readonly ml: Ml;
  readonly rule: Rule<Range<MlPerKg>>;
  /** "10 mL/kg × 6.8 kg" */
  readonly formula: string;
}

type Wanted = Pick<SupplyCase, 'inventory' | 'request' | 'weights'>;

/** By the ideal weight where one is given: lungs do not grow with fat. null: no tidal volume for the species. */
export function lowTidalVolume({ inventory, request, weights }: Wanted): LowTidalVolume | null {
  const rule = tidalVolumeRule(inventory, request.species);
  if (rule === null) return null;
  const [low] = rule.value;
  return {
    ml: ml(low * weights.classKg),
    rule,
    formula: `${formatNumber(low)} mL/kg × ${formatNumber(weights.classKg, 3)} kg`,
  };
}

export function missingTidalVolume({
  inventory,
  request,
}: Pick<SupplyCase, 'inventory' | 'request'>): Missing {
  const species = request.species ?? 'other';
  return missingKey(
    inventory,
    '/rules/tidal_volume_by_species_ml_kg',
    `${species}: [LOW, HIGH]`,
    `the tidal volume of ${species === 'other' ? 'this species' : `a ${species}`}`,
  );
}
