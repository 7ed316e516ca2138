/** How far absorbent and charcoal are worn since they were last renewed. Pure. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Absorber, Check, Inventory, Scavenging } from '../inventory/inventory.ts';
import { isAtLeast } from '../quantity/compare.ts';
import { type Grams, grams, type Hours, hours } from '../quantity/units.ts';
import { gainSince, type KnownGain } from './gain.ts';
import type { AssetStanding, Done } from './standing-types.ts';

/** From when use counts, and what says so. */
export interface WornSince {
  readonly date: CalendarDate;
  readonly order: number;
  /** new: a reading marked new. sign_off: the check that renews it was passed. in_service: neither; since the inventory's date. */
  readonly by: 'new' | 'sign_off' | 'in_service';
}

/** What absorbent or charcoal has seen since it was last renewed. */
export interface WearState extends KnownGain {
  /** Hours of use; null: nothing says from when to count. */
  readonly hours: Hours | null;
  readonly since: WornSince | null;
}

/**
 * The check that says when an asset is renewed: of those that go by hours in use, the one with the fewest; the first of
 * equals. null: none does.
 */
export function renewalCheck(inventory: Pick<Inventory, 'checks'>, assetId: string): Check | null {
  let renewal: Check | null = null;
  for (const check of inventory.checks) {
    const limit = check.after.hoursInUse;
    if (limit === null || !check.assets.includes(assetId)) continue;
    if (renewal === null || limit < (renewal.after.hoursInUse ?? Number.POSITIVE_INFINITY)) renewal = check;
  }
  return renewal;
}

/**
 * What an absorber or a charcoal canister has seen.
 *
 * Hours count from the later of the last pass of the check that renews it and the last reading marked new. Absorbent that
 * was never renewed, or that no check renews, counts from its `since`, as in the due report. Grams count from the last reading marked new alone: the
 * greatest that the scale showed over it, and after the last weighing the agent that later uses let through. Nothing is
 * guessed before a canister was marked new.
 *
 * @param standing - what the record says of the asset; undefined: nothing
 * @example wearOf(inventory, charcoal, standing.assets.get('theatre-1-charcoal')).gainG //=> 12.4
 */
export function wearOf(
  inventory: Pick<Inventory, 'checks'>,
  asset: Absorber | Scavenging,
  standing: AssetStanding | undefined,
): WearState {
  const since = wornSince(inventory, asset, standing);
  const uses = standing?.uses ?? [];
  // What began to count by the inventory's date has seen every use there is.
  const from = since === null || since.by === 'in_service' ? -1 : since.order;
  const minutes = uses.reduce((sum, use) => (use.done.order > from ? sum + use.minutes : sum), 0);
  const { from: _, steps: __, ...gain } = gainSince(standing?.readings ?? [], uses);
  return { hours: since === null ? null : hours(minutes / 60), since, ...gain };
}

function wornSince(
  inventory: Pick<Inventory, 'checks'>,
  asset: Absorber | Scavenging,
  standing: AssetStanding | undefined,
): WornSince | null {
  const check = renewalCheck(inventory, asset.id);
  const signedOff = check === null ? undefined : standing?.checks.get(check.id)?.lastPass;
  const fresh = standing?.readings.findLast(({ isNew }) => isNew)?.done;
  const last = later(signedOff, fresh);
  if (last !== null) {
    return { date: last.date, order: last.order, by: last === fresh ? 'new' : 'sign_off' };
  }
  if (asset.type !== 'absorber' || asset.since === null) return null;
  return { date: asset.since, order: -1, by: 'in_service' };
}

/** What is left of a charcoal canister by each limit that the practice gives for it. */
export interface CanisterLeft {
  /** The lowest of the canister's own limit and those of its checks, and where it stands; null: there is none. */
  readonly gain: { readonly limitG: Grams; readonly path: string; readonly leftG: Grams | null } | null;
  /** By the check that renews it; null: none goes by hours. */
  readonly hours: { readonly limit: Hours; readonly left: Hours | null } | null;
  /** The limit that is reached for certain, also where the whole is not known. */
  readonly spentBy: 'gain' | 'hours_in_use' | null;
  /**
   * Whether it can be said how much is left: something is spent, or every limit there is can be worked out. One that cannot
   * might be the earlier one.
   */
  readonly isKnown: boolean;
}

/**
 * How far a canister is from its limits. Plan and stock both go by it, so that they cannot contradict each other.
 *
 * @param wear - null: nothing is known of it
 * @example canisterLeft(inventory, canister, wearOf(inventory, canister, standing)).gain?.leftG //=> 37.6
 */
export function canisterLeft(
  inventory: Pick<Inventory, 'checks'>,
  canister: Scavenging,
  wear: WearState | null,
): CanisterLeft {
  const gain = gainLeft(gainLimit(inventory, canister), wear);
  const hours = hoursLeft(renewalCheck(inventory, canister.id)?.after.hoursInUse ?? null, wear);
  const spentBy = gain?.leftG === 0 ? 'gain' : hours?.left === 0 ? 'hours_in_use' : null;
  const isKnown =
    (gain !== null || hours !== null) && (gain === null || gain.leftG !== null) && hours?.left !== null;
  return { gain, hours, spentBy, isKnown: spentBy !== null || isKnown };
}

function gainLimit(
  { checks }: Pick<Inventory, 'checks'>,
  { id, limitGainG, path }: Scavenging,
): { limitG: Grams; path: string } | null {
  const own = limitGainG === null ? [] : [{ limitG: limitGainG, path: `${path}/limit_gain_g` }];
  const ofChecks = checks.flatMap(({ assets, after, path: at }) =>
    after.gainG !== null && assets.includes(id) ? [{ limitG: after.gainG, path: `${at}/after/gain_g` }] : [],
  );
  return [...own, ...ofChecks].sort((a, b) => a.limitG - b.limitG)[0] ?? null;
}

function gainLeft(limit: ReturnType<typeof gainLimit>, wear: WearState | null): CanisterLeft['gain'] {
  if (limit === null) return null;
  const gained = wear?.gainG ?? null;
  if (wear !== null && isAtLeast(wear.gainAtLeastG, limit.limitG)) return { ...limit, leftG: grams(0) };
  return { ...limit, leftG: gained === null ? null : grams(limit.limitG - gained) };
}

function hoursLeft(limit: Hours | null, wear: WearState | null): CanisterLeft['hours'] {
  if (limit === null) return null;
  const used = wear?.hours ?? null;
  return { limit, left: used === null ? null : hours(isAtLeast(used, limit) ? 0 : limit - used) };
}

function later(a: Done | null | undefined, b: Done | null | undefined): Done | null {
  if (a == null || b == null) return a ?? b ?? null;
  return a.order > b.order ? a : b;
}
