/** What the patient itself takes up and gives off. */
import { formatNumber } from '../../quantity/format.ts';
import { type Kg, type MlPerMin, mlPerMin } from '../../quantity/units.ts';
import type { Reason, Reasoned } from '../reason.ts';
import type { SupplyCase } from './case.ts';

export interface Metabolism extends Reasoned {
  readonly oxygenMlPerMin: MlPerMin;
}

/** Exponent of Brody 1945 for metabolism over body weight. */
const EXPONENT = 0.75;
const OXYGEN_ML_PER_MIN = 10;
const CO2_ML_PER_MIN = 9.9;

const OXYGEN_SOURCE = 'Brody 1945; Lowe & Ernst 1981 (from memory)';
const CO2_SOURCE =
  'resting, fasted dogs, at 20 °C: Pouteau et al., Am J Vet Res 2002;63:111-118; higher than 0.8 × the oxygen used, the safe side';

/**
 * The oxygen that a patient uses: 10 × kg^0.75 mL/min, the floor of any closed flow. Brody 1945; Lowe & Ernst 1981.
 *
 * @example oxygenUse(kg(10)) //=> 56.23…
 */
export function oxygenUse(weight: Kg): MlPerMin {
  return mlPerMin(OXYGEN_ML_PER_MIN * weight ** EXPONENT);
}

/**
 * The carbon dioxide that a patient makes: 9.9 × kg^0.75 mL/min, at 20 °C. Pouteau et al. 2002.
 *
 * @example co2Made(kg(10)) //=> 55.67…
 */
export function co2Made(weight: Kg): MlPerMin {
  return mlPerMin(CO2_ML_PER_MIN * weight ** EXPONENT);
}

export function metabolismOf({ weights }: Pick<SupplyCase, 'weights'>): Metabolism {
  const oxygenMlPerMin = oxygenUse(weights.actualKg);
  return {
    oxygenMlPerMin,
    reasons: [
      byWeight(
        'metabolism.oxygen_ml_min',
        oxygenMlPerMin,
        OXYGEN_ML_PER_MIN,
        weights.actualKg,
        OXYGEN_SOURCE,
      ),
    ],
  };
}

/** The reason for the carbon dioxide that the absorbent must take up. */
export function co2Reason(figure: string, weight: Kg): Reason {
  return byWeight(figure, co2Made(weight), CO2_ML_PER_MIN, weight, CO2_SOURCE);
}

function byWeight(figure: string, value: MlPerMin, perKg: number, weight: Kg, source: string): Reason {
  return {
    figure: `supplies.${figure}`,
    value,
    formula: `${perKg} × ${formatNumber(weight, 3)}^${EXPONENT} mL/min`,
    inputs: { weight_kg: weight },
    rules: [],
    source,
  };
}
