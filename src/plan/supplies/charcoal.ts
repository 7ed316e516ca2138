/** How full the charcoal canister is, and how long it lasts. */
import { AGENT_PROPERTIES, DENSITY_SOURCE, liquidG } from '../../inventory/agent-properties.ts';
import type { Scavenging } from '../../inventory/inventory.ts';
import { formatNumber } from '../../quantity/format.ts';
import { type Grams, grams, type Hours, hours, ml } from '../../quantity/units.ts';
import { gainUnknownTold, gainUnknownWords } from '../../record/gain.ts';
import { type CanisterLeft, canisterLeft, renewalCheck, type WearState } from '../../record/wear.ts';
import { assetRef, type Reason, type Reasoned, type RuleRef } from '../reason.ts';
import type { AgentPart } from './agent.ts';
import {
  type Lacking,
  type Missing,
  missingEntry,
  missingForDamage,
  missingKey,
  missingOption,
  type SupplyCase,
} from './case.ts';

export interface CharcoalPart extends Reasoned, Lacking {
  readonly canister: Scavenging;
  readonly gainGSoFar: Grams | null;
  readonly gainBy: WearState['gainBy'];
  /** What is known of the gain; below the whole where some uses do not say what they took. */
  readonly gainAtLeastG: Grams;
  /** The lowest limit there is: the canister's own, or a check's. */
  readonly limitG: Grams | null;
  /** What this case adds, all of the agent caught; null without agent, setting and minutes. */
  readonly expectedG: Grams | null;
  readonly hoursUsed: Hours | null;
  /** By the check that goes by hours in use; null: none does, or it is not known from when to count. */
  readonly hoursLeftByRule: Hours | null;
  /** The earlier of hours by gain, at this setting and flow, and hours by rule. */
  readonly hoursLeft: Hours | null;
  readonly limitedBy: 'gain' | 'hours_in_use' | null;
}

/**
 * How long a canister takes up what is let through.
 *
 * @param gainPerHour - in g/h; 0 never fills it
 * @example charcoalHours(grams(50), grams(0), 9.21) //=> 5.42…
 */
export function charcoalHours(limit: Grams, gained: Grams, gainPerHour: number): Hours | null {
  if (gained >= limit) return hours(0);
  return gainPerHour > 0 ? hours((limit - gained) / gainPerHour) : null;
}

/** null: the machine's waste gas does not go into charcoal. */
export function charcoalOf(supplyCase: SupplyCase, agent: AgentPart): CharcoalPart | null {
  const { inventory, equipment, pair } = supplyCase;
  const canister = pair.machine.scavenging;
  if (canister === null || canister.kind !== 'charcoal') return null;
  const wear = equipment.record === 'damaged' ? null : equipment.wear(canister.id);
  const left = canisterLeft(inventory, canister, wear);
  const hoursUsed = wear?.hours ?? null;
  const figures: Figures = {
    left,
    gained: wear?.gainG ?? null,
    gainAtLeast: wear?.gainAtLeastG ?? grams(0),
    perHour: perHourG(agent),
  };
  const end = hoursLeftOf(figures);
  const expectedG =
    agent.agent === null || agent.liquidMl === null ? null : liquidG(agent.agent, agent.liquidMl);
  const part = {
    canister,
    gainGSoFar: figures.gained,
    gainBy: wear?.gainBy ?? null,
    gainAtLeastG: figures.gainAtLeast,
    limitG: left.gain?.limitG ?? null,
    expectedG,
    hoursUsed,
    hoursLeftByRule: left.hours?.left ?? null,
    hoursLeft: end?.hours ?? null,
    limitedBy: end?.by ?? null,
  };
  return {
    ...part,
    missing: missingOf(supplyCase, agent, canister, wear, figures),
    reasons: reasonsOf(supplyCase, agent, part, figures),
  };
}

interface Figures {
  readonly left: CanisterLeft;
  readonly gained: Grams | null;
  readonly gainAtLeast: Grams;
  readonly perHour: number | null;
}

/** What is let through at the mark set for maintenance, in g/h. */
function perHourG({ agent, mlPerHour }: AgentPart): number | null {
  return agent === null || mlPerHour === null ? null : liquidG(agent, ml(mlPerHour));
}

/**
 * The earlier of the limits. Where one that holds cannot be worked out, neither is shown: it might be the earlier one. A
 * limit that is reached already is certain.
 */
function hoursLeftOf({
  left: { gain, hours: byHours, spentBy, isKnown },
  gained,
  perHour,
}: Figures): { hours: Hours; by: 'gain' | 'hours_in_use' } | null {
  if (spentBy !== null) return { hours: hours(0), by: spentBy };
  if (!isKnown || (gain !== null && perHour === null)) return null;
  const byGain =
    gain === null || gained === null || perHour === null ? null : charcoalHours(gain.limitG, gained, perHour);
  const byRule = byHours?.left ?? null;
  if (byGain !== null && (byRule === null || byGain <= byRule)) return { hours: byGain, by: 'gain' };
  return byRule === null ? null : { hours: byRule, by: 'hours_in_use' };
}

function missingOf(
  { inventory, equipment, request }: SupplyCase,
  agent: AgentPart,
  canister: Scavenging,
  wear: WearState | null,
  { left, gainAtLeast }: Figures,
): Missing[] {
  const missing: Missing[] = [];
  const { id } = canister;
  if (left.gain === null)
    missing.push(missingKey(inventory, canister.path, 'limit_gain_g', `how many grams ${id} may gain`));
  const unknown = wear === null ? ({ why: 'never_weighed_in' } as const) : wear.gainUnknown;
  if (equipment.record === 'damaged') missing.push(missingForDamage(`what ${id} has gained`));
  else if (unknown !== null && unknown.why !== 'never_weighed_in') {
    const what = `what ${id} has gained: ${gainUnknownWords(unknown)}; at least ${formatNumber(gainAtLeast)} g`;
    missing.push(missingEntry(gainUnknownTold(id, unknown), what));
  } else if (unknown !== null || left.hours?.left === null) {
    missing.push(missingEntry(`holdfast reading ${id} GRAMS --new`, `what ${id} weighed when it was new`));
  }
  if (agent.mlPerHour === null)
    missing.push(missingOption('--agent NAME --setting PERCENT', 'agent and dial setting'));
  if (request.minutes === null) missing.push(missingOption('--minutes N', 'how long the case lasts'));
  return missing;
}

const GAIN_WORDS = {
  scale: 'by the scale',
  estimate: 'estimated from the cases since it was new: no scale has shown it',
  scale_and_estimate: 'by the scale at the last weighing, and an estimate from the cases since',
};

const CAUGHT = 'all of the agent that is let through counted as caught';

function reasonsOf(
  { inventory }: SupplyCase,
  { agent, liquidMl, mlPerHour }: AgentPart,
  part: Omit<CharcoalPart, 'missing' | 'reasons'>,
  { left, gained, perHour }: Figures,
): Reason[] {
  const reasons: Reason[] = [];
  const limitRule: RuleRef | null = left.gain === null ? null : assetRef(inventory, left.gain.path);
  const { canister, gainBy, limitG, expectedG, hoursLeft, limitedBy, hoursUsed } = part;
  if (limitG !== null && limitRule !== null) {
    reasons.push({
      figure: 'supplies.charcoal.limit_g',
      value: limitG,
      formula: `the lowest limit that the practice gives for ${canister.id}`,
      inputs: {},
      rules: [limitRule],
      source: limitRule.source,
    });
  }
  if (gained !== null && gainBy !== null) {
    reasons.push({
      figure: 'supplies.charcoal.gain_g_so_far',
      value: gained,
      formula: GAIN_WORDS[gainBy],
      inputs: { gain_by: gainBy },
      rules: [],
      source: gainBy === 'scale' ? "the practice's own record" : `${CAUGHT}; ${DENSITY_SOURCE}`,
    });
  }
  if (agent !== null && expectedG !== null && liquidMl !== null) {
    const density = AGENT_PROPERTIES[agent].densityGPerMl;
    reasons.push({
      figure: 'supplies.charcoal.expected_g',
      value: expectedG,
      formula: `${formatNumber(liquidMl)} mL × ${density} g/mL`,
      inputs: { liquid_ml: liquidMl, density_g_ml: density },
      rules: [],
      source: `${CAUGHT}; ${DENSITY_SOURCE}`,
    });
  }
  if (hoursLeft === null) return reasons;
  if (limitedBy === 'hours_in_use') {
    const check = renewalCheck(inventory, canister.id);
    reasons.push({
      figure: 'supplies.charcoal.hours_left',
      value: hoursLeft,
      formula: `${formatNumber(left.hours?.limit ?? 0)} h − ${formatNumber(hoursUsed ?? 0)} h used, earlier than by gain`,
      inputs: { hours_in_use: left.hours?.limit ?? null, hours_used: hoursUsed },
      rules: check === null ? [] : [assetRef(inventory, `${check.path}/after/hours_in_use`)],
      source: "the practice's own figure",
    });
  } else if (limitG !== null) {
    const so = formatNumber(gained ?? part.gainAtLeastG);
    reasons.push({
      figure: 'supplies.charcoal.hours_left',
      value: hoursLeft,
      formula:
        perHour === null || hoursLeft === 0
          ? `${so} g of ${formatNumber(limitG)} g are reached`
          : `(${formatNumber(limitG)} g − ${so} g) / ${formatNumber(perHour)} g/h`,
      inputs: {
        limit_g: limitG,
        gain_g_so_far: gained ?? part.gainAtLeastG,
        g_per_hour: perHour,
        ml_per_hour: mlPerHour,
      },
      rules: limitRule === null ? [] : [limitRule],
      source: `${CAUGHT}; ${DENSITY_SOURCE}`,
    });
  }
  return reasons;
}
