/** Uses and weighings of the assets that have a check on hours in use or on grams gained. */
import type { Inventory } from '../../inventory/inventory.ts';
import { wornBy } from '../standing.ts';
import { AGENTS, type LineFacts, type Vocabulary } from './facts.ts';
import { FIRST_KEY, isBefore, type Key, laterKey } from './key.ts';
import { Newest } from './newest.ts';
import { UseLog } from './use-log.ts';

export interface LoggedReading extends Key {
  readonly date: number;
  readonly isNew: boolean;
  /** null: it was no weighing. */
  readonly g: number | null;
  readonly idHash: number;
}

/** An asset with a check on its use. */
export interface CountedAsset {
  readonly asset: number;
  /** The checks on hours in use. */
  readonly hourChecks: readonly number[];
  readonly hasGainCheck: boolean;
  /** Readings marked new, and those of them that are weighings. */
  readonly fresh: Newest;
  readonly freshWeighed: Newest;
  readings: LoggedReading[];
  pruneReadingsAt: number;
  /** What comes before it was dropped. */
  prunedTo: Key;
}

interface WearOptions {
  readonly words: Vocabulary;
  readonly areCancelledKnown: boolean;
  readonly passes: (asset: number, check: number) => Newest | undefined;
  /** How many uses, or readings of an asset, are kept before it is looked what no longer counts. */
  readonly pruneAt: number;
}

export class Wear {
  readonly uses: UseLog;
  /** By the number of the asset. */
  readonly counted: ReadonlyMap<number, CountedAsset>;
  /** The groups of counted assets that uses wear. */
  readonly groups: (readonly CountedAsset[])[] = [];
  readonly #inventory: Inventory;
  readonly #options: WearOptions;
  /** By the number of the machine, then by circuit and agent. */
  readonly #groupOf: Map<number, number>[] = [];

  constructor(inventory: Inventory, options: WearOptions) {
    this.#inventory = inventory;
    this.#options = options;
    this.uses = new UseLog(options.pruneAt);
    this.counted = countedAssets(inventory, options.words);
  }

  takeReading(facts: LineFacts): void {
    const counted = this.counted.get(facts.asset);
    if (counted === undefined) return;
    const { date, isNew, idHash } = facts;
    const isWeighed = !Number.isNaN(facts.g);
    if (!isNew && !(isWeighed && counted.hasGainCheck)) return;
    if (isNew) counted.fresh.offer(facts);
    if (isNew && isWeighed) counted.freshWeighed.offer(facts);
    const { on, at, place } = facts;
    counted.readings.push({ on, at, place, date, isNew, g: isWeighed ? facts.g : null, idHash });
    if (counted.readings.length >= Math.max(this.#options.pruneAt, counted.pruneReadingsAt)) {
      this.#moveBoundary(counted);
      counted.readings = counted.readings.filter(reading => !isBefore(reading, counted.prunedTo));
      counted.pruneReadingsAt = counted.readings.length * 2;
    }
  }

  takeUse(facts: LineFacts): void {
    const group = this.#group(facts);
    if (this.groups[group]?.length === 0) return;
    this.uses.add(facts, group);
    if (!this.uses.isPruningDue) return;
    for (const counted of this.counted.values()) this.#moveBoundary(counted);
    this.uses.prune(this.groups.map(earliestBoundary));
  }

  /**
   * The last renewal but one: the last may yet turn out to be cancelled. Uses and readings before it count for nothing, as
   * long as what renewed it stands.
   */
  #moveBoundary(counted: CountedAsset): void {
    const n = this.#options.areCancelledKnown ? 0 : 1;
    const { passes } = this.#options;
    counted.prunedTo = renewedAt(counted, {
      passed: check => passes(counted.asset, check)?.key(n) ?? FIRST_KEY,
      fresh: counted.fresh.key(n),
      freshWeighed: counted.freshWeighed.key(n),
    });
  }

  #group({ asset, other, agent }: LineFacts): number {
    let ofMachine = this.#groupOf[asset];
    if (ofMachine === undefined) {
      ofMachine = new Map();
      this.#groupOf[asset] = ofMachine;
    }
    const key = other * 8 + agent;
    const found = ofMachine.get(key);
    if (found !== undefined) return found;
    const { texts } = this.#options.words.assets;
    const words = {
      machine: texts[asset] ?? '',
      circuit: texts[other] ?? '',
      agent: AGENTS[agent - 1],
    };
    const worn = wornBy(this.#inventory, words).map(id => this.#options.words.assets.indexOf(id));
    const group = worn.flatMap(number => this.counted.get(number) ?? []);
    const number = group.length === 0 ? this.#emptyGroup() : this.groups.push(group) - 1;
    ofMachine.set(key, number);
    return number;
  }

  #emptyGroup(): number {
    const found = this.groups.findIndex(({ length }) => length === 0);
    return found === -1 ? this.groups.push([]) - 1 : found;
  }
}

/** The last times at which an asset was made as new. */
export interface Renewals {
  /** By the number of a check on hours: when it was last passed. */
  readonly passed: (check: number) => Key;
  readonly fresh: Key;
  readonly freshWeighed: Key;
}

/** From when on uses and readings of an asset count for any of its checks. */
export function renewedAt({ hourChecks, hasGainCheck }: CountedAsset, renewals: Renewals): Key {
  const all = hourChecks.map(check => laterKey(renewals.passed(check), renewals.fresh));
  if (hasGainCheck) all.push(renewals.freshWeighed);
  return all.reduce((earliest, one) => (isBefore(one, earliest) ? one : earliest));
}

function earliestBoundary(group: readonly CountedAsset[]): Key {
  const [first, ...others] = group.map(({ prunedTo }) => prunedTo);
  return others.reduce((earliest, one) => (isBefore(one, earliest) ? one : earliest), first ?? FIRST_KEY);
}

function countedAssets(inventory: Inventory, { assets, checks }: Vocabulary): Map<number, CountedAsset> {
  const counted = new Map<number, CountedAsset>();
  for (const id of inventory.assets.keys()) {
    const own = inventory.checks.filter(check => check.assets.includes(id));
    const hourChecks = own
      .filter(({ after }) => after.hoursInUse !== null)
      .map(check => checks.indexOf(check.id));
    const hasGainCheck = own.some(({ after }) => after.gainG !== null);
    if (hourChecks.length === 0 && !hasGainCheck) continue;
    const asset = assets.indexOf(id);
    counted.set(asset, {
      asset,
      hourChecks,
      hasGainCheck,
      fresh: new Newest(),
      freshWeighed: new Newest(),
      readings: [],
      pruneReadingsAt: 0,
      prunedTo: FIRST_KEY,
    });
  }
  return counted;
}
