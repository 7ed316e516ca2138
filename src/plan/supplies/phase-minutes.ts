/** How long each phase of a case lasts. */
import { PHASES, type Phase, type Rules } from '../../inventory/inventory.ts';
import { formatNumber } from '../../quantity/format.ts';
import { type Minutes, type Ml, minutes, ml } from '../../quantity/units.ts';
import type { Flows } from '../flow.ts';

export type PhaseMinutes = Readonly<Record<Phase, Minutes>>;

/**
 * `wholeMinutes` is the whole case: induction first, then recovery, each shortened to fit, the rest maintenance.
 *
 * @example phaseMinutes(rules, minutes(18)) //=> { induction: 15, maintenance: 0, recovery: 3 }
 */
export function phaseMinutes(rules: Pick<Rules, 'phaseMinutes'>, wholeMinutes: Minutes): PhaseMinutes {
  const induction = Math.min(rules.phaseMinutes.induction.value, wholeMinutes);
  const recovery = Math.min(rules.phaseMinutes.recovery.value, wholeMinutes - induction);
  return {
    induction: minutes(induction),
    maintenance: minutes(wholeMinutes - induction - recovery),
    recovery: minutes(recovery),
  };
}

/** The fresh gas that a case takes: the mark set in each phase times its minutes. */
export function freshGasMl(flows: Flows, lasting: PhaseMinutes): Ml {
  return ml(PHASES.reduce((sum, phase) => sum + flows.phases[phase].setMlPerMin * lasting[phase], 0));
}

/** The sum as a formula. @example freshGasFormula(flows, lasting) //=> '15 min × 750 mL/min + 30 min × 500 mL/min' */
export function freshGasFormula(flows: Flows, lasting: PhaseMinutes): string {
  return PHASES.filter(phase => lasting[phase] > 0)
    .map(
      phase =>
        `${formatNumber(lasting[phase])} min × ${formatNumber(flows.phases[phase].setMlPerMin, 1)} mL/min`,
    )
    .join(' + ');
}
