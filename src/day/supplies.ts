/**
 * What the cases of a day take from each cylinder, vaporizer, absorbent and canister, in the order of time, and before which
 * case each is to be changed. Built from the figures of the single plans, which count from what the record knows now.
 */
import type { Absorber, Cylinder, OxygenSupply, Scavenging, Vaporizer } from '../inventory/inventory.ts';
import type { Lacking } from '../plan/supplies/case.ts';
import { cylinderLeftL } from '../plan/supplies/oxygen.ts';
import type { Supplies } from '../plan/supplies/supplies.ts';
import { isAbove } from '../quantity/compare.ts';
import type { PlannedCase } from './day.ts';

/** One thing over the day. Figures are null where a part of them cannot be worked out. */
export interface SupplyDay {
  readonly asset: OxygenSupply | Vaporizer | Absorber | Scavenging;
  readonly unit: 'L' | 'mL' | 'h' | 'g';
  /** What the day's cases take in all: oxygen in L, liquid agent in mL, absorbent in hours of use, charcoal in g gained. */
  readonly used: number | null;
  /** What is left now in the same unit; for absorbent by the tightest of its cases. null: not known, or no such figure. */
  readonly left: number | null;
  /** The refs of the cases before which it is to be changed. */
  readonly changeBefore: readonly string[];
  /** The refs of cases that even a fresh one does not last for. */
  readonly neverEnough: readonly string[];
  /** What to do to know what is not known: "holdfast reading ward-e-1 PRESSURE". */
  readonly missing: readonly string[];
}

/** @param cases - in the order of time */
export function suppliesOfDay(cases: readonly PlannedCase[]): SupplyDay[] {
  const served = cases.filter(({ plan }) => plan.supplies !== null);
  return [...oxygen(served), ...agents(served), ...absorbents(served), ...canisters(served)];
}

interface Draw {
  readonly ref: string;
  readonly supplies: Supplies;
}

function grouped<K>(cases: readonly PlannedCase[], keyOf: (supplies: Supplies) => K | null): Map<K, Draw[]> {
  const groups = new Map<K, Draw[]>();
  for (const { dayCase, plan } of cases) {
    const key = plan.supplies === null ? null : keyOf(plan.supplies);
    if (plan.supplies === null || key === null) continue;
    const list = groups.get(key) ?? [];
    list.push({ ref: dayCase.ref, supplies: plan.supplies });
    groups.set(key, list);
  }
  return groups;
}

/** The sum, or null where one of them is not known. */
function sum(values: readonly (number | null)[]): number | null {
  let total = 0;
  for (const value of values) {
    if (value === null) return null;
    total += value;
  }
  return total;
}

/** Walks through the day: what is left before each case, a fresh one where it does not last. */
function walk(
  draws: readonly Draw[],
  left: number | null,
  fresh: number | null,
  needOf: (draw: Draw) => number | null,
): Pick<SupplyDay, 'changeBefore' | 'neverEnough'> {
  const changeBefore: string[] = [];
  const neverEnough: string[] = [];
  let now = left;
  for (const draw of draws) {
    const need = needOf(draw);
    if (now === null || need === null) {
      // From here on nothing is known of what is left, until it is changed.
      now = null;
      continue;
    }
    if (isAbove(need, now) && fresh !== null) {
      if (isAbove(need, fresh)) neverEnough.push(draw.ref);
      if (now < fresh) changeBefore.push(draw.ref);
      now = fresh;
    }
    now = Math.max(0, now - need);
  }
  return { changeBefore, neverEnough };
}

/** What is missing and what to do about it, each once; what a single plan takes as an option stands in the list here. */
function missingOf(draws: readonly Draw[], part: (supplies: Supplies) => Lacking | null): string[] {
  const words = draws.flatMap(({ ref, supplies }) =>
    (part(supplies)?.missing ?? []).map(({ what, in: where, add }) =>
      where === 'options' ? `${what} of ${ref}: write it into the list` : `${what}: ${add}`,
    ),
  );
  return [...new Set(words)];
}

function oxygen(cases: readonly PlannedCase[]): SupplyDay[] {
  return [...grouped(cases, ({ oxygen }) => oxygen.supply)].map(([supply, draws]) => {
    const used = sum(draws.map(({ supplies }) => supplies.oxygen.useL));
    const missing = missingOf(draws, ({ oxygen }) => oxygen);
    if (supply.kind !== 'cylinder') {
      return { asset: supply, unit: 'L', used, left: null, changeBefore: [], neverEnough: [], missing };
    }
    const left = draws[0]?.supplies.oxygen.leftL ?? null;
    const full = fullL(supply);
    // As for a single case: the larger of the use over the phases and the set flow over all the minutes.
    const changes = walk(
      draws,
      left,
      full,
      ({ supplies }) => supplies.oxygen.neededL ?? supplies.oxygen.useL,
    );
    return { asset: supply, unit: 'L', used, left, ...changes, missing };
  });
}

function fullL(cylinder: Cylinder): number {
  return cylinderLeftL(cylinder, cylinder.fullPsi);
}

function agents(cases: readonly PlannedCase[]): SupplyDay[] {
  const groups = new Map<Vaporizer, Draw[]>();
  for (const { dayCase, plan } of cases) {
    const agent = plan.supplies?.agent.agent ?? null;
    const vaporizer = plan.main?.choice.pair?.machine.vaporizers.find(one => one.agent === agent);
    if (plan.supplies === null || vaporizer === undefined) continue;
    const list = groups.get(vaporizer) ?? [];
    list.push({ ref: dayCase.ref, supplies: plan.supplies });
    groups.set(vaporizer, list);
  }
  return [...groups].map(([asset, draws]) => ({
    asset,
    unit: 'mL',
    used: sum(draws.map(({ supplies }) => supplies.agent.liquidMl)),
    left: null,
    changeBefore: [],
    neverEnough: [],
    missing: missingOf(draws, ({ agent }) => agent),
  }));
}

/** Hours in use are what the practice counts, so they are summed; how many are good goes by each patient's own figure. */
function absorbents(cases: readonly PlannedCase[]): SupplyDay[] {
  return [...grouped(cases, ({ absorbent }) => absorbent?.absorber ?? null)].map(([absorber, draws]) => {
    const hoursOf = ({ ref }: Draw) =>
      (cases.find(({ dayCase }) => dayCase.ref === ref)?.dayCase.minutes ?? 0) / 60;
    const changeBefore: string[] = [];
    const neverEnough: string[] = [];
    let usedToday = 0;
    let isFresh = false;
    for (const draw of draws) {
      const { absorbent } = draw.supplies;
      const limit = absorbent?.limit?.hoursLeft ?? null;
      const hours = hoursOf(draw);
      if (absorbent === null || absorbent === undefined || limit === null) continue;
      const whenFresh = limit + (absorbent.hoursUsed ?? 0);
      const left = (isFresh ? whenFresh : limit) - usedToday;
      if (isAbove(hours, left)) {
        if (!isFresh || usedToday > 0) changeBefore.push(draw.ref);
        if (isAbove(hours, whenFresh)) neverEnough.push(draw.ref);
        [usedToday, isFresh] = [0, true];
      }
      usedToday += hours;
    }
    const lefts = draws.flatMap(({ supplies }) => supplies.absorbent?.limit?.hoursLeft ?? []);
    return {
      asset: absorber,
      unit: 'h',
      used: sum(draws.map(hoursOf)),
      left: lefts.length === 0 ? null : Math.min(...lefts),
      changeBefore,
      neverEnough,
      missing: missingOf(draws, ({ absorbent }) => absorbent),
    };
  });
}

function canisters(cases: readonly PlannedCase[]): SupplyDay[] {
  return [...grouped(cases, ({ charcoal }) => charcoal?.canister ?? null)].map(([canister, draws]) => {
    const first = draws[0]?.supplies.charcoal ?? null;
    const limit = first?.limitG ?? null;
    const gained = first?.gainGSoFar ?? null;
    const left = limit === null || gained === null ? null : Math.max(0, limit - gained);
    return {
      asset: canister,
      unit: 'g',
      used: sum(draws.map(({ supplies }) => supplies.charcoal?.expectedG ?? null)),
      left,
      ...walk(draws, left, limit, ({ supplies }) => supplies.charcoal?.expectedG ?? null),
      missing: missingOf(draws, ({ charcoal }) => charcoal),
    };
  });
}
