/** When one asset was withdrawn and returned. */
import { byKey, FIRST_KEY, isBefore, type Key, keyOf } from './key.ts';
import { KEPT } from './newest.ts';

export interface ServiceChange extends Key {
  readonly isReturn: boolean;
}

export class ServiceLog {
  #changes: ServiceChange[] = [];
  readonly #leastPruneAt: number;
  #pruneAt: number;
  /** What comes before it was dropped, or is not taken later on: with a gap in it, it would tell something else. */
  #from: Key = FIRST_KEY;

  constructor(pruneAt: number) {
    this.#leastPruneAt = pruneAt;
    this.#pruneAt = pruneAt;
  }

  /** Whether something before the last returns was dropped. */
  get hasDropped(): boolean {
    return isBefore(FIRST_KEY, this.#from);
  }

  add(change: ServiceChange): void {
    if (isBefore(change, this.#from)) return;
    this.#changes.push(change);
    if (this.#changes.length >= this.#pruneAt) this.#prune();
  }

  /** In the order of the record. */
  inOrder(): readonly ServiceChange[] {
    return this.#changes.toSorted(byKey);
  }

  /** Only what comes after the last return counts; some more returns are kept, as they may have been cancelled. */
  #prune(): void {
    const sorted = this.inOrder();
    const from = sorted.filter(({ isReturn }) => isReturn).at(-KEPT);
    if (from !== undefined) this.#from = keyOf(from);
    this.#changes = sorted.filter(change => !isBefore(change, this.#from));
    this.#pruneAt = Math.max(this.#leastPruneAt, this.#changes.length * 2);
  }
}
