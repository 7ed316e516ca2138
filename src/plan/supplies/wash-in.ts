/** How long a change at the dial takes to arrive. */
import { classOf } from '../../inventory/inventory.ts';
import { formatFlow, formatNumber } from '../../quantity/format.ts';
import { type Minutes, type Ml, type MlPerMin, minutes, ml } from '../../quantity/units.ts';
import { assetRef, type Reason, type Reasoned } from '../reason.ts';
import { type Lacking, type Missing, missingKey, type SupplyCase } from './case.ts';
import { missingTidalVolume } from './tidal-volume.ts';

export interface WashIn extends Reasoned, Lacking {
  readonly volumeMl: Ml | null;
  /** At the mark set for maintenance. */
  readonly flowMlPerMin: MlPerMin;
  readonly timeConstantMin: Minutes | null;
  readonly t63Min: Minutes | null;
  readonly t95Min: Minutes | null;
}

const SOURCE = 'time constant = volume / flow; 63 %, 86 %, 95 % after 1, 2, 3 of them: OpenAnesthesia';
/** 1 − e^−3 = 95.02 %. */
const CONSTANTS_TO_95 = 3;

/** @example timeConstant(ml(5000), mlPerMin(1000)) //=> 5 */
export function timeConstant(volume: Ml, flow: MlPerMin): Minutes {
  return minutes(volume / flow);
}

export function washInOf({ inventory, request, pair, bag, flows }: SupplyCase): WashIn {
  const { circuit, machine } = pair;
  const flowMlPerMin = flows.phases.maintenance.setMlPerMin;
  const isCircle = classOf(circuit.kind) === 'rebreathing';
  const bagMl = bag?.sizeMl ?? null;
  const missing: Missing[] = [];
  if (isCircle && machine.internalVolumeMl === null)
    missing.push(
      missingKey(inventory, machine.path, 'internal_volume_ml', `the inside volume of ${machine.id}`),
    );
  if (circuit.volumeMl === null)
    missing.push(missingKey(inventory, circuit.path, 'volume_ml', `the volume of ${circuit.id}`));
  if (bag === null) missing.push(missingTidalVolume({ inventory, request }));
  else if (bagMl === null)
    missing.push({ ...missingKey(inventory, '/bags', 'size_ml', 'a bag in stock'), path: '/bags' });

  const insideMl = isCircle ? machine.internalVolumeMl : ml(0);
  if (insideMl === null || circuit.volumeMl === null || bagMl === null) {
    return {
      volumeMl: null,
      flowMlPerMin,
      timeConstantMin: null,
      t63Min: null,
      t95Min: null,
      missing,
      reasons: [],
    };
  }
  const volumeMl = ml(insideMl + circuit.volumeMl + bagMl);
  const constant = timeConstant(volumeMl, flowMlPerMin);
  const t95Min = minutes(CONSTANTS_TO_95 * constant);
  const inside = isCircle ? `${insideMl} mL in ${machine.id} + ` : '';
  const rules = [
    ...(isCircle ? [assetRef(inventory, `${machine.path}/internal_volume_ml`)] : []),
    assetRef(inventory, `${circuit.path}/volume_ml`),
  ];
  const reason = (figure: string, value: number, formula: string): Reason => ({
    figure: `supplies.wash_in.${figure}`,
    value,
    formula,
    inputs: { volume_ml: volumeMl, flow_ml_min: flowMlPerMin },
    rules: [],
    source: SOURCE,
  });
  return {
    volumeMl,
    flowMlPerMin,
    timeConstantMin: constant,
    t63Min: constant,
    t95Min,
    missing,
    reasons: [
      {
        figure: 'supplies.wash_in.volume_ml',
        value: volumeMl,
        formula: `${inside}${circuit.volumeMl} mL in ${circuit.id} + ${bagMl} mL in the bag`,
        inputs: {
          internal_volume_ml: isCircle ? insideMl : null,
          volume_ml: circuit.volumeMl,
          bag_ml: bagMl,
        },
        rules,
        source: 'as the practice wrote it down',
      },
      reason(
        'time_constant_min',
        constant,
        `${formatNumber(volumeMl / 1000, 3)} L / ${formatFlow(flowMlPerMin)}`,
      ),
      reason('t63_min', constant, `1 × ${formatNumber(constant)} min`),
      reason('t95_min', t95Min, `${CONSTANTS_TO_95} × ${formatNumber(constant)} min`),
    ],
  };
}
