/**
 * Whether the leak test of a circuit–machine pair counts now, and if not, why. Every rule by which a pass stops counting
 * is one function; the first that applies is named. Pure.
 */
import type { CalendarDate } from '../calendar/zone.ts';
import type { HoldEntry } from '../generated/entry.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { holdReasonWords, isCountingPass, isMeasured, isProof } from './counting.ts';
import { failuresElsewhere, type PartFailure } from './failures.ts';
import { type OpenPopOff, openPopOff } from './pop-off.ts';
import { shortOfPresentRule } from './present-rule.ts';
import {
  type AssetStanding,
  type Done,
  type HoldDone,
  type PairStanding,
  pairKey,
  type Standing,
} from './standing-types.ts';

/** held: counts now. needed: none counts. failed: the last that counts failed, and only a pass of the same pair clears it. */
type HoldState = 'held' | 'needed' | 'failed';

/** The last hold of a pair, as plans and reports show it. */
interface LastHold extends Done {
  readonly result: HoldEntry['result'];
  readonly reason: HoldEntry['reason'];
  readonly popOff: HoldEntry['pop_off'];
  readonly caseRef: string | null;
  readonly leak: HoldEntry['leak'] | null;
}

export interface PairHold {
  readonly state: HoldState;
  readonly last: LastHold | null;
  /** Why it is not held, in words and with the date where that helps; null where it is held. */
  readonly because: string | null;
  /** What nobody has answered yet: the pop-off was left shut, stuck, or failed its sign-off. null: seen open, or never tested. */
  readonly popOff: OpenPopOff | null;
  /** The parts of this pair that failed with another partner and are not cleared yet. */
  readonly failedElsewhere: readonly PartFailure[];
}

export interface HoldMoment {
  /** Today in the practice's zone. */
  readonly today: CalendarDate;
  /** The case that is planned, where it has a reference. */
  readonly caseRef?: string | null | undefined;
}

/**
 * What the record says of the leak test of a pair.
 *
 * @param inventory - `valid_for`, and which absorber and vaporizers the machine has.
 * @example pairHold(standing, inventory, 't-piece-1', 'theatre-1', { today: '2026-11-25' }).because
 *   //=> 't-piece-1 was on dental since the leak test'
 */
export function pairHold(
  standing: Standing,
  inventory: Inventory,
  circuit: string,
  machine: string,
  { today, caseRef = null }: HoldMoment,
): PairHold {
  const pair = standing.pairs.get(pairKey(circuit, machine));
  const shared = {
    popOff: openPopOff(standing, inventory, circuit, machine),
    failedElsewhere: failuresElsewhere(standing, inventory, circuit, machine),
  };
  const last = pair?.holds.at(-1);
  if (last === undefined) {
    return {
      ...shared,
      state: 'needed',
      last: null,
      because: `${circuit} was never leak-tested on ${machine}`,
    };
  }
  const told = { ...shared, last: lastHold(last) };
  const failure = standingFailure(pair, inventory);
  if (failure !== null) {
    return { ...told, state: 'failed', because: failureWords(failure, last) };
  }
  const scene: Scene = { standing, inventory, circuit, machine, pass: last, today, caseRef };
  for (const rule of ENDINGS) {
    const because = rule(scene);
    if (because !== null) return { ...told, state: 'needed', because };
  }
  return { ...told, state: 'held', because: null };
}

/**
 * The failure that no later pass of the same pair has cleared, or null. A leak that a gauge has shown is not cleared by
 * watching the bag, which shows it later or not at all, as long as the pair has a gauge.
 */
export function standingFailure(pair: PairStanding | undefined, inventory: Inventory): HoldDone | null {
  let isBagPassed = false;
  // From the end: a record of years has many holds, and nearly always the last decides.
  for (let i = (pair?.holds.length ?? 0) - 1; i >= 0; i--) {
    const hold = pair?.holds[i];
    if (hold === undefined) break;
    const { entry } = hold;
    if (entry.result === 'fail') {
      if (!isBagPassed || isMeasuredLeak(entry)) return hold;
    } else if (isCountingPass(entry)) {
      if (isProof(entry, inventory)) return null;
      isBagPassed = true;
    }
  }
  return null;
}

function isMeasuredLeak(entry: HoldEntry): boolean {
  return isMeasured(entry) && entry.reason !== 'pop_off_stuck';
}

function lastHold({ done, entry }: HoldDone): LastHold {
  return {
    ...done,
    result: entry.result,
    reason: entry.reason,
    popOff: entry.pop_off,
    caseRef: entry.case ?? null,
    leak: entry.leak ?? null,
  };
}

function failureWords({ done, entry }: HoldDone, last: HoldDone): string {
  const failed = `the leak test of ${done.date} failed: ${holdReasonWords(entry.reason)}`;
  return isCountingPass(last.entry)
    ? `${failed}; the bag was taut afterwards, which clears no leak that a gauge has shown: read the gauge`
    : `${failed}; only a pass of the same pair clears it`;
}

/** A pass and all that can end it. */
interface Scene {
  readonly standing: Standing;
  readonly inventory: Inventory;
  readonly circuit: string;
  readonly machine: string;
  /** The last hold of the pair, which did not fail. */
  readonly pass: HoldDone;
  readonly today: CalendarDate;
  readonly caseRef: string | null;
}

/** Why the pass no longer counts, or null where this rule does not end it. */
type Ending = (scene: Scene) => string | null;

const ENDINGS: readonly Ending[] = [
  popOffLeftShut,
  dayOver,
  heldElsewhere,
  usedElsewhere,
  takenOut,
  checkFailed,
  partSignedOff,
  caseOver,
  otherCase,
  replaced,
  ruleRaised,
];

function popOffLeftShut({ pass }: Scene): string | null {
  return isCountingPass(pass.entry) ? null : 'the last leak test does not count: the pop-off was left shut';
}

function dayOver({ pass, today }: Scene): string | null {
  return pass.done.date === today
    ? null
    : `the last leak test was on ${pass.done.date}, and one counts only for its day`;
}

function heldElsewhere({ standing, circuit, machine, pass }: Scene): string | null {
  let latest: { order: number; words: string } | null = null;
  for (const other of standing.pairs.values()) {
    const words = partingWords(circuit, machine, other);
    if (words === null) continue;
    const done = [other.holds.at(-1)?.done, other.compliances.at(-1)?.done];
    for (const one of done) {
      if (one === undefined || one.order < pass.done.order) continue;
      if (latest === null || one.order > latest.order) latest = { order: one.order, words };
    }
  }
  return latest?.words ?? null;
}

function usedElsewhere({ standing, circuit, machine, pass }: Scene): string | null {
  for (const use of usesSince(standing, [circuit, machine], pass.done)) {
    const words = partingWords(circuit, machine, use);
    if (words !== null) return words;
  }
  return null;
}

/** How a pair parts this one, or null where it is the same pair or has nothing of it. */
function partingWords(
  circuit: string,
  machine: string,
  other: { circuit: string; machine: string },
): string | null {
  if (other.circuit === circuit && other.machine !== machine)
    return `${circuit} was on ${other.machine} since the leak test`;
  if (other.machine === machine && other.circuit !== circuit)
    return `${machine} had ${other.circuit} on it since the leak test`;
  return null;
}

/** Withdrawn or returned: either of the two, or a part of the machine that the pressure reaches. */
function takenOut({ standing, inventory, circuit, machine, pass }: Scene): string | null {
  for (const id of [circuit, machine, ...pressurisedParts(inventory, machine)]) {
    const asset = standing.assets.get(id);
    if (asset?.withdrawn != null && isSince(asset.lastWithdrawal, pass))
      return `${id} was withdrawn since the leak test`;
    if (isSince(asset?.returned, pass)) return `${id} was out of service and returned since the leak test`;
  }
  return null;
}

/** A failed check of either of the two. */
function checkFailed({ standing, circuit, machine, pass }: Scene): string | null {
  for (const id of [circuit, machine]) {
    const check = checksSince(standing.assets.get(id), pass, 'lastFail')[0];
    if (check !== undefined) return `the check '${check}' of ${id} failed since the leak test`;
  }
  return null;
}

/** Whoever signs off an absorbent change or a vaporizer's service had the part open. */
function partSignedOff({ standing, inventory, machine, pass }: Scene): string | null {
  for (const id of pressurisedParts(inventory, machine)) {
    const asset = standing.assets.get(id);
    const check = [...checksSince(asset, pass, 'lastPass'), ...checksSince(asset, pass, 'lastFail')][0];
    if (check !== undefined) return `the check '${check}' was signed off on ${id} since the leak test`;
  }
  return null;
}

function caseOver({ standing, inventory, circuit, machine, pass }: Scene): string | null {
  if (inventory.rules.leakHold.validFor.value !== 'case') return null;
  for (const use of usesSince(standing, [circuit], pass.done)) {
    if (use.machine !== machine) continue;
    return use.caseRef === null
      ? 'a case was entered for the pair since the leak test'
      : `case ${use.caseRef} was entered for the pair since the leak test`;
  }
  return null;
}

/** A hold without a reference is not known to be for this case: it may have been for the one before. */
function otherCase({ inventory, pass, caseRef }: Scene): string | null {
  if (inventory.rules.leakHold.validFor.value !== 'case' || caseRef === null || pass.entry.case === caseRef)
    return null;
  return pass.entry.case === undefined
    ? `the last leak test names no case, and this plan is for case ${caseRef}`
    : `the last leak test was for case ${pass.entry.case}, and this plan is for case ${caseRef}`;
}

/** Another circuit or machine under the same id: what was tested is gone. */
function replaced({ inventory, circuit, machine, pass }: Scene): string | null {
  for (const id of [circuit, machine]) {
    const since = inventory.assets.get(id)?.since ?? null;
    if (since !== null && since > pass.done.date)
      return `${id} came into service on ${since}, after the leak test`;
  }
  return null;
}

function ruleRaised({ inventory, pass }: Scene): string | null {
  return shortOfPresentRule(pass.entry, inventory);
}

/** Absorber and vaporizers: what of a machine is under pressure in a hold. Scavenging lies behind the shut pop-off. */
export function pressurisedParts(inventory: Inventory, machineId: string): string[] {
  const machine = inventory.machines.find(({ id }) => id === machineId);
  if (machine === undefined) return [];
  return [
    ...(machine.absorber === null ? [] : [machine.absorber.id]),
    ...machine.vaporizers.map(({ id }) => id),
  ];
}

function* usesSince(standing: Standing, ids: readonly string[], done: Done) {
  for (const id of ids) {
    const uses = standing.assets.get(id)?.uses ?? [];
    for (let i = uses.length - 1; i >= 0; i--) {
      const use = uses[i];
      if (use === undefined || use.done.order < done.order) break;
      yield use;
    }
  }
}

function checksSince(
  asset: AssetStanding | undefined,
  pass: HoldDone,
  which: 'lastPass' | 'lastFail',
): string[] {
  return [...(asset?.checks ?? [])].filter(([, check]) => isSince(check[which], pass)).map(([id]) => id);
}

function isSince(done: Done | null | undefined, pass: HoldDone): boolean {
  return done != null && done.order > pass.done.order;
}
