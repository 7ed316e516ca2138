/** The reservoir bag: how large it should be, and which of those in stock is hung. */
import type { BagSize, Inventory, Rule, Species } from '../inventory/inventory.ts';
import { isAtLeast } from '../quantity/compare.ts';
import { formatNumber } from '../quantity/format.ts';
import { type Kg, type Ml, type MlPerKg, ml, mlPerKg, type Range } from '../quantity/units.ts';
import { assetRef, type Reason, type Reasoned, reasonFromRules, ruleRef } from './reason.ts';
import type { EquipmentState } from './request.ts';

export interface ReservoirBag extends Reasoned {
  readonly wantedLowMl: Ml;
  readonly wantedHighMl: Ml;
  readonly wantedMl: Ml;
  /** The bag to hang; null where no bag is in stock at all. */
  readonly sizeMl: Ml | null;
  readonly coversHigh: boolean;
  /** Whether the bag is smaller than wanted because nothing larger is in stock. */
  readonly notStocked: boolean;
  /** A bag that was named by hand. */
  readonly named: boolean;
}

/**
 * The tidal volume that holds for a species: its own entry, else the general rule for dogs, cats and species not given,
 * else null, since nothing is guessed.
 */
export function tidalVolumeRule(inventory: Inventory, species: Species | null): Rule<Range<MlPerKg>> | null {
  const own = species === null ? undefined : inventory.rules.tidalVolumeBySpecies[species];
  if (own !== undefined) return own;
  return species === null || species === 'dog' || species === 'cat'
    ? inventory.rules.tidalVolumeMlPerKg
    : null;
}

/**
 * The bag for a patient of `weightKg` (the ideal weight where one is given).
 *
 * @returns null where the practice has no tidal volume for the species.
 * @example chooseBag(inventory, NO_RECORD, kg(6.8), 'dog', null)
 *   //=> { wantedLowMl: 408, wantedHighMl: 816, wantedMl: 612, sizeMl: 1000, coversHigh: true, … }
 */
export function chooseBag(
  inventory: Inventory,
  equipment: EquipmentState,
  weightKg: Kg,
  species: Species | null,
  namedMl: Ml | null,
): ReservoirBag | null {
  const tidalVolume = tidalVolumeRule(inventory, species);
  if (tidalVolume === null) return null;
  const { tidalVolumes, sizeAtMlPerKg } = inventory.rules.reservoirBag;
  const [low, high] = tidalVolume.value;
  // A species with an entry of its own is sized at the middle of its own range.
  const hasOwnEntry = tidalVolume !== inventory.rules.tidalVolumeMlPerKg;
  const sizeAt = hasOwnEntry ? mlPerKg((low + high) / 2) : sizeAtMlPerKg.value;
  const sizeRule = hasOwnEntry ? tidalVolume : sizeAtMlPerKg;

  const times = (perKg: number) => ml(tidalVolumes.value * perKg * weightKg);
  const [wantedLow, wantedHigh, wanted] = [times(low), times(high), times(sizeAt)];
  const sizes = stockedSizes(inventory, equipment);
  const fitting = sizes.find(size => isAtLeast(size.sizeMl, wanted));
  const largest = sizes.at(-1);
  const size = namedMl ?? (fitting ?? largest)?.sizeMl ?? null;
  const isStocked = namedMl === null ? fitting !== undefined : sizes.some(({ sizeMl }) => sizeMl === namedMl);
  const coversHigh = size !== null && isAtLeast(size, wantedHigh);

  const product = (perKg: number) =>
    `${tidalVolumes.value} × ${formatNumber(perKg)} mL/kg × ${formatNumber(weightKg, 3)} kg`;
  const wantedReason = (figure: string, value: number, perKg: number, rule: Rule<unknown>): Reason =>
    reasonFromRules(
      `reservoir_bag.${figure}`,
      value,
      product(perKg),
      { tidal_volumes: tidalVolumes.value, ml_kg: perKg, weight_kg: weightKg },
      // What differs from figure to figure decides, and stands first.
      [rule, tidalVolumes],
    );
  const chosen = sizes.find(({ sizeMl }) => sizeMl === size);
  return {
    wantedLowMl: wantedLow,
    wantedHighMl: wantedHigh,
    wantedMl: wanted,
    sizeMl: size,
    coversHigh,
    notStocked: !isStocked,
    named: namedMl !== null,
    reasons: [
      wantedReason('wanted_low_ml', wantedLow, low, tidalVolume),
      wantedReason('wanted_high_ml', wantedHigh, high, tidalVolume),
      wantedReason('wanted_ml', wanted, sizeAt, sizeRule),
      {
        figure: 'reservoir_bag.size_ml',
        value: size,
        formula: sizeFormula(namedMl, fitting, largest, wanted),
        inputs: { wanted_ml: wanted, stocked_ml: sizes.map(({ sizeMl }) => sizeMl).join(', ') },
        rules: [assetRef(inventory, chosen?.path ?? '/bags')],
        source: "the practice's own stock",
      },
      {
        figure: 'reservoir_bag.covers_high',
        value: coversHigh,
        formula:
          size === null
            ? 'no bag'
            : `${size} mL ${coversHigh ? 'is at least' : 'is less than'} ${formatNumber(wantedHigh, 1)} mL`,
        inputs: { size_ml: size, wanted_high_ml: wantedHigh },
        rules: [ruleRef(tidalVolume), ruleRef(tidalVolumes)],
        source: 'arithmetic',
      },
    ],
  };
}

function sizeFormula(
  named: Ml | null,
  fitting: BagSize | undefined,
  largest: BagSize | undefined,
  wanted: Ml,
): string {
  if (named !== null) return 'named on the command line';
  if (fitting !== undefined) return `the smallest stocked size at or above ${formatNumber(wanted, 1)} mL`;
  if (largest !== undefined)
    return `nothing stocked at or above ${formatNumber(wanted, 1)} mL: the largest there is`;
  return 'no bag in stock';
}

/** The sizes of which at least one is in service, smallest first. */
export function stockedSizes(inventory: Inventory, equipment: EquipmentState): BagSize[] {
  return inventory.bags
    .filter(({ count, ids }) => count - ids.filter(id => equipment.outOfService(id) !== null).length > 0)
    .sort((a, b) => a.sizeMl - b.sizeMl);
}
