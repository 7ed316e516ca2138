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
import { caughtG, gainUnknownTold } from '../record/gain.ts';
import { foldStanding } from '../record/standing.ts';
import type { AssetStanding, Standing } from '../record/standing-types.ts';
import { foldGauges, oxygenUses } from '../record/supply-use.ts';
import { canisterLeft, renewalCheck, wearOf } from '../record/wear.ts';

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
  /** Over how many days that mean is taken: fewer than the recent days where the record of use is younger. */
  readonly perDayDays: number | null;
  /** The day on which it ends at that use; null where it is not known or not in sight. */
  readonly endsOn: CalendarDate | null;
  /** Why the level is not known, and what to enter; null where it is known. */
  readonly missing: string | null;
  readonly outOfService: boolean;
}

export interface Stock {
  readonly practice: string;
  readonly asOf: CalendarDate;
  /** damaged: no level is given, since a lost line may have used what would seem to be left. */
  readonly record: 'none' | 'read' | 'damaged';
  /** How many days back the use is counted at most. */
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
 * @param record whether there is one, and whether it can be relied on
 * @example stockOf(inventory, entries, '2026-11-25', 'read').items[0]?.level //=> 0.62
 */
export function stockOf(
  inventory: Inventory,
  entries: readonly Entry[],
  today: CalendarDate,
  record: Stock['record'],
): Stock {
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
  return {
    practice: inventory.practice.name,
    asOf: today,
    record,
    recentDays: RECENT_DAYS,
    items: record === 'damaged' ? items.map(unbelieved) : items,
  };
}

function unbelieved(item: StockItem): StockItem {
  const missing = hasNoLevel(item.what) ? null : 'holdfast record verify';
  return { ...item, level: null, left: null, perDay: null, perDayDays: null, endsOn: null, missing };
}

function hasNoLevel(what: StockItem['what']): boolean {
  return what === 'oxygen pipeline' || what === 'oxygen concentrator';
}

function supplyItem(supply: OxygenSupply, facts: Facts): StockItem {
  const { id, kind } = supply;
  const base = { asset: id, unit: 'L' as const, outOfService: isOut(id, facts) };
  const uses = oxygenUses(facts.inventory, facts.entries).filter(use => use.supply === id);
  const mean = meanPerDay(
    uses.map(({ date, takenMl }) => ({ date, amount: takenMl / 1000 })),
    facts.today,
  );
  if (kind !== 'cylinder') {
    const what = kind === 'pipeline' ? 'oxygen pipeline' : 'oxygen concentrator';
    return { ...base, ...mean, what, level: null, left: null, full: null, endsOn: null, missing: null };
  }
  return cylinderItem(supply, { ...base, ...mean, what: 'oxygen cylinder' }, facts);
}

type Base = Pick<StockItem, 'asset' | 'what' | 'unit' | 'perDay' | 'perDayDays' | 'outOfService'>;

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
    ...hoursPerDay(asset, today),
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

/**
 * A canister has two limits, grams and hours; the one that is nearer its end is shown. Where one of them is not known, neither
 * is: it might be the nearer one.
 */
function canisterItem(canister: Scavenging, facts: Facts): StockItem {
  const { inventory, standing, today } = facts;
  const { id } = canister;
  const asset = standing.assets.get(id);
  const wear = wearOf(inventory, canister, asset);
  const { gain, hours, isKnown } = canisterLeft(inventory, canister, wear);
  const base = { asset: id, what: 'charcoal canister' as const, outOfService: isOut(id, facts) };
  const byGain = { ...base, unit: 'g' as const, ...gramsPerDay(asset, today) };
  const byHours = { ...base, unit: 'h' as const, ...hoursPerDay(asset, today) };
  const items: StockItem[] = [];
  if (gain !== null && gain.leftG !== null) items.push(known(byGain, gain.leftG, gain.limitG, today));
  if (hours !== null && hours.left !== null) items.push(known(byHours, hours.left, hours.limit, today));
  const [nearer] = items.sort((a, b) => (a.level ?? 1) - (b.level ?? 1));
  if (isKnown && nearer !== undefined) return nearer;
  const missing =
    gain === null && hours === null
      ? `limit_gain_g of ${id} in the inventory`
      : gain !== null && wear.gainUnknown !== null
        ? gainUnknownTold(id, wear.gainUnknown)
        : `holdfast reading ${id} GRAMS --new`;
  const full = gain?.limitG ?? null;
  return { ...byGain, perDay: null, perDayDays: null, level: null, left: null, full, endsOn: null, missing };
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

type Mean = Pick<StockItem, 'perDay' | 'perDayDays'>;

/** The mean over the recent days, or over those since the first use where the record is younger, but at least a week. */
function meanPerDay(uses: readonly { date: CalendarDate; amount: number }[], today: CalendarDate): Mean {
  const first = uses[0]?.date;
  if (first === undefined) return { perDay: null, perDayDays: null };
  const recent = uses.filter(({ date }) => daysBetween(date, today) < RECENT_DAYS);
  const sum = recent.reduce((total, { amount }) => total + amount, 0);
  const days = Math.min(RECENT_DAYS, Math.max(7, daysBetween(first, today) + 1));
  return sum > 0 ? { perDay: sum / days, perDayDays: days } : { perDay: null, perDayDays: null };
}

function hoursPerDay(asset: AssetStanding | undefined, today: CalendarDate): Mean {
  return meanPerDay(
    (asset?.uses ?? []).map(({ done, minutes }) => ({ date: done.date, amount: minutes / 60 })),
    today,
  );
}

function gramsPerDay(asset: AssetStanding | undefined, today: CalendarDate): Mean {
  return meanPerDay(
    (asset?.uses ?? []).map(use => ({ date: use.done.date, amount: caughtG(use) ?? 0 })),
    today,
  );
}
