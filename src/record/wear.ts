/** How far absorbent and charcoal are worn since they were last renewed. Pure. */
import type { CalendarDate } from '../calendar/zone.ts';
import { liquidG, liquidMl } from '../inventory/agent-properties.ts';
import type { Absorber, Check, Inventory, Scavenging } from '../inventory/inventory.ts';
import { type Grams, grams, type Hours, hours, ml } from '../quantity/units.ts';
import type { AssetStanding, Done, Reading, Use } from './standing-types.ts';

/** From when use counts, and what says so. */
export interface WornSince {
  readonly date: CalendarDate;
  readonly order: number;
  /** new: a reading marked new. sign_off: the check that renews it was passed. in_service: neither; since the inventory's date. */
  readonly by: 'new' | 'sign_off' | 'in_service';
}

/** What absorbent or charcoal has seen since it was last renewed. */
export interface WearState {
  /** Hours of use; null: nothing says from when to count. */
  readonly hours: Hours | null;
  readonly since: WornSince | null;
  /** Grams gained; null: not known. */
  readonly gainG: Grams | null;
  /** The scale up to the last weighing, an estimate from the uses after it; null: not known. */
  readonly gainBy: 'scale' | 'estimate' | 'scale_and_estimate' | null;
  /** The part of the gain that is known; below the whole where some uses do not say what they took. */
  readonly gainAtLeastG: Grams;
  /** Uses since the last weighing that do not say agent and setting. */
  readonly unknownUses: number;
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
  return { hours: since === null ? null : hours(minutes / 60), since, ...gainOf(standing) };
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

function gainOf(
  standing: AssetStanding | undefined,
): Pick<WearState, 'gainG' | 'gainBy' | 'gainAtLeastG' | 'unknownUses'> {
  const weighed = (standing?.readings ?? []).filter(hasGrams);
  const newest = weighed.findLastIndex(({ isNew }) => isNew);
  const [empty, ...later] = newest === -1 ? [] : weighed.slice(newest);
  if (empty === undefined) return { gainG: null, gainBy: null, gainAtLeastG: grams(0), unknownUses: 0 };
  // The greatest so far: what charcoal has taken up does not leave it because the scale once read less.
  const byScale = later.reduce((most, { g }) => Math.max(most, g - empty.g), 0);
  const lastOrder = (later.at(-1) ?? empty).done.order;
  const after = (standing?.uses ?? []).filter(({ done }) => done.order > lastOrder);
  const caught = after.map(caughtG);
  const unknownUses = caught.filter(g => g === null).length;
  const known = grams(byScale + caught.reduce<number>((sum, g) => sum + (g ?? 0), 0));
  if (unknownUses > 0) return { gainG: null, gainBy: null, gainAtLeastG: known, unknownUses };
  const gainBy = after.length === 0 ? 'scale' : later.length === 0 ? 'estimate' : 'scale_and_estimate';
  return { gainG: known, gainBy, gainAtLeastG: known, unknownUses };
}

/**
 * The agent that a use let through, all of it caught; null where the entry does not say agent and setting.
 *
 * @example caughtG({ agent: 'isoflurane', settingPercent: percent(2), flowMlPerMin: mlPerMin(1000), minutes: minutes(60) }) //=> 9.20…
 */
export function caughtG({
  agent,
  settingPercent,
  flowMlPerMin,
  minutes,
}: Pick<Use, 'agent' | 'settingPercent' | 'flowMlPerMin' | 'minutes'>): Grams | null {
  if (settingPercent === 0) return grams(0);
  if (agent === null || settingPercent === null) return null;
  return liquidG(agent, liquidMl(agent, ml(flowMlPerMin * minutes * (settingPercent / 100))));
}

function hasGrams(reading: Reading): reading is Reading & { g: Grams } {
  return reading.g !== null;
}

function later(a: Done | null | undefined, b: Done | null | undefined): Done | null {
  if (a == null || b == null) return a ?? b ?? null;
  return a.order > b.order ? a : b;
}
