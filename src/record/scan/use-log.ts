/** The uses that may still count, as rows of numbers: 64 bytes each. What a renewal has made irrelevant is dropped. */
import type { LineFacts } from './facts.ts';
import type { Key } from './key.ts';

const COLUMNS = 8;
const BLOCK_ROWS = 4096;
const AGENTS = 8;
const WEARERS = 2 ** 17;

/** One use. `wearers` is the number of the group of assets that it wore. */
export interface LoggedUse extends Key {
  readonly minutes: number;
  readonly flowMlPerMin: number;
  /** NaN: not said. */
  readonly settingPercent: number;
  readonly idHash: number;
  readonly agent: number;
  readonly wearers: number;
  readonly date: number;
}

export class UseLog {
  readonly #blocks: Float64Array[] = [];
  #count = 0;
  readonly #leastPruneAt: number;
  #pruneAt: number;

  constructor(pruneAt: number) {
    this.#leastPruneAt = pruneAt;
    this.#pruneAt = pruneAt;
  }

  get count(): number {
    return this.#count;
  }

  get isPruningDue(): boolean {
    return this.#count >= this.#pruneAt;
  }

  add(facts: LineFacts, wearers: number): void {
    const block = this.#blockOf(this.#count);
    const row = rowOf(this.#count++);
    block[row] = facts.on;
    block[row + 1] = facts.at;
    block[row + 2] = facts.place;
    block[row + 3] = facts.minutes;
    block[row + 4] = facts.flowMlPerMin;
    block[row + 5] = facts.settingPercent;
    block[row + 6] = facts.idHash;
    block[row + 7] = (facts.date * WEARERS + wearers) * AGENTS + facts.agent;
  }

  use(index: number): LoggedUse {
    const block = this.#blockOf(index);
    const row = rowOf(index);
    const packed = block[row + 7] ?? 0;
    const dateAndWearers = Math.floor(packed / AGENTS);
    return {
      on: block[row] ?? 0,
      at: block[row + 1] ?? 0,
      place: block[row + 2] ?? 0,
      minutes: block[row + 3] ?? 0,
      flowMlPerMin: block[row + 4] ?? 0,
      settingPercent: block[row + 5] ?? 0,
      idHash: block[row + 6] ?? 0,
      agent: packed % AGENTS,
      wearers: dateAndWearers % WEARERS,
      date: Math.floor(dateAndWearers / WEARERS),
    };
  }

  /** @param from - of each group of wearers the key from which on its uses may count. */
  prune(from: readonly Key[]): void {
    let kept = 0;
    for (let index = 0; index < this.#count; index++) {
      const source = this.#blockOf(index);
      const row = rowOf(index);
      const boundary = from[Math.floor((source[row + 7] ?? 0) / AGENTS) % WEARERS];
      if (boundary !== undefined && isRowBefore(source, row, boundary)) continue;
      const to = this.#blockOf(kept);
      for (let column = 0; column < COLUMNS; column++) to[rowOf(kept) + column] = source[row + column] ?? 0;
      kept += 1;
    }
    this.#count = kept;
    this.#blocks.length = Math.ceil(kept / BLOCK_ROWS);
    this.#pruneAt = Math.max(this.#leastPruneAt, kept * 2);
  }

  #blockOf(index: number): Float64Array {
    const number = Math.floor(index / BLOCK_ROWS);
    let block = this.#blocks[number];
    if (block === undefined) {
      block = new Float64Array(BLOCK_ROWS * COLUMNS);
      this.#blocks[number] = block;
    }
    return block;
  }
}

function rowOf(index: number): number {
  return (index % BLOCK_ROWS) * COLUMNS;
}

function isRowBefore(block: Float64Array, row: number, { on, at, place }: Key): boolean {
  const rowOn = block[row] ?? 0;
  if (rowOn !== on) return rowOn < on;
  const rowAt = block[row + 1] ?? 0;
  return rowAt === at ? (block[row + 2] ?? 0) < place : rowAt < at;
}
