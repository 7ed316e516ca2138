/** When one asset was withdrawn and returned. */
import { byKey, type Key } from './key.ts';
import { KEPT } from './newest.ts';

export interface ServiceChange extends Key {
  readonly isReturn: boolean;
}

export class ServiceLog {
  #changes: ServiceChange[] = [];
  readonly #leastPruneAt: number;
  #pruneAt: number;
  /** Whether something before the last returns was dropped. */
  hasDropped = false;

  constructor(pruneAt: number) {
    this.#leastPruneAt = pruneAt;
    this.#pruneAt = pruneAt;
  }

  add(change: ServiceChange): void {
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
    const returns = sorted.flatMap(({ isReturn }, index) => (isReturn ? [index] : []));
    const from = returns.at(-KEPT) ?? 0;
    this.#changes = sorted.slice(from);
    this.hasDropped ||= from > 0;
    this.#pruneAt = Math.max(this.#leastPruneAt, this.#changes.length * 2);
  }
}
