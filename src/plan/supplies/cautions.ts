/**
 * What a person must know of the supplies before the figures are used. An ordered list of checks of one signature, like
 * the plan's own.
 */
import { AGENT_PROPERTIES } from '../../inventory/agent-properties.ts';
import { type CircuitKind, PHASES, type Phase } from '../../inventory/inventory.ts';
import { isAbove, isAtLeast } from '../../quantity/compare.ts';
import { formatFlow, formatNumber, formatToward } from '../../quantity/format.ts';
import type { MlPerMin, Range } from '../../quantity/units.ts';
import { type Caution, caution } from '../caution.ts';
import type { Flows } from '../flow.ts';
import { vaporizersFor } from './agent.ts';
import type { SupplyCase } from './case.ts';
import type { Supplies } from './supplies.ts';

type SupplyCheck = (supplies: Supplies, supplyCase: SupplyCase) => Caution[];

const CHECKS: readonly SupplyCheck[] = [
  oxygenShort,
  oxygenUnknown,
  agentFitted,
  settingOnDial,
  vaporizerFlow,
  oxygenUse,
  absorbentDue,
  charcoalNearFull,
  deadSpaceHigh,
  breathing,
];

export function supplyCautions(supplies: Supplies, supplyCase: SupplyCase): Caution[] {
  return CHECKS.flatMap(check => check(supplies, supplyCase));
}

function oxygenShort({ oxygen }: Supplies, { request, flows }: SupplyCase): Caution[] {
  const { supply, leftL, neededL, enough, decidedBy } = oxygen;
  if (enough !== false || supply === null || leftL === null || neededL === null) return [];
  const how =
    decidedBy === 'phases' ? 'over its phases' : `at ${formatFlow(flows.phases.maintenance.setMlPerMin)}`;
  // Rounded to the safe side, so that what is short also reads as short.
  const asks = `${formatNumber(request.minutes ?? 0)} min ask for ${formatToward('up', neededL, 0)} L ${how}`;
  return [caution('oxygen_short', `${supply.id} has ${formatToward('down', leftL, 0)} L left; ${asks}`)];
}

function oxygenUnknown({ oxygen }: Supplies, { request }: SupplyCase): Caution[] {
  if (request.minutes === null || oxygen.supply?.kind !== 'cylinder' || oxygen.leftL !== null) return [];
  const gap = oxygen.missing.find(missing => missing.in === 'record');
  return [
    caution(
      'oxygen_unknown',
      `not known ${gap?.what ?? `what ${oxygen.supply.id} has left`}; ${gap?.add ?? 'read the gauge'}`,
    ),
  ];
}

function agentFitted({ agent: { agent } }: Supplies, { pair, equipment, inventory }: SupplyCase): Caution[] {
  if (agent === null || vaporizersFor(pair.machine, agent, equipment).length > 0) return [];
  const withdrawn = pair.machine.vaporizers.find(vaporizer => vaporizer.agent === agent);
  const why =
    withdrawn === undefined
      ? ''
      : `: ${withdrawn.id} is out of service, ${equipment.outOfService(withdrawn.id)}`;
  const others = inventory.machines
    .filter(machine => vaporizersFor(machine, agent, equipment).length > 0)
    .map(({ id }) => id);
  const where = others.length === 0 ? '' : `; ${others.join(', ')} has: --machine ${others[0]}`;
  return [
    caution('agent_not_fitted', `${pair.machine.id} has no vaporizer in service for ${agent}${why}${where}`),
  ];
}

function settingOnDial({ agent: { agent, settingPercent } }: Supplies): Caution[] {
  if (agent === null || settingPercent === null) return [];
  const most = AGENT_PROPERTIES[agent].usualDialPercent;
  if (!isAbove(settingPercent, most)) return [];
  return [
    caution(
      'setting_above_dial',
      `${formatNumber(settingPercent)} %: dials for ${agent} usually end at ${most} %`,
    ),
  ];
}

/** The phase with the lowest mark to set. */
function lowestPhase({ phases }: Flows): { phase: Phase; set: MlPerMin } {
  const [first, ...rest] = PHASES.map(phase => ({ phase, set: phases[phase].setMlPerMin }));
  if (first === undefined) throw new Error('a case without phases');
  return rest.reduce((lowest, each) => (each.set < lowest.set ? each : lowest), first);
}

function vaporizerFlow(_: Supplies, { pair, equipment, request, flows }: SupplyCase): Caution[] {
  const { phase, set } = lowestPhase(flows);
  return vaporizersFor(pair.machine, request.agent, equipment).flatMap(({ id, minFlowMlPerMin: least }) =>
    least === null || isAtLeast(set, least)
      ? []
      : [
          caution(
            'vaporizer_flow_low',
            `${formatFlow(set)} in ${phase} is below the least flow of ${id}, ${formatFlow(least)}`,
          ),
        ],
  );
}

/** The oxygen that the patient uses, doubled: below that, nitrogen and whatever else gathers in the circuit. */
const LEAST_MULTIPLE_OF_OXYGEN_USE = 2;

function oxygenUse({ metabolism }: Supplies, { flows }: SupplyCase): Caution[] {
  const { phase, set } = lowestPhase(flows);
  if (isAtLeast(set, LEAST_MULTIPLE_OF_OXYGEN_USE * metabolism.oxygenMlPerMin)) return [];
  return [
    caution(
      'flow_near_oxygen_use',
      `${formatFlow(set)} in ${phase} is below twice the ${formatFlow(metabolism.oxygenMlPerMin)} of oxygen that this patient uses`,
    ),
  ];
}

/** The earliest of its limits, and only that. Overdue and failed checks that have a caution of their own say it themselves. */
function absorbentDue({ absorbent }: Supplies, { request }: SupplyCase): Caution[] {
  if (absorbent?.absorber == null) return [];
  const { absorber, due, limit, hoursUsed, check } = absorbent;
  if (due !== null && due.state === 'overdue' && !due.blocks)
    return [caution('absorbent_due', `${due.check} of ${absorber.id}: ${due.words}`)];
  if (due !== null || limit === null || !runsOut(limit.hoursLeft, request.minutes)) return [];
  const used = `${formatNumber(hoursUsed ?? 0, 1)} h used`;
  const of =
    limit.by === 'rule'
      ? `of ${formatNumber(check?.after.hoursInUse ?? 0)} h (${check?.id})`
      : 'and what it takes up of carbon dioxide at this weight';
  return [
    caution(
      'absorbent_due',
      `${absorber.id} has ${formatToward('down', limit.hoursLeft, 1)} h left: ${used} ${of}`,
    ),
  ];
}

/** Used up already, or before the case ends. */
function runsOut(hoursLeft: number, minutes: number | null): boolean {
  return hoursLeft <= 0 || (minutes !== null && isAbove(minutes / 60, hoursLeft));
}

function charcoalNearFull({ charcoal }: Supplies, { request }: SupplyCase): Caution[] {
  if (charcoal === null) return [];
  const { canister, gainAtLeastG, gainGSoFar, limitG, expectedG, hoursLeftByRule, hoursUsed } = charcoal;
  if (limitG !== null) {
    const after = gainAtLeastG + (expectedG ?? 0);
    const atLeast = gainGSoFar === null ? 'at least ' : '';
    const gained = `${canister.id} has gained ${atLeast}${formatNumber(gainAtLeastG, 1)} g of ${formatNumber(limitG)} g`;
    if (isAtLeast(gainAtLeastG, limitG)) return [caution('charcoal_near_full', gained)];
    if (isAbove(after, limitG))
      return [
        caution('charcoal_near_full', `${gained}; this case adds about ${formatNumber(expectedG ?? 0, 1)} g`),
      ];
  }
  if (hoursLeftByRule === null || !runsOut(hoursLeftByRule, request.minutes)) return [];
  const used = `${formatNumber(hoursUsed ?? 0, 1)} h in use`;
  return [
    caution(
      'charcoal_near_full',
      `${canister.id} has ${used}; ${formatToward('down', hoursLeftByRule, 1)} h left by the practice's limit`,
    ),
  ];
}

function deadSpaceHigh({ deadSpace }: Supplies, { inventory }: SupplyCase): Caution[] {
  const { apparatusMl, tidalVolumeMl, fraction } = deadSpace;
  const limit = inventory.rules.deadSpaceFraction.value;
  if (apparatusMl === null || tidalVolumeMl === null || fraction === null || !isAbove(fraction, limit))
    return [];
  const share = formatNumber(fraction * 100, 0);
  return [
    caution(
      'dead_space_high',
      `${formatNumber(apparatusMl, 1)} mL of dead space is ${share} % of a ${formatNumber(tidalVolumeMl, 0)} mL breath (limit ${formatNumber(limit * 100, 0)} %)`,
    ),
  ];
}

/**
 * How many times the minute volume the flow must at least be, by kind; null: what is breathed out is absorbed.
 *
 * Mapleson D and F, spontaneous breathing: 2 to 3 times by theory and teaching texts.
 */
const MULTIPLES_OF_MINUTE_VOLUME: Readonly<Record<CircuitKind, Range<number> | null>> = {
  t_piece: [2, 3],
  bain: [2, 3],
  circle_y: null,
  circle_coaxial: null,
};

function breathing({ breathing }: Supplies, { pair, flows }: SupplyCase): Caution[] {
  const minuteVolume = breathing.minuteVolumeMlPerMin;
  const multiples = MULTIPLES_OF_MINUTE_VOLUME[pair.circuit.kind];
  if (minuteVolume === null || multiples === null) return [];
  const [least, most] = multiples;
  const { set } = lowestPhase(flows);
  if (isAtLeast(set, least * minuteVolume)) return [];
  return [
    caution(
      'flow_below_breathing',
      `${formatFlow(set)} is ${formatNumber(set / minuteVolume, 1)} times the minute volume of ${formatFlow(minuteVolume)}; published multiples are ${least} to ${most}: watch inspired carbon dioxide`,
    ),
  ];
}
