/** The newest few of many lines that come in any order. */
import { FIRST_KEY, type Key } from './key.ts';

/**
 * So many are kept, because corrections may come later than what they cancel: it takes as many corrections of the newest
 * before the record must be read a second time.
 */
export const KEPT = 4;
const COLUMNS = 4;

/** A line, and the date on which it was done, as YYYYMMDD. */
export interface DatedKey extends Key {
  readonly date: number;
}

export class Newest {
  /** Rows of on, at, place, date; the newest first. */
  readonly #rows = new Float64Array(KEPT * COLUMNS);
  #count = 0;
  /** Whether there were more than are kept. */
  hasDropped = false;

  get count(): number {
    return this.#count;
  }

  /** The n-th newest, from 0; before everything where there are not so many. */
  key(n: number): DatedKey {
    if (n >= this.#count) return { ...FIRST_KEY, date: 0 };
    const row = n * COLUMNS;
    return {
      on: this.#rows[row] ?? 0,
      at: this.#rows[row + 1] ?? 0,
      place: this.#rows[row + 2] ?? 0,
      date: this.#rows[row + 3] ?? 0,
    };
  }

  offer(key: DatedKey): void {
    const rows = this.#rows;
    let row = this.#count * COLUMNS;
    while (row > 0 && isBeforeRow(rows, row - COLUMNS, key)) row -= COLUMNS;
    if (this.#count < KEPT) this.#count += 1;
    else {
      this.hasDropped = true;
      if (row === KEPT * COLUMNS) return;
    }
    for (let i = this.#count * COLUMNS - 1; i >= row + COLUMNS; i--) rows[i] = rows[i - COLUMNS] ?? 0;
    rows[row] = key.on;
    rows[row + 1] = key.at;
    rows[row + 2] = key.place;
    rows[row + 3] = key.date;
  }
}

function isBeforeRow(rows: Float64Array, row: number, { on, at, place }: Key): boolean {
  const rowOn = rows[row] ?? 0;
  if (rowOn !== on) return rowOn < on;
  const rowAt = rows[row + 1] ?? 0;
  return rowAt === at ? (rows[row + 2] ?? 0) < place : rowAt < at;
}
