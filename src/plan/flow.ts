/** Fresh-gas flow by body weight, and the flowmeter mark to set. */
import type { CircuitClass, Flowmeter, Inventory, Machine, Phase } from '../inventory/inventory.ts';
import { PHASES } from '../inventory/inventory.ts';
import { isAbove, isAtLeast } from '../quantity/compare.ts';
import { formatNumber } from '../quantity/format.ts';
import { type Kg, type MlPerMin, mlPerMin } from '../quantity/units.ts';
import { assetRef, type Reason, type Reasoned, reasonFromRules } from './reason.ts';

export interface PhaseFlow {
  readonly phase: Phase;
  readonly lowMlPerMin: MlPerMin;
  readonly highMlPerMin: MlPerMin;
  /** The mark to set. It may lie above the flowmeter's maximum; whoever takes the pair must look. */
  readonly setMlPerMin: MlPerMin;
  /** Which ends the least flow has raised. */
  readonly minimumApplied: 'none' | 'low' | 'both';
  /** Whether no mark lies in the range, so that the next above is set. */
  readonly setAboveRange: boolean;
}

export interface Flows extends Reasoned {
  readonly phases: Readonly<Record<Phase, PhaseFlow>>;
  /** The highest of the marks to set. */
  readonly highestSetMlPerMin: MlPerMin;
}

/**
 * The flows of all phases for a patient of `weightKg` on this class of circuit and this machine.
 *
 * @example flowsFor(inventory, machine, 'non_rebreathing', kg(6.8)).phases.maintenance
 *   //=> { lowMlPerMin: 1360, highMlPerMin: 2040, setMlPerMin: 1750, minimumApplied: 'none', … }
 */
export function flowsFor(
  inventory: Inventory,
  machine: Machine,
  circuitClass: CircuitClass,
  weightKg: Kg,
): Flows {
  const flows = PHASES.map(phase => phaseFlow(inventory, machine, circuitClass, weightKg, phase));
  const [induction, maintenance, recovery] = flows as [PhaseAndReasons, PhaseAndReasons, PhaseAndReasons];
  return {
    phases: { induction: induction.flow, maintenance: maintenance.flow, recovery: recovery.flow },
    highestSetMlPerMin: mlPerMin(Math.max(...flows.map(({ flow }) => flow.setMlPerMin))),
    reasons: [
      ...maintenance.reasons.map(reason => ({
        ...reason,
        figure: reason.figure.replace(/^.*\./, 'fresh_gas_flow.'),
      })),
      ...flows.flatMap(({ reasons }) => reasons),
    ],
  };
}

interface PhaseAndReasons {
  flow: PhaseFlow;
  reasons: Reason[];
}

function phaseFlow(
  inventory: Inventory,
  machine: Machine,
  circuitClass: CircuitClass,
  weightKg: Kg,
  phase: Phase,
): PhaseAndReasons {
  const range = inventory.rules.freshGasFlow.mlPerKgMin[circuitClass][phase];
  const minimum = inventory.rules.freshGasFlow.minimumMlPerMin;
  const [lowPerKg, highPerKg] = range.value;
  const byWeightLow = lowPerKg * weightKg;
  const byWeightHigh = highPerKg * weightKg;
  const flow = phaseFigures(inventory, machine, circuitClass, weightKg, phase);
  const { lowMlPerMin: low, highMlPerMin: high, setMlPerMin: set } = flow;
  const middle = (low + high) / 2;
  const atMiddle = markAtOrAbove(machine.flowmeter, middle);

  const end = (name: 'low' | 'high', perKg: number, byWeight: number, value: number): Reason => {
    const product = `${perKg} mL/kg/min × ${formatNumber(weightKg, 3)} kg`;
    const isRaised = isAbove(minimum.value, byWeight);
    const formula = isRaised
      ? `the larger of ${product} = ${formatNumber(byWeight, 1)} and ${minimum.value} mL/min`
      : product;
    const inputs = { ml_kg_min: perKg, weight_kg: weightKg, minimum_ml_min: minimum.value };
    const rules = isRaised ? [minimum, range] : [range];
    return reasonFromRules(`phases.${phase}.${name}_ml_min`, value, formula, inputs, rules);
  };
  const setFormula = isAbove(atMiddle, high)
    ? `no mark from the middle, ${formatNumber(middle, 1)}, to ${formatNumber(high, 1)} mL/min: the lowest mark at or above ${formatNumber(low, 1)} mL/min`
    : `the lowest mark at or above the middle, (${formatNumber(low, 1)} + ${formatNumber(high, 1)}) / 2 = ${formatNumber(middle, 1)} mL/min`;
  return {
    flow,
    reasons: [
      end('low', lowPerKg, byWeightLow, low),
      end('high', highPerKg, byWeightHigh, high),
      {
        figure: `phases.${phase}.set_ml_min`,
        value: set,
        formula: setFormula,
        inputs: { low_ml_min: low, high_ml_min: high, machine: machine.id },
        rules: [assetRef(inventory, `${machine.path}/flowmeter/marks`)],
        source: `the marks of the flowmeter of ${machine.id}, as the practice wrote them down`,
      },
    ],
  };
}

/** The figures of one phase without their reasons: a chart needs them at hundreds of weights. */
export function phaseFigures(
  { rules: { freshGasFlow } }: Inventory,
  { flowmeter }: Machine,
  circuitClass: CircuitClass,
  weightKg: Kg,
  phase: Phase,
): PhaseFlow {
  const minimum = freshGasFlow.minimumMlPerMin.value;
  const [lowPerKg, highPerKg] = freshGasFlow.mlPerKgMin[circuitClass][phase].value;
  const byWeightLow = lowPerKg * weightKg;
  const byWeightHigh = highPerKg * weightKg;
  const low = mlPerMin(Math.max(byWeightLow, minimum));
  const high = mlPerMin(Math.max(byWeightHigh, minimum));
  const atMiddle = markAtOrAbove(flowmeter, (low + high) / 2);
  const set = isAbove(atMiddle, high) ? markAtOrAbove(flowmeter, low) : atMiddle;
  return {
    phase,
    lowMlPerMin: low,
    highMlPerMin: high,
    setMlPerMin: set,
    minimumApplied: isAbove(minimum, byWeightHigh) ? 'both' : isAbove(minimum, byWeightLow) ? 'low' : 'none',
    setAboveRange: isAbove(set, high),
  };
}

/**
 * The lowest mark at or above a flow. Above the last mark the spacing of the last stretch goes on, so that a flow out of
 * reach still has a figure to be refused by.
 *
 * @example markAtOrAbove({ marks: [{ upTo: 1000, step: 100 }, { upTo: 8000, step: 250 }], … }, 1700) //=> 1750
 */
export function markAtOrAbove(flowmeter: Flowmeter, flow: number): MlPerMin {
  let from = 0;
  for (const [i, { upToMlPerMin: upTo, stepMlPerMin: step }] of flowmeter.marks.entries()) {
    const isLast = i === flowmeter.marks.length - 1;
    if (isLast || isAtLeast(upTo, flow)) {
      // The first mark of a stretch is one step above its beginning: at the beginning nothing flows, or the stretch before ends.
      const steps = Math.max(1, ceilSteps((flow - from) / step));
      return mlPerMin(from + steps * step);
    }
    from = upTo;
  }
  throw new Error('a flowmeter without marks');
}

/** Rounded up, but not for a billionth. */
function ceilSteps(steps: number): number {
  const nearest = Math.round(steps);
  return Math.abs(steps - nearest) < 1e-9 * Math.max(1, nearest) ? nearest : Math.ceil(steps);
}

/** The highest flow that this flowmeter can be set to: its last mark. */
export function highestMark(flowmeter: Flowmeter): MlPerMin {
  return flowmeter.marks.at(-1)?.upToMlPerMin ?? flowmeter.maxMlPerMin;
}
