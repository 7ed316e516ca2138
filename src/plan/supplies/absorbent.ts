/** How long the absorbent of a circle is good for this patient. */
import { type Absorber, type Check, classOf } from '../../inventory/inventory.ts';
import { isAtLeast } from '../../quantity/compare.ts';
import { formatNumber } from '../../quantity/format.ts';
import { type Grams, type Hours, hours, type MlPerMin } from '../../quantity/units.ts';
import { renewalCheck, type WornSince } from '../../record/wear.ts';
import { assetRef, type Reason, type Reasoned, ruleRef } from '../reason.ts';
import type { CheckTrouble } from '../request.ts';
import {
  type Lacking,
  type Missing,
  missingEntry,
  missingForDamage,
  missingKey,
  type SupplyCase,
} from './case.ts';
import { co2Made, co2Reason } from './metabolism.ts';

export interface AbsorbentPart extends Reasoned, Lacking {
  readonly absorber: Absorber | null;
  /** As far as the record knows. */
  readonly hoursUsed: Hours | null;
  readonly since: WornSince | null;
  /** The check that renews it, by hours in use; null: none does. */
  readonly check: Check | null;
  readonly hoursLeftByRule: Hours | null;
  readonly hoursLeftByCapacity: Hours | null;
  /** By its capacity, when it is fresh. */
  readonly hoursWhenFresh: Hours | null;
  readonly co2MlPerMin: MlPerMin;
  /** The earlier of the two, which alone is the limit. */
  readonly limit: { readonly by: 'rule' | 'capacity'; readonly hoursLeft: Hours } | null;
  /** Its check, where that is overdue or failed: then it is to be changed whatever the hours say. */
  readonly due: CheckTrouble | null;
}

/**
 * How long absorbent takes up the carbon dioxide of one patient.
 *
 * @param litresPer100G - carbon dioxide that 100 g take up; 26 is the theoretical ceiling, never met in use
 * @example absorbentHours(grams(1000), 10, mlPerMin(45)) //=> 37.03…
 */
export function absorbentHours(absorbent: Grams, litresPer100G: number, co2: MlPerMin): Hours {
  return hours(((absorbent / 100) * litresPer100G * 1000) / co2 / 60);
}

/** null: the circuit has no absorbent. */
export function absorbentOf(supplyCase: SupplyCase): AbsorbentPart | null {
  const { inventory, equipment, weights, pair } = supplyCase;
  if (classOf(pair.circuit.kind) === 'non_rebreathing') return null;
  const co2MlPerMin = co2Made(weights.actualKg);
  const co2 = co2Reason('absorbent.co2_ml_min', weights.actualKg);
  const { absorber } = pair.machine;
  if (absorber === null) {
    const what = `the absorbent of ${pair.machine.id}`;
    return {
      absorber: null,
      hoursUsed: null,
      since: null,
      check: null,
      hoursLeftByRule: null,
      hoursLeftByCapacity: null,
      hoursWhenFresh: null,
      co2MlPerMin,
      limit: null,
      due: null,
      missing: [missingKey(inventory, pair.machine.path, 'absorber: { id: ID, absorbent_g: GRAMS }', what)],
      reasons: [co2],
    };
  }

  const check = renewalCheck(inventory, absorber.id);
  const wear = equipment.record === 'damaged' ? null : equipment.wear(absorber.id);
  const hoursUsed = wear?.hours ?? null;
  const capacity = absorbentHours(
    absorber.absorbentG,
    inventory.rules.absorbentLitresPer100G.value,
    co2MlPerMin,
  );
  // Since it was put in service, the record may not know of all its use: then only a limit that is reached is certain.
  const knowsAll = wear !== null && wear.since !== null && wear.since.by !== 'in_service';
  const left = (limit: number | null): Hours | null => {
    if (limit === null || hoursUsed === null) return null;
    return knowsAll || isAtLeast(hoursUsed, limit) ? hours(Math.max(0, limit - hoursUsed)) : null;
  };
  const hoursLeftByRule = left(check?.after.hoursInUse ?? null);
  const hoursLeftByCapacity = left(capacity);
  const figures = { hoursUsed, hoursLeftByRule, hoursLeftByCapacity, capacity };
  return {
    absorber,
    hoursUsed,
    since: wear?.since ?? null,
    check,
    hoursLeftByRule,
    hoursLeftByCapacity,
    hoursWhenFresh: capacity,
    co2MlPerMin,
    limit: earlier(hoursLeftByRule, hoursLeftByCapacity),
    due: dueCheck(supplyCase, absorber, check),
    missing: missingOf(supplyCase, absorber, check, wear?.since ?? null),
    reasons: [co2, ...reasonsOf(supplyCase, absorber, check, wear?.since ?? null, figures)],
  };
}

function earlier(byRule: Hours | null, byCapacity: Hours | null): AbsorbentPart['limit'] {
  if (byRule !== null && (byCapacity === null || byRule <= byCapacity))
    return { by: 'rule', hoursLeft: byRule };
  return byCapacity === null ? null : { by: 'capacity', hoursLeft: byCapacity };
}

function dueCheck({ equipment }: SupplyCase, absorber: Absorber, check: Check | null): CheckTrouble | null {
  return equipment.checks([absorber.id]).find(trouble => trouble.check === check?.id) ?? null;
}

function missingOf(
  { inventory, equipment }: SupplyCase,
  absorber: Absorber,
  check: Check | null,
  since: WornSince | null,
): Missing[] {
  const what = `when ${absorber.id} was last changed`;
  if (check === null) {
    const key = 'a check by hours_in_use';
    const none = `a check by hours in use, of ${absorber.id}, that says when it was changed`;
    return [{ ...missingKey(inventory, '/checks', key, none), path: '/checks' }];
  }
  if (equipment.record === 'damaged') return [missingForDamage(what)];
  if (since !== null && since.by !== 'in_service') return [];
  return [missingEntry(`holdfast sign-off ${absorber.id} ${check.id}`, what)];
}

interface Figures {
  readonly hoursUsed: Hours | null;
  readonly hoursLeftByRule: Hours | null;
  readonly hoursLeftByCapacity: Hours | null;
  readonly capacity: Hours;
}

const SINCE_WORDS = {
  new: 'marked new',
  sign_off: 'signed off as changed',
  in_service: 'in service; never signed off as changed',
};

function reasonsOf(
  { inventory, weights }: SupplyCase,
  absorber: Absorber,
  check: Check | null,
  since: WornSince | null,
  { hoursUsed, hoursLeftByRule, hoursLeftByCapacity, capacity }: Figures,
): Reason[] {
  const rule = inventory.rules.absorbentLitresPer100G;
  const co2 = co2Made(weights.actualKg);
  const reasons: Reason[] = [
    {
      figure: 'supplies.absorbent.hours_when_fresh',
      value: capacity,
      formula: `${formatNumber(absorber.absorbentG)} g / 100 × ${rule.value} L per 100 g / ${formatNumber(co2, 1)} mL/min`,
      inputs: { absorbent_g: absorber.absorbentG, litres_per_100_g: rule.value, co2_ml_min: co2 },
      rules: [ruleRef(rule), assetRef(inventory, `${absorber.path}/absorbent_g`)],
      source: rule.source,
    },
  ];
  if (hoursUsed === null || since === null) return reasons;
  const used = formatNumber(hoursUsed);
  reasons.push({
    figure: 'supplies.absorbent.hours_used',
    value: hoursUsed,
    formula: `the hours of all cases on a circle since ${since.date} (${SINCE_WORDS[since.by]})`,
    inputs: { since: since.date, by: since.by },
    rules: check === null ? [] : [assetRef(inventory, check.path)],
    source: "the practice's own record",
  });
  if (hoursLeftByRule !== null && check !== null) {
    reasons.push({
      figure: 'supplies.absorbent.hours_left_by_rule',
      value: hoursLeftByRule,
      formula: `${formatNumber(check.after.hoursInUse ?? 0)} h − ${used} h used`,
      inputs: { hours_in_use: check.after.hoursInUse, hours_used: hoursUsed },
      rules: [assetRef(inventory, `${check.path}/after/hours_in_use`)],
      source: `the check ${check.id} of the practice`,
    });
  }
  if (hoursLeftByCapacity !== null) {
    reasons.push({
      figure: 'supplies.absorbent.hours_left_by_capacity',
      value: hoursLeftByCapacity,
      formula: `${formatNumber(capacity)} h when fresh − ${used} h used`,
      inputs: { hours_when_fresh: capacity, hours_used: hoursUsed },
      rules: [ruleRef(rule), assetRef(inventory, `${absorber.path}/absorbent_g`)],
      source: rule.source,
    });
  }
  return reasons;
}
