/** Whether the oxygen lasts for the case. */
import type { CalendarDate, Timestamp } from '../../calendar/zone.ts';
import type { Cylinder, OxygenSupply } from '../../inventory/inventory.ts';
import { isAbove } from '../../quantity/compare.ts';
import { formatFlow, formatGauge, formatNumber } from '../../quantity/format.ts';
import { type Litres, litres, type Minutes, minutes, type Psi } from '../../quantity/units.ts';
import { highestReadingPsi } from '../../record/reading-limits.ts';
import { assetRef, type Reason, type Reasoned, ruleRef } from '../reason.ts';
import type { GaugeState } from '../request.ts';
import {
  type Lacking,
  type Missing,
  missingEntry,
  missingForDamage,
  missingOption,
  type SupplyCase,
} from './case.ts';
import { freshGasFormula, freshGasMl, phaseMinutes } from './phase-minutes.ts';

export interface OxygenPart extends Reasoned, Lacking {
  /** The supply that serves; null: none of the machine's is in service. */
  readonly supply: OxygenSupply | null;
  /** Cylinders only; null: not known, and for a pipeline or a concentrator there is no such figure. */
  readonly leftL: Litres | null;
  readonly readAt: Timestamp | CalendarDate | null;
  /** Who read the gauge. */
  readonly by: string | null;
  /** Over the phases; null without minutes. */
  readonly useL: Litres | null;
  /** At the mark set for maintenance. */
  readonly minutesLeftAtSet: Minutes | null;
  readonly enough: boolean | null;
  /** Which asks for more, and so decides: the use over the phases, or the set flow over the minutes. */
  readonly decidedBy: 'phases' | 'set_flow' | null;
  /** What decides, in litres. */
  readonly neededL: Litres | null;
}

/**
 * The oxygen that a cylinder holds above its reserve. Below the reserve nothing is left; above full counts as full, since
 * the capacity is that of a full one.
 *
 * @example cylinderLeftL({ capacityL: 660, fullPsi: 1900, reservePsi: 200 }, psi(1450)) //=> 434.2…
 */
export function cylinderLeftL(
  { capacityL, fullPsi, reservePsi }: Pick<Cylinder, 'capacityL' | 'fullPsi' | 'reservePsi'>,
  gauge: Psi,
): Litres {
  return litres(Math.max(0, (capacityL * (Math.min(gauge, fullPsi) - reservePsi)) / fullPsi));
}

/** How long an amount of oxygen lasts at a flow. @example minutesAt(litres(500), mlPerMin(2000)) //=> 250 */
export function minutesAt(left: Litres, flowMlPerMin: number): Minutes {
  return minutes((left * 1000) / flowMlPerMin);
}

export function oxygenOf(supplyCase: SupplyCase): OxygenPart {
  const { supply, flows } = supplyCase;
  const gauge = gaugeOf(supplyCase);
  const use = useOf(supplyCase);
  const missing = [...(use === null ? [missingOption('--minutes N', 'how long the case lasts')] : [])];
  if (supply === null || 'what' in gauge) {
    if ('what' in gauge) missing.unshift(gauge);
    return { ...nothingLeftKnown(supply, use?.useL ?? null), missing, reasons: use?.reasons ?? [] };
  }
  if (supply.kind !== 'cylinder' || !('psi' in gauge)) {
    return { ...nothingLeftKnown(supply, use?.useL ?? null), missing, reasons: use?.reasons ?? [] };
  }
  const usedSinceL = gauge.usedSinceMl / 1000;
  const leftL = litres(Math.max(0, cylinderLeftL(supply, gauge.psi) - usedSinceL));
  const set = flows.phases.maintenance.setMlPerMin;
  const minutesLeftAtSet = minutesAt(leftL, set);
  const neededL = use === null ? null : litres(Math.max(use.useL, use.setL));
  const enough = neededL === null ? null : !isAbove(neededL, leftL);
  const reasons: Reason[] = [
    leftReason(supplyCase, supply, gauge, leftL),
    {
      figure: 'supplies.oxygen.minutes_left_at_set',
      value: minutesLeftAtSet,
      formula: `${formatNumber(leftL)} L / ${formatFlow(set)}`,
      inputs: { left_l: leftL, set_ml_min: set },
      rules: [],
      source: 'arithmetic',
    },
    ...(use?.reasons ?? []),
  ];
  if (use !== null && neededL !== null) {
    const asks = `the larger of ${formatNumber(use.useL)} L over the phases and ${formatNumber(use.setL)} L at the set flow`;
    reasons.push({
      figure: 'supplies.oxygen.enough',
      value: enough,
      formula: `${asks} is ${enough ? 'at most' : 'more than'} ${formatNumber(leftL)} L`,
      inputs: { use_l: use.useL, at_set_l: use.setL, left_l: leftL },
      rules: [],
      source: 'arithmetic',
    });
  }
  return {
    supply,
    leftL,
    readAt: gauge.readAt,
    by: gauge.by,
    useL: use?.useL ?? null,
    minutesLeftAtSet,
    enough,
    decidedBy: use === null ? null : use.setL > use.useL ? 'set_flow' : 'phases',
    neededL,
    missing,
    reasons,
  };
}

function nothingLeftKnown(
  supply: OxygenSupply | null,
  useL: Litres | null,
): Omit<OxygenPart, 'missing' | 'reasons'> {
  return {
    supply,
    leftL: null,
    readAt: null,
    by: null,
    useL,
    minutesLeftAtSet: null,
    enough: null,
    decidedBy: null,
    neededL: null,
  };
}

/** The gauge of the supply that serves; what is missing; or nothing to read, for a pipeline or a concentrator. */
function gaugeOf({ supply, equipment, pair }: SupplyCase): GaugeState | Missing | { none: true } {
  if (supply === null)
    return missingEntry('holdfast return SUPPLY', `an oxygen supply of ${pair.machine.id} in service`);
  if (supply.kind !== 'cylinder') return { none: true };
  const what = `what ${supply.id} has left`;
  const read = `holdfast reading ${supply.id} PRESSURE`;
  if (equipment.record === 'damaged') return missingForDamage(what);
  const gauge = equipment.gauge(supply.id);
  if (gauge === null) return missingEntry(read, `${what}: its gauge was never read`);
  if (isAbove(gauge.psi, highestReadingPsi(supply))) {
    // Refused at entry; it stands here when the inventory's figure was changed since.
    const shown = formatGauge(gauge.psi, supply.gaugeUnit);
    return missingEntry(read, `${what}: ${shown} was read, more than it can hold`);
  }
  return gauge;
}

interface Use {
  useL: Litres;
  setL: Litres;
  reasons: Reason[];
}

function useOf({ request, inventory, flows }: SupplyCase): Use | null {
  if (request.minutes === null) return null;
  const lasting = phaseMinutes(inventory.rules, request.minutes);
  const useL = litres(freshGasMl(flows, lasting) / 1000);
  const set = flows.phases.maintenance.setMlPerMin;
  const { induction, recovery } = inventory.rules.phaseMinutes;
  const reason: Reason = {
    figure: 'supplies.oxygen.use_l',
    value: useL,
    formula: freshGasFormula(flows, lasting),
    inputs: {
      minutes: request.minutes,
      induction_minutes: lasting.induction,
      maintenance_minutes: lasting.maintenance,
      recovery_minutes: lasting.recovery,
    },
    rules: [induction, recovery].map(ruleRef),
    source: induction.source,
  };
  return { useL, setL: litres((set * request.minutes) / 1000), reasons: [reason] };
}

function leftReason({ inventory }: SupplyCase, supply: Cylinder, gauge: GaugeState, leftL: Litres): Reason {
  const { capacityL, fullPsi, reservePsi, gaugeUnit } = supply;
  const shown = (value: Psi) => formatGauge(value, gaugeUnit);
  const isOverfull = isAbove(gauge.psi, fullPsi);
  const counted = isOverfull ? `${shown(gauge.psi)} counted as full, ${shown(fullPsi)}` : shown(gauge.psi);
  const product = `${formatNumber(capacityL)} L × (${counted} − ${shown(reservePsi)}) / ${shown(fullPsi)}`;
  const used = formatNumber(gauge.usedSinceMl / 1000);
  const floor = leftL === 0 ? ', never below 0' : '';
  return {
    figure: 'supplies.oxygen.left_l',
    value: leftL,
    formula: `${product} − ${used} L used since${floor}`,
    inputs: {
      gauge_psi: gauge.psi,
      read_at: gauge.readAt,
      by: gauge.by,
      capacity_l: capacityL,
      reserve_psi: reservePsi,
      full_psi: fullPsi,
      used_since_l: gauge.usedSinceMl / 1000,
    },
    rules: [assetRef(inventory, `${supply.path}/capacity_l`)],
    source: `the gauge as it was read, and the contents of ${supply.id} as the practice wrote them down`,
  };
}
