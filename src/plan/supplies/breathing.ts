/** Whether the flow is enough for this patient's breathing. */
import { formatNumber } from '../../quantity/format.ts';
import { type MlPerMin, mlPerMin } from '../../quantity/units.ts';
import { type Reasoned, ruleRef } from '../reason.ts';
import { type Lacking, missingOption, type SupplyCase } from './case.ts';
import { lowTidalVolume, missingTidalVolume } from './tidal-volume.ts';

export interface Breathing extends Reasoned, Lacking {
  readonly minuteVolumeMlPerMin: MlPerMin | null;
  /** The mark set for maintenance as a multiple of the minute volume. */
  readonly flowOverMinuteVolume: number | null;
}

export function breathingOf(supplyCase: SupplyCase): Breathing {
  const { request, flows } = supplyCase;
  const tidal = lowTidalVolume(supplyCase);
  const breaths = request.breathsPerMin;
  if (tidal === null || breaths === null) {
    const missing = [
      ...(tidal === null ? [missingTidalVolume(supplyCase)] : []),
      ...(breaths === null ? [missingOption('--breaths PER_MINUTE', 'breaths a minute')] : []),
    ];
    return { minuteVolumeMlPerMin: null, flowOverMinuteVolume: null, missing, reasons: [] };
  }
  const minuteVolume = mlPerMin(tidal.ml * breaths);
  const set = flows.phases.maintenance.setMlPerMin;
  const multiple = set / minuteVolume;
  return {
    minuteVolumeMlPerMin: minuteVolume,
    flowOverMinuteVolume: multiple,
    missing: [],
    reasons: [
      {
        figure: 'supplies.breathing.minute_volume_ml_min',
        value: minuteVolume,
        formula: `${tidal.formula} × ${breaths}/min`,
        inputs: { tidal_volume_ml: tidal.ml, breaths_per_min: breaths },
        rules: [ruleRef(tidal.rule)],
        source: tidal.rule.source,
      },
      {
        figure: 'supplies.breathing.flow_over_minute_volume',
        value: multiple,
        formula: `${formatNumber(set, 1)} / ${formatNumber(minuteVolume, 1)} mL/min`,
        inputs: { set_ml_min: set, minute_volume_ml_min: minuteVolume },
        rules: [],
        source: 'arithmetic',
      },
    ],
  };
}
