/**
 * Goes through the lines in the order of the files and keeps what the due report may need in the end, whatever order the
 * lines come in and whatever is cancelled later: the newest few answers of every check of every asset, withdrawals and
 * returns, and uses and weighings since the last renewals.
 */
import type { Inventory } from '../../inventory/inventory.ts';
import { CORRECT, LineFacts, type Vocabulary } from './facts.ts';
import { HOLD, READING, RETURN, SIGN_OFF, SUPPLY_HOLD, USAGE, WITHDRAW } from './kernel/layout.ts';
import { byKey, FIRST_KEY, type Key, keyOf } from './key.ts';
import { Names } from './names.ts';
import { Newest } from './newest.ts';
import { ServiceLog } from './service-log.ts';
import { Wear } from './wear.ts';

/** So many entries that are dated after today are named; the others are counted. */
const FUTURE_NAMED = 5;

/** So many of a kind are kept before it is looked what no longer counts: uses, readings of an asset, changes of its service. */
const PRUNE_AT = 4096;

/** Up to which day entries count, as YYYYMMDD. */
export interface Days {
  readonly today: number;
  /** Not after today. */
  readonly last: number;
}

export class ScanFold {
  readonly words: Vocabulary;
  readonly facts = new LineFacts();
  /** The inventory's assets have the numbers below this one. */
  readonly known: number;
  readonly corrections: { readonly id: string; readonly entry: string }[] = [];
  readonly wear: Wear;
  /** By the number of the asset. */
  readonly service = new Map<number, ServiceLog>();
  /** Mentions of assets that the inventory does not have. */
  readonly strangers = new Map<number, Newest>();
  /** The earliest of those dated after today. */
  readonly future: Key[] = [];
  futureCount = 0;
  readonly #days: Days;
  /** By `slot`; undefined: that asset has no such check. */
  readonly #passes: (Newest | undefined)[] = [];
  readonly #fails: (Newest | undefined)[] = [];
  readonly #answers: Answers[];
  readonly #checkCount: number;
  readonly #pruneAt: number;

  /** @param areCancelledKnown - whether `take` is told of every line if it was cancelled. */
  constructor(inventory: Inventory, days: Days, areCancelledKnown: boolean, pruneAt = PRUNE_AT) {
    this.#pruneAt = pruneAt;
    const assets = new Names(inventory.assets.keys());
    const checks = new Names(inventory.checks.map(({ id }) => id));
    this.words = { assets, checks };
    this.known = assets.texts.length;
    this.#days = days;
    this.#checkCount = checks.texts.length;
    this.#answers = answersOf(inventory, this.words);
    for (const check of inventory.checks) {
      for (const asset of check.assets) {
        const slot = this.#slot(assets.indexOf(asset), checks.indexOf(check.id));
        this.#passes[slot] = new Newest();
        this.#fails[slot] = new Newest();
      }
    }
    this.wear = new Wear(inventory, {
      words: this.words,
      areCancelledKnown,
      pruneAt,
      passes: (asset, check) => this.passes(asset, check),
    });
  }

  /** undefined: the asset has no such check. */
  passes(asset: number, check: number): Newest | undefined {
    return this.#passes[this.#slot(asset, check)];
  }

  fails(asset: number, check: number): Newest | undefined {
    return this.#fails[this.#slot(asset, check)];
  }

  /** Takes the line whose facts stand in `facts`. */
  take(isCancelled: boolean): void {
    const { facts } = this;
    if (facts.kind === CORRECT) {
      this.corrections.push({ id: facts.id, entry: facts.entry });
      return;
    }
    if (facts.date > this.#days.last) {
      if (facts.date > this.#days.today) this.#takeFuture(keyOf(facts));
      return;
    }
    if (!isCancelled) this.#takeDone();
  }

  #takeDone(): void {
    const { facts } = this;
    const { asset } = facts;
    switch (facts.kind) {
      case SIGN_OFF:
        this.#mention(asset);
        if (asset < this.known && facts.check !== -1) this.#mark(asset, facts.check, facts.isPass);
        break;
      case HOLD:
        this.#mention(asset);
        this.#mention(facts.other);
        // A pass with the pop-off left shut does not count, for the check as little as for the pair.
        if (facts.isPass && !facts.isPopOffOpen) break;
        for (const check of this.#answers[asset]?.byHold ?? []) this.#mark(asset, check, facts.isPass);
        break;
      case SUPPLY_HOLD:
        this.#mention(asset);
        for (const check of this.#answers[asset]?.bySupplyHold ?? []) this.#mark(asset, check, facts.isPass);
        break;
      case READING: {
        this.#mention(asset);
        const answers = this.#answers[asset];
        for (const check of answers?.byReading ?? []) this.#mark(asset, check, true);
        if (facts.isNew) for (const check of answers?.byNew ?? []) this.#mark(asset, check, true);
        this.wear.takeReading(facts);
        break;
      }
      case WITHDRAW:
      case RETURN:
        this.#mention(asset);
        this.#serviceOf(asset).add({ ...keyOf(facts), isReturn: facts.kind === RETURN });
        break;
      case USAGE:
        this.#mention(asset);
        this.#mention(facts.other);
        this.wear.takeUse(facts);
        break;
    }
  }

  #mark(asset: number, check: number, isPass: boolean): void {
    const slot = this.#slot(asset, check);
    (isPass ? this.#passes : this.#fails)[slot]?.offer(this.facts);
  }

  #mention(asset: number): void {
    if (asset < this.known) return;
    let mentions = this.strangers.get(asset);
    if (mentions === undefined) {
      mentions = new Newest();
      this.strangers.set(asset, mentions);
    }
    mentions.offer(this.facts);
  }

  #serviceOf(asset: number): ServiceLog {
    let log = this.service.get(asset);
    if (log === undefined) {
      log = new ServiceLog(this.#pruneAt);
      this.service.set(asset, log);
    }
    return log;
  }

  #takeFuture(key: Key): void {
    this.futureCount += 1;
    const last = this.future[FUTURE_NAMED - 1] ?? FIRST_KEY;
    if (this.future.length === FUTURE_NAMED && byKey(key, last) > 0) return;
    this.future.push(key);
    this.future.sort(byKey);
    this.future.length = Math.min(this.future.length, FUTURE_NAMED);
  }

  #slot(asset: number, check: number): number {
    return asset * this.#checkCount + check;
  }
}

/** The numbers of an asset's checks that an entry other than a sign-off answers. */
interface Answers {
  readonly byHold: number[];
  readonly bySupplyHold: number[];
  readonly byReading: number[];
  /** Only by a reading marked new: weighing a canister never renews it. */
  readonly byNew: number[];
}

function answersOf(inventory: Inventory, { assets, checks }: Vocabulary): Answers[] {
  const all = assets.texts.map((): Answers => ({ byHold: [], bySupplyHold: [], byReading: [], byNew: [] }));
  for (const check of inventory.checks) {
    const number = checks.indexOf(check.id);
    for (const asset of check.assets) {
      const answers = all[assets.indexOf(asset)];
      if (check.doneBy === 'hold') answers?.byHold.push(number);
      if (check.doneBy === 'supply_hold') answers?.bySupplyHold.push(number);
      if (check.after.gainG !== null) answers?.byNew.push(number);
      else if (check.doneBy === 'reading') answers?.byReading.push(number);
    }
  }
  return all;
}
