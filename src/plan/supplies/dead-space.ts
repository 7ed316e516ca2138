/** How much of each breath the apparatus keeps. */
import { formatNumber } from '../../quantity/format.ts';
import { type Fraction, fraction, type Ml, ml } from '../../quantity/units.ts';
import { assetRef, type Reasoned, ruleRef } from '../reason.ts';
import { type Lacking, missingKey, type SupplyCase } from './case.ts';
import { lowTidalVolume, missingTidalVolume } from './tidal-volume.ts';

export interface DeadSpace extends Reasoned, Lacking {
  readonly apparatusMl: Ml | null;
  /** At the low end of its range. */
  readonly tidalVolumeMl: Ml | null;
  readonly fraction: Fraction | null;
}

export function deadSpaceOf(supplyCase: SupplyCase): DeadSpace {
  const { inventory, pair, request } = supplyCase;
  const { circuit } = pair;
  const tidal = lowTidalVolume(supplyCase);
  const apparatusMl = circuit.deadSpaceMl === null ? null : ml(circuit.deadSpaceMl + request.adapterMl);
  const share = tidal === null || apparatusMl === null ? null : fraction(apparatusMl / tidal.ml);
  return {
    apparatusMl,
    tidalVolumeMl: tidal?.ml ?? null,
    fraction: share,
    missing: [
      ...(apparatusMl === null
        ? [missingKey(inventory, circuit.path, 'dead_space_ml', `the dead space of ${circuit.id}`)]
        : []),
      ...(tidal === null ? [missingTidalVolume(supplyCase)] : []),
    ],
    reasons: [
      ...(apparatusMl === null
        ? []
        : [
            {
              figure: 'supplies.dead_space.apparatus_ml',
              value: apparatusMl,
              formula: `${circuit.deadSpaceMl} mL in ${circuit.id} + ${formatNumber(request.adapterMl)} mL in adapters`,
              inputs: { dead_space_ml: circuit.deadSpaceMl, adapter_ml: request.adapterMl },
              rules: [assetRef(inventory, `${circuit.path}/dead_space_ml`)],
              source: 'as the practice wrote it down',
            },
          ]),
      ...(tidal === null
        ? []
        : [
            {
              figure: 'supplies.dead_space.tidal_volume_ml',
              value: tidal.ml,
              formula: tidal.formula,
              inputs: { ml_kg: tidal.rule.value[0] },
              rules: [ruleRef(tidal.rule)],
              source: tidal.rule.source,
            },
          ]),
      ...(share === null || tidal === null || apparatusMl === null
        ? []
        : [
            {
              figure: 'supplies.dead_space.fraction',
              value: share,
              formula: `${formatNumber(apparatusMl, 1)} mL / ${formatNumber(tidal.ml, 1)} mL`,
              inputs: { apparatus_ml: apparatusMl, tidal_volume_ml: tidal.ml },
              rules: [ruleRef(inventory.rules.deadSpaceFraction)],
              source: inventory.rules.deadSpaceFraction.source,
            },
          ]),
    ],
  };
}
