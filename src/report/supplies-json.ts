/** The supplies of a case as they stand in holdfast.plan/1. Figures are rounded here, at the last step. */
import type { PlanDocument } from '../generated/plan-document.ts';
import type { Lacking } from '../plan/supplies/case.ts';
import type { CharcoalPart } from '../plan/supplies/charcoal.ts';
import type { Supplies } from '../plan/supplies/supplies.ts';
import { roundTo } from '../quantity/compare.ts';

type SuppliesDocument = PlanDocument['supplies'];

const NO_PAIR: SuppliesDocument = {
  oxygen: null,
  absorbent: null,
  agent: null,
  charcoal: null,
  wash_in: null,
  breathing: null,
  dead_space: null,
  metabolism: null,
};

/** The `supplies` of the document; every part null where no pair was chosen. */
export function suppliesDocument(supplies: Supplies | null): SuppliesDocument {
  if (supplies === null) return NO_PAIR;
  const { agent, washIn, breathing, deadSpace, metabolism } = supplies;
  return {
    oxygen: oxygenDocument(supplies),
    absorbent: absorbentDocument(supplies),
    agent: {
      agent: agent.agent,
      setting_percent: agent.settingPercent,
      liquid_ml: hundredth(agent.liquidMl),
      ml_per_hour: hundredth(agent.mlPerHour),
      missing: missing(agent),
    },
    charcoal: supplies.charcoal === null ? null : charcoalDocument(supplies.charcoal),
    wash_in: {
      volume_ml: tenth(washIn.volumeMl),
      flow_ml_min: roundTo(washIn.flowMlPerMin, 0.1),
      time_constant_min: hundredth(washIn.timeConstantMin),
      t63_min: hundredth(washIn.t63Min),
      t95_min: hundredth(washIn.t95Min),
      missing: missing(washIn),
    },
    breathing: {
      minute_volume_ml_min: tenth(breathing.minuteVolumeMlPerMin),
      flow_over_minute_volume: thousandth(breathing.flowOverMinuteVolume),
      missing: missing(breathing),
    },
    dead_space: {
      apparatus_ml: tenth(deadSpace.apparatusMl),
      tidal_volume_ml: tenth(deadSpace.tidalVolumeMl),
      fraction: thousandth(deadSpace.fraction),
      missing: missing(deadSpace),
    },
    metabolism: { oxygen_ml_min: roundTo(metabolism.oxygenMlPerMin, 0.1) },
  };
}

function oxygenDocument({ oxygen }: Supplies): SuppliesDocument['oxygen'] {
  return {
    supply: oxygen.supply?.id ?? null,
    kind: oxygen.supply?.kind ?? null,
    left_l: hundredth(oxygen.leftL),
    read_at: oxygen.readAt,
    by: oxygen.by,
    use_l: hundredth(oxygen.useL),
    minutes_left_at_set: hundredth(oxygen.minutesLeftAtSet),
    enough: oxygen.enough,
    decided_by: oxygen.decidedBy,
    missing: missing(oxygen),
  };
}

function absorbentDocument({ absorbent }: Supplies): SuppliesDocument['absorbent'] {
  if (absorbent === null) return null;
  const { limit } = absorbent;
  return {
    absorber: absorbent.absorber?.id ?? null,
    hours_used: hundredth(absorbent.hoursUsed),
    since: absorbent.since?.date ?? null,
    since_by: absorbent.since?.by ?? null,
    hours_left_by_rule: hundredth(absorbent.hoursLeftByRule),
    hours_left_by_capacity: hundredth(absorbent.hoursLeftByCapacity),
    hours_when_fresh: hundredth(absorbent.hoursWhenFresh),
    co2_ml_min: roundTo(absorbent.co2MlPerMin, 0.1),
    limit: limit === null ? null : { by: limit.by, hours_left: roundTo(limit.hoursLeft, 0.01) },
    missing: missing(absorbent),
  };
}

function charcoalDocument(charcoal: CharcoalPart): SuppliesDocument['charcoal'] {
  return {
    canister: charcoal.canister.id,
    gain_g_so_far: hundredth(charcoal.gainGSoFar),
    gain_by: charcoal.gainBy,
    gain_at_least_g: roundTo(charcoal.gainAtLeastG, 0.01),
    limit_g: hundredth(charcoal.limitG),
    expected_g: hundredth(charcoal.expectedG),
    hours_left: hundredth(charcoal.hoursLeft),
    limited_by: charcoal.limitedBy,
    missing: missing(charcoal),
  };
}

function missing(part: Lacking): NonNullable<SuppliesDocument['oxygen']>['missing'] {
  return part.missing.map(({ what, in: where, add, path, line }) => ({ what, in: where, add, path, line }));
}

const rounded = (step: 0.1 | 0.01 | 0.001) => (value: number | null) =>
  value === null ? null : roundTo(value, step);
const tenth = rounded(0.1);
const hundredth = rounded(0.01);
const thousandth = rounded(0.001);
