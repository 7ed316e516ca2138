/** The newest few of many lines that come in any order. */
import { FIRST_KEY, type Key } from './key.ts';

/**
 * So many are kept, because corrections may come later than what they cancel: it takes as many corrections of the newest
 * before the record must be read a second time.
 */
export const KEPT = 4;
const COLUMNS = 3;

export class Newest {
  /** Rows of on, at, place; the newest first. */
  readonly #rows = new Float64Array(KEPT * COLUMNS);
  #count = 0;
  /** Whether there were more than are kept. */
  hasDropped = false;

  get count(): number {
    return this.#count;
  }

  /** The n-th newest, from 0; before everything where there are not so many. */
  key(n: number): Key {
    if (n >= this.#count) return FIRST_KEY;
    const row = n * COLUMNS;
    return {
      on: this.#rows[row] ?? 0,
      at: this.#rows[row + 1] ?? 0,
      place: this.#rows[row + 2] ?? 0,
    };
  }

  offer(on: number, at: number, place: number): void {
    const rows = this.#rows;
    let row = this.#count * COLUMNS;
    while (row > 0 && isBeforeRow(rows, row - COLUMNS, on, at, place)) row -= COLUMNS;
    if (this.#count < KEPT) this.#count += 1;
    else {
      this.hasDropped = true;
      if (row === KEPT * COLUMNS) return;
    }
    rows.copyWithin(row + COLUMNS, row, (this.#count - 1) * COLUMNS);
    rows[row] = on;
    rows[row + 1] = at;
    rows[row + 2] = place;
  }
}

function isBeforeRow(rows: Float64Array, row: number, on: number, at: number, place: number): boolean {
  const rowOn = rows[row] ?? 0;
  if (rowOn !== on) return rowOn < on;
  const rowAt = rows[row + 1] ?? 0;
  return rowAt === at ? (rows[row + 2] ?? 0) < place : rowAt < at;
}
