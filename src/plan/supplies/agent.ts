/** How much liquid agent the case takes. */
import {
  AGENT_PROPERTIES,
  liquidMl,
  SATURATION_SOURCE,
  saturationPercent,
  VAPOUR_SOURCE,
} from '../../inventory/agent-properties.ts';
import type { Agent, Machine, Vaporizer } from '../../inventory/inventory.ts';
import { type Problem, problem } from '../../problem/problem.ts';
import { isAbove } from '../../quantity/compare.ts';
import { formatNumber } from '../../quantity/format.ts';
import { type Fraction, fraction, type Ml, type MlPerMin, ml, type Percent } from '../../quantity/units.ts';
import { type Reason, type Reasoned, ruleRef } from '../reason.ts';
import type { EquipmentState } from '../request.ts';
import { type Lacking, missingOption, type SupplyCase } from './case.ts';
import { freshGasFormula, freshGasMl, phaseMinutes } from './phase-minutes.ts';

export interface AgentPart extends Reasoned, Lacking {
  readonly agent: Agent | null;
  readonly settingPercent: Percent | null;
  /** Over the phases; null without agent, setting and minutes. */
  readonly liquidMl: Ml | null;
  /** At the mark set for maintenance, in mL/h. */
  readonly mlPerHour: number | null;
}

/**
 * Liquid agent in mL/h: 60 × flow × fraction / vapour per mL of liquid.
 *
 * @example liquidMlPerHour('isoflurane', mlPerMin(1000), fraction(0.02)) //=> 6.15…
 */
export function liquidMlPerHour(agent: Agent, flow: MlPerMin, share: Fraction): number {
  return liquidMl(agent, ml(60 * flow * share));
}

/**
 * What is wrong with a dial setting: no vaporizer gives more than saturated vapour at 20 °C. null where it can be.
 *
 * @example settingProblem('sevoflurane', percent(30))?.code //=> 'setting_above_saturation'
 */
export function settingProblem(agent: Agent, setting: Percent): Problem | null {
  const most = saturationPercent(agent);
  if (!isAbove(setting, most)) return null;
  return problem(
    'setting_above_saturation',
    `${formatNumber(setting)} % of ${agent} cannot be: its vapour saturates at ${formatNumber(most, 1)} % (${SATURATION_SOURCE})`,
    'read the dial again, and mind the decimal point',
  );
}

/** The vaporizers of a machine that may serve: for the agent where one is named, and in service. */
export function vaporizersFor(machine: Machine, agent: Agent | null, equipment: EquipmentState): Vaporizer[] {
  return machine.vaporizers.filter(
    vaporizer =>
      (agent === null || vaporizer.agent === agent) && equipment.outOfService(vaporizer.id) === null,
  );
}

export function agentOf({ request, inventory, flows }: SupplyCase): AgentPart {
  const { agent, settingPercent, minutes } = request;
  const missing = [
    ...(agent === null ? [missingOption('--agent NAME', 'the agent')] : []),
    ...(settingPercent === null ? [missingOption('--setting PERCENT', 'the dial setting')] : []),
    ...(minutes === null ? [missingOption('--minutes N', 'how long the case lasts')] : []),
  ];
  if (agent === null || settingPercent === null)
    return { agent, settingPercent, liquidMl: null, mlPerHour: null, missing, reasons: [] };

  const share = fraction(settingPercent / 100);
  const set = flows.phases.maintenance.setMlPerMin;
  const mlPerHour = liquidMlPerHour(agent, set, share);
  const vapour = AGENT_PROPERTIES[agent].vapourMlPerMl;
  const inputs = { agent, setting_percent: settingPercent, vapour_ml_per_ml: vapour };
  const reasons: Reason[] = [
    {
      figure: 'supplies.agent.ml_per_hour',
      value: mlPerHour,
      formula: `60 × ${formatNumber(set, 1)} mL/min × ${formatNumber(settingPercent)} % / ${vapour}`,
      inputs: { ...inputs, set_ml_min: set },
      rules: [],
      source: VAPOUR_SOURCE,
    },
  ];
  if (minutes === null) return { agent, settingPercent, liquidMl: null, mlPerHour, missing, reasons };

  const lasting = phaseMinutes(inventory.rules, minutes);
  const liquid = liquidMl(agent, ml(freshGasMl(flows, lasting) * share));
  const { induction, recovery } = inventory.rules.phaseMinutes;
  reasons.push({
    figure: 'supplies.agent.liquid_ml',
    value: liquid,
    formula: `(${freshGasFormula(flows, lasting)}) × ${formatNumber(settingPercent)} % / ${vapour}`,
    inputs: { ...inputs, minutes },
    rules: [induction, recovery].map(ruleRef),
    source: VAPOUR_SOURCE,
  });
  return { agent, settingPercent, liquidMl: liquid, mlPerHour, missing, reasons };
}
