/** From what the fold kept to the standing on which the due report rests. */
import type { Entry } from '../../generated/entry.ts';
import { grams, minutes, mlPerMin, percent } from '../../quantity/units.ts';
import type {
  AnsweredCheck,
  AssetDueStanding,
  DueStanding,
  SeenReading,
  SeenUse,
} from '../standing-types.ts';
import { AGENTS, dateText } from './facts.ts';
import type { Fetch } from './fetch.ts';
import type { ScanFold } from './fold.ts';
import { byKey, FIRST_KEY, isBefore, type Key } from './key.ts';
import { hashOf } from './names.ts';
import type { Newest } from './newest.ts';
import { type CountedAsset, renewedAt } from './wear.ts';

/** A moment with its place; its number in the order is filled in when all are known. */
interface Placed extends Key {
  readonly date: string;
  order: number;
}

/** Thrown where too much of what was kept is cancelled to say what came before it. */
class KeptTooLittle extends Error {}

/**
 * The standing, or null where what counts was dropped before it was known that what came after it is cancelled: then the
 * lines must be gone through once more, with that known from the start.
 *
 * @param fetch - gives the entry at a place.
 */
export function standingOf(fold: ScanFold, cancelled: ReadonlySet<string>, fetch: Fetch): DueStanding | null {
  try {
    return new Assembly(fold, cancelled, fetch).standing();
  } catch (error) {
    if (error instanceof KeptTooLittle) return null;
    throw error;
  }
}

class Assembly {
  readonly #fold: ScanFold;
  readonly #cancelled: ReadonlySet<string>;
  readonly #cancelledHashes: ReadonlySet<number>;
  readonly #fetch: Fetch;
  readonly #moments: Placed[] = [];

  constructor(fold: ScanFold, cancelled: ReadonlySet<string>, fetch: Fetch) {
    this.#fold = fold;
    this.#cancelled = cancelled;
    this.#cancelledHashes = new Set([...cancelled].map(hashOf));
    this.#fetch = fetch;
  }

  standing(): DueStanding {
    const { words, known } = this.#fold;
    const assets = new Map<string, AssetDueStanding>();
    const checks = words.assets.texts.slice(0, known).map((_, asset) => this.#checks(asset));
    const wear = this.#wear(checks);
    for (const [asset, id] of words.assets.texts.slice(0, known).entries()) {
      assets.set(id, {
        withdrawn: this.#withdrawn(asset),
        checks: new Map(checks[asset] ?? []),
        uses: wear.get(asset)?.uses ?? [],
        readings: wear.get(asset)?.readings ?? [],
      });
    }
    for (const [asset, mentions] of this.#fold.strangers) {
      if (this.#newestOf(mentions) === null) continue;
      const id = words.assets.texts[asset] ?? '';
      assets.set(id, { withdrawn: null, checks: new Map(), uses: [], readings: [] });
    }
    this.#number();
    return { assets };
  }

  #checks(asset: number): ReadonlyMap<string, AnsweredByKey> {
    const checks = new Map<string, AnsweredByKey>();
    for (const [check, id] of this.#fold.words.checks.texts.entries()) {
      const lastPass = this.#newestOf(this.#fold.passes(asset, check));
      const lastFail = this.#newestOf(this.#fold.fails(asset, check));
      if (lastPass !== null || lastFail !== null) checks.set(id, { lastPass, lastFail });
    }
    return checks;
  }

  #newestOf(newest: Newest | undefined): Placed | null {
    if (newest === undefined) return null;
    for (let n = 0; n < newest.count; n++) {
      const key = newest.key(n);
      if (!this.#isIdCancelled(key.place)) return this.#moment(key, dateText(key.date));
    }
    if (newest.hasDropped) throw new KeptTooLittle();
    return null;
  }

  #withdrawn(asset: number): AssetDueStanding['withdrawn'] {
    const log = this.#fold.service.get(asset);
    if (log === undefined) return null;
    let first: { key: Key; entry: Entry } | null = null;
    for (const change of log.inOrder().toReversed()) {
      const entry = this.#fetch.entry(change.place);
      if (this.#cancelled.has(entry.id)) continue;
      if (change.isReturn) return withdrawal(first);
      first = { key: change, entry };
    }
    if (log.hasDropped) throw new KeptTooLittle();
    return withdrawal(first);
  }

  #wear(
    checks: readonly ReadonlyMap<string, AnsweredByKey>[],
  ): ReadonlyMap<number, { uses: SeenUse[]; readings: SeenReading[] }> {
    const { wear, words } = this.#fold;
    const seen = new Map<CountedAsset, { from: Key; uses: SeenUse[]; readings: SeenReading[] }>();
    for (const counted of wear.counted.values()) {
      const readings = counted.readings
        .filter(({ idHash, place }) => !this.#isCancelled(idHash, place))
        .sort(byKey);
      const from = renewedAt(counted, {
        passed: check => checks[counted.asset]?.get(words.checks.texts[check] ?? '')?.lastPass ?? FIRST_KEY,
        fresh: readings.findLast(({ isNew }) => isNew) ?? FIRST_KEY,
        freshWeighed: readings.findLast(({ isNew, g }) => isNew && g !== null) ?? FIRST_KEY,
      });
      if (isBefore(from, counted.prunedTo)) throw new KeptTooLittle();
      seen.set(counted, {
        from,
        uses: [],
        readings: readings.map(reading => ({
          done: this.#moment(reading, dateText(reading.date)),
          isNew: reading.isNew,
          g: reading.g === null ? null : grams(reading.g),
        })),
      });
    }
    this.#addUses(seen);
    return new Map([...seen].map(([{ asset }, { uses, readings }]) => [asset, { uses, readings }]));
  }

  #addUses(seen: ReadonlyMap<CountedAsset, { from: Key; uses: SeenUse[] }>): void {
    const { uses, groups } = this.#fold.wear;
    const kept: { key: Placed; use: SeenUse; wearers: number }[] = [];
    for (let index = 0; index < uses.count; index++) {
      const logged = uses.use(index);
      if (this.#isCancelled(logged.idHash, logged.place)) continue;
      const isWanted = (counted: CountedAsset) => !isBefore(logged, seen.get(counted)?.from ?? FIRST_KEY);
      if (groups[logged.wearers]?.some(isWanted) !== true) continue;
      const key = this.#moment(logged, dateText(logged.date));
      const use: SeenUse = {
        done: key,
        minutes: minutes(logged.minutes),
        flowMlPerMin: mlPerMin(logged.flowMlPerMin),
        agent: AGENTS[logged.agent - 1] ?? null,
        settingPercent: Number.isNaN(logged.settingPercent) ? null : percent(logged.settingPercent),
      };
      kept.push({ key, use, wearers: logged.wearers });
    }
    kept.sort((a, b) => byKey(a.key, b.key));
    for (const { use, wearers } of kept) {
      for (const counted of groups[wearers] ?? []) seen.get(counted)?.uses.push(use);
    }
  }

  #isIdCancelled(place: number): boolean {
    return this.#cancelled.size > 0 && this.#cancelled.has(this.#fetch.id(place));
  }

  /** By the hash first; only what may be cancelled is looked up. */
  #isCancelled(idHash: number, place: number): boolean {
    return this.#cancelledHashes.has(idHash) && this.#isIdCancelled(place);
  }

  #moment({ on, at, place }: Key, date: string): Placed {
    const moment: Placed = { on, at, place, date, order: 0 };
    this.#moments.push(moment);
    return moment;
  }

  /** Numbers the moments in the order of the record; what is of one entry has one number. */
  #number(): void {
    this.#moments.sort(byKey);
    let order = -1;
    let place = -1;
    for (const moment of this.#moments) {
      if (moment.place !== place) order += 1;
      place = moment.place;
      moment.order = order;
    }
  }
}

type AnsweredByKey = AnsweredCheck & { readonly lastPass: Placed | null };

function withdrawal(first: { entry: Entry } | null): AssetDueStanding['withdrawn'] {
  if (first === null || first.entry.kind !== 'withdraw') return null;
  // Nothing is compared with its place in the order.
  return { done: { order: 0, date: first.entry.on.slice(0, 10) }, because: first.entry.because };
}
