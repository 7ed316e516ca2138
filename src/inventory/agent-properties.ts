/** What is known of the agents themselves, the same in every practice: vapour, density, saturation. */
import { type Grams, grams, type Ml, ml, type Percent, percent } from '../quantity/units.ts';
import type { Agent } from './inventory.ts';

export interface AgentProperties {
  /** mL of vapour at 20 °C and 1013 hPa from 1 mL of liquid. */
  readonly vapourMlPerMl: number;
  /** Of the liquid, in g/mL. */
  readonly densityGPerMl: number;
  /** Pressure of the saturated vapour at 20 °C, in mmHg. */
  readonly saturatedMmHg: number;
  /** Where the dials of vaporizers for it usually end, in %. Common practice, from memory. */
  readonly usualDialPercent: number;
}

/** Biro, Acta Anaesthesiol Scand 2014 (seen). */
export const VAPOUR_SOURCE = 'vapour per mL of liquid: Biro, Acta Anaesthesiol Scand 2014';
/** Isoflurane and sevoflurane at 25 °C. */
export const DENSITY_SOURCE = 'density: pharmacopoeia (from memory)';
export const SATURATION_SOURCE = 'at 20 °C and 760 mmHg, from memory';

/** See the sources above, one for each column. */
export const AGENT_PROPERTIES: Readonly<Record<Agent, AgentProperties>> = {
  isoflurane: { vapourMlPerMl: 195, densityGPerMl: 1.496, saturatedMmHg: 238, usualDialPercent: 5 },
  sevoflurane: { vapourMlPerMl: 184, densityGPerMl: 1.52, saturatedMmHg: 157, usualDialPercent: 8 },
  desflurane: { vapourMlPerMl: 210, densityGPerMl: 1.465, saturatedMmHg: 669, usualDialPercent: 18 },
  halothane: { vapourMlPerMl: 229, densityGPerMl: 1.871, saturatedMmHg: 243, usualDialPercent: 5 },
};

const SEA_LEVEL_MMHG = 760;

/**
 * The most that a gas at 20 °C can hold of an agent: no vaporizer, however set, gives more.
 *
 * @example saturationPercent('sevoflurane') //=> 20.65…
 */
export function saturationPercent(agent: Agent): Percent {
  return percent((AGENT_PROPERTIES[agent].saturatedMmHg / SEA_LEVEL_MMHG) * 100);
}

/**
 * The liquid that gives a volume of vapour.
 *
 * @example liquidMl('isoflurane', ml(1200)) //=> 6.15…
 */
export function liquidMl(agent: Agent, vapour: Ml): Ml {
  return ml(vapour / AGENT_PROPERTIES[agent].vapourMlPerMl);
}

/** The mass of a volume of liquid. @example liquidG('isoflurane', ml(2)) //=> 2.992 */
export function liquidG(agent: Agent, liquid: Ml): Grams {
  return grams(liquid * AGENT_PROPERTIES[agent].densityGPerMl);
}
