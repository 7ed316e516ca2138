/** The oxygen flows of a plan in words: the flow to start with first. */
import { PHASES } from '../inventory/inventory.ts';
import type { ClassPlan, Plan } from '../plan/plan.ts';
import { formatFlow, formatFlowRange } from '../quantity/format.ts';

export interface FlowWords {
  /** "1.75 L/min to start" */
  readonly figure: string;
  /** "1.36 to 2.04 L/min, 200–300 mL/kg/min" */
  readonly detail: string;
}

/** When each phase's flow is set. */
export const PHASE_WORDS = { induction: 'to start', maintenance: 'then', recovery: 'to wake' };

/** One line a phase; three phases with the same figures share a line. */
export function flowWords(plan: Plan, part: ClassPlan): FlowWords[] {
  if (part.flows === null) return [];
  const { phases } = part.flows;
  const perKg = plan.inventory.rules.freshGasFlow.mlPerKgMin[part.circuitClass];
  // With an ideal weight it must be clear which of the two the flow goes by.
  const actual = plan.request.idealWeightKg === null ? '' : ' by actual';
  const rows = PHASES.map((phase): FlowWords => {
    const { lowMlPerMin, highMlPerMin, setMlPerMin } = phases[phase];
    const [low, high] = perKg[phase].value;
    return {
      figure: `${formatFlow(setMlPerMin)} ${PHASE_WORDS[phase]}`,
      detail: `${formatFlowRange([lowMlPerMin, highMlPerMin])}, ${low}–${high} mL/kg/min${actual}`,
    };
  });
  const [first] = rows;
  if (first === undefined || rows.some(({ detail }) => detail !== first.detail)) return rows;
  return [{ ...first, figure: `${formatFlow(phases.induction.setMlPerMin)} throughout` }];
}
