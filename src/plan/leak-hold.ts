/** How this circuit on this machine is held under pressure, and what counts as tight. */
import {
  type Circuit,
  classOf,
  type HoldRule,
  hasGauge,
  type Inventory,
  type Machine,
  type Rule,
} from '../inventory/inventory.ts';
import type { CmH2O, MlPerMin, Seconds } from '../quantity/units.ts';
import { KIND_WORDS } from './fit.ts';
import { type Reasoned, reasonFromRules } from './reason.ts';

/** The way to hold a pair. Without a gauge the pressure is the rule's, and the bag is filled until it is taut. */
export interface LeakHold extends Reasoned {
  readonly pressureCmH2O: CmH2O;
  readonly seconds: Seconds;
  /** The oxygen flush fills a circle only; a non-rebreathing circuit is filled by the flowmeter. */
  readonly fill: 'flowmeter' | 'flush';
  readonly watch: 'gauge' | 'bag';
  readonly dropCmH2O: CmH2O;
  readonly makeUpMlPerMin: MlPerMin;
}

/** @example leakHoldFor(inventory, bain, machine) //=> { pressureCmH2O: 20, seconds: 10, fill: 'flowmeter', watch: 'gauge', … } */
export function leakHoldFor(inventory: Inventory, circuit: Circuit, machine: Machine): LeakHold {
  const { leakHold } = inventory.rules;
  const rule: HoldRule = leakHold[circuit.kind];
  const gauge = hasGauge(circuit, machine);
  const seconds = gauge ? rule.seconds : leakHold.withoutGaugeSeconds;
  const flush = classOf(circuit.kind) === 'rebreathing' && machine.flushTo !== 'none';
  const because = (figure: string, rule: Rule<number>) =>
    reasonFromRules(
      `leak_hold.${figure}`,
      rule.value,
      figure === 'seconds' && !gauge
        ? 'the rule for a pair without a gauge'
        : `the rule for a ${KIND_WORDS[circuit.kind]}`,
      { kind: circuit.kind, gauge: gauge ? 'yes' : 'no' },
      [rule],
    );
  return {
    pressureCmH2O: rule.pressureCmH2O.value,
    seconds: seconds.value,
    fill: flush ? 'flush' : 'flowmeter',
    watch: gauge ? 'gauge' : 'bag',
    dropCmH2O: rule.dropCmH2O.value,
    makeUpMlPerMin: rule.makeUpMlPerMin.value,
    reasons: [
      because('pressure_cmh2o', rule.pressureCmH2O),
      because('seconds', seconds),
      because('drop_cmh2o', rule.dropCmH2O),
      because('make_up_ml_min', rule.makeUpMlPerMin),
    ],
  };
}
