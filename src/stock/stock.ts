/**
 * What is left of everything that is used up: oxygen, absorbent, charcoal; and when it ends at the practice's recent use.
 * Pure. Nothing is guessed: a level that is not known says what to enter.
 */
import { addDays, daysBetween } from '../calendar/date.ts';
import type { CalendarDate } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';
import type { StockDocument } from '../generated/stock-document.ts';
import type { Absorber, Cylinder, Inventory, OxygenSupply, Scavenging } from '../inventory/inventory.ts';
import { cylinderLeftL } from '../plan/supplies/oxygen.ts';
import { foldStanding } from '../record/standing.ts';
import type { AssetStanding, Standing } from '../record/standing-types.ts';
import { foldGauges, oxygenUses } from '../record/supply-use.ts';
import { caughtG, renewalCheck, wearOf } from '../record/wear.ts';

export interface StockItem {
  readonly asset: string;
  /** In the trade's words: "oxygen cylinder". */
  readonly what: StockDocument['items'][number]['what'];
  /** How much is left, from 0 to 1; null: not known, or there is no such figure. */
  readonly level: number | null;
  readonly left: number | null;
  /** Unit of `left`, `full` and `perDay`. */
  readonly unit: 'L' | 'h' | 'g';
  readonly full: number | null;
  /** Mean use a calendar day over the recent days; null where there was none. */
  readonly perDay: number | null;
  /** The day on which it ends at that use; null where it is not known or not in sight. */
  readonly endsOn: CalendarDate | null;
  /** Why the level is not known, and what to enter; null where it is known. */
  readonly missing: string | null;
  readonly outOfService: boolean;
}

export interface Stock {
  readonly practice: string;
  readonly asOf: CalendarDate;
  /** How many days back the use is counted. */
  readonly recentDays: number;
  readonly items: readonly StockItem[];
}

/** Four weeks: long enough to hold each weekday alike, short enough to follow a season. */
const RECENT_DAYS = 28;

/** An end farther off than this says nothing. */
const FARTHEST_DAYS = 3650;

interface Facts {
  readonly inventory: Inventory;
  readonly standing: Standing;
  readonly entries: readonly Entry[];
  readonly today: CalendarDate;
}

/**
 * The stock of a practice on a day.
 *
 * @param entries all stations' entries in the order on, at, station, line, up to that day
 * @example stockOf(inventory, entries, '2026-11-25').items[0]?.level //=> 0.62
 */
export function stockOf(inventory: Inventory, entries: readonly Entry[], today: CalendarDate): Stock {
  const facts: Facts = { inventory, entries, today, standing: foldStanding(inventory, entries) };
  const scavenging = inventory.machines.flatMap(({ scavenging: unit }) =>
    unit?.kind === 'charcoal' ? [unit] : [],
  );
  const absorbers = inventory.machines.flatMap(({ absorber }) => absorber ?? []);
  const items = [
    ...inventory.supplies.map(supply => supplyItem(supply, facts)),
    ...absorbers.map(absorber => absorberItem(absorber, facts)),
    ...scavenging.map(canister => canisterItem(canister, facts)),
  ];
  return { practice: inventory.practice.name, asOf: today, recentDays: RECENT_DAYS, items };
}

function supplyItem(supply: OxygenSupply, facts: Facts): StockItem {
  const { id, kind } = supply;
  const base = { asset: id, unit: 'L' as const, outOfService: isOut(id, facts) };
  const uses = oxygenUses(facts.inventory, facts.entries).filter(use => use.supply === id);
  const perDay = meanPerDay(
    uses.map(({ date, takenMl }) => ({ date, amount: takenMl / 1000 })),
    facts.today,
  );
  if (kind !== 'cylinder') {
    const what = kind === 'pipeline' ? 'oxygen pipeline' : 'oxygen concentrator';
    return { ...base, what, level: null, left: null, full: null, perDay, endsOn: null, missing: null };
  }
  return cylinderItem(supply, { ...base, what: 'oxygen cylinder', perDay }, facts);
}

type Base = Pick<StockItem, 'asset' | 'what' | 'unit' | 'perDay' | 'outOfService'>;

function cylinderItem(cylinder: Cylinder, base: Base, { inventory, entries, today }: Facts): StockItem {
  const gauge = foldGauges(inventory, entries).get(cylinder.id);
  const full = cylinderLeftL(cylinder, cylinder.fullPsi);
  if (gauge === undefined) {
    return {
      ...base,
      level: null,
      left: null,
      full,
      endsOn: null,
      missing: `holdfast reading ${cylinder.id} PRESSURE`,
    };
  }
  const left = Math.max(0, cylinderLeftL(cylinder, gauge.psi) - gauge.usedSinceMl / 1000);
  return known(base, left, full, today);
}

function absorberItem(absorber: Absorber, facts: Facts): StockItem {
  const { inventory, standing, today } = facts;
  const { id } = absorber;
  const asset = standing.assets.get(id);
  const base = {
    asset: id,
    what: 'absorbent' as const,
    unit: 'h' as const,
    outOfService: isOut(id, facts),
    perDay: hoursPerDay(asset, today),
  };
  const check = renewalCheck(inventory, id);
  const limit = check?.after.hoursInUse ?? null;
  const { hours, since } = wearOf(inventory, absorber, asset);
  // Before the first change is entered, nobody knows what the charge had seen.
  if (limit === null || hours === null || since?.by === 'in_service') {
    const missing =
      limit === null
        ? `no check of ${id} with after: { hours_in_use }`
        : `holdfast sign-off ${id} ${check?.id}`;
    return { ...base, level: null, left: null, full: limit, endsOn: null, missing };
  }
  return known(base, Math.max(0, limit - hours), limit, today);
}

/** A canister has two limits, grams and hours; the one that is nearer its end is shown. */
function canisterItem(canister: Scavenging, facts: Facts): StockItem {
  const { inventory, standing, today } = facts;
  const { id } = canister;
  const asset = standing.assets.get(id);
  const { gainG, hours } = wearOf(inventory, canister, asset);
  const base = { asset: id, what: 'charcoal canister' as const, outOfService: isOut(id, facts) };
  const grams = leastOf([canister.limitGainG, ...limitsOf(inventory, id).map(({ gainG: limit }) => limit)]);
  const hourLimit = renewalCheck(inventory, id)?.after.hoursInUse ?? null;
  const byGrams =
    grams === null || gainG === null
      ? null
      : known(
          { ...base, unit: 'g', perDay: gramsPerDay(asset, today) },
          Math.max(0, grams - gainG),
          grams,
          today,
        );
  const byHours =
    hourLimit === null || hours === null
      ? null
      : known(
          { ...base, unit: 'h', perDay: hoursPerDay(asset, today) },
          Math.max(0, hourLimit - hours),
          hourLimit,
          today,
        );
  const nearer = [byGrams, byHours]
    .filter(item => item !== null)
    .sort((a, b) => (a.level ?? 1) - (b.level ?? 1))[0];
  const missing = `holdfast reading ${id} GRAMS --new`;
  return (
    nearer ?? {
      ...base,
      unit: 'g',
      perDay: null,
      level: null,
      left: null,
      full: grams,
      endsOn: null,
      missing,
    }
  );
}

function limitsOf({ checks }: Inventory, id: string) {
  return checks.filter(check => check.assets.includes(id)).map(({ after }) => after);
}

function leastOf(limits: readonly (number | null)[]): number | null {
  const known = limits.filter(limit => limit !== null);
  return known.length === 0 ? null : Math.min(...known);
}

function known(base: Base, left: number, full: number, today: CalendarDate): StockItem {
  const { perDay } = base;
  const days = perDay === null ? Number.POSITIVE_INFINITY : Math.floor(left / perDay);
  const endsOn = left <= 0 ? today : days <= FARTHEST_DAYS ? addDays(today, days) : null;
  return { ...base, level: full > 0 ? left / full : 0, left, full, endsOn, missing: null };
}

function isOut(id: string, { standing }: Facts): boolean {
  return standing.assets.get(id)?.withdrawn != null;
}

/** The mean over the recent days, or over those since the first use where the record is younger, but at least a week. */
function meanPerDay(
  uses: readonly { date: CalendarDate; amount: number }[],
  today: CalendarDate,
): number | null {
  const first = uses[0]?.date;
  if (first === undefined) return null;
  const recent = uses.filter(({ date }) => daysBetween(date, today) < RECENT_DAYS);
  const sum = recent.reduce((total, { amount }) => total + amount, 0);
  const days = Math.min(RECENT_DAYS, Math.max(7, daysBetween(first, today) + 1));
  return sum > 0 ? sum / days : null;
}

function hoursPerDay(asset: AssetStanding | undefined, today: CalendarDate): number | null {
  return meanPerDay(
    (asset?.uses ?? []).map(({ done, minutes }) => ({ date: done.date, amount: minutes / 60 })),
    today,
  );
}

function gramsPerDay(asset: AssetStanding | undefined, today: CalendarDate): number | null {
  return meanPerDay(
    (asset?.uses ?? []).map(use => ({ date: use.done.date, amount: caughtG(use) ?? 0 })),
    today,
  );
}
