/** The place of a line in the order of the record, as plain numbers. */

/** How many bytes a file of the record may have, so that its number and a byte in it make one exact number. */
const MOST_BYTES = 2 ** 40;

/**
 * In the order on, at, station, line. `place` stands for the last two: files are numbered in the order of the stations and,
 * within a station, of the years.
 */
export interface Key {
  readonly on: number;
  readonly at: number;
  readonly place: number;
}

/** A copy of it alone. */
export function keyOf({ on, at, place }: Key): Key {
  return { on, at, place };
}

/** Before everything. */
export const FIRST_KEY: Key = { on: Number.NEGATIVE_INFINITY, at: 0, place: 0 };

/** For sorting. */
export function byKey(a: Key, b: Key): number {
  return a.on - b.on || a.at - b.at || a.place - b.place;
}

export function isBefore(a: Key, b: Key): boolean {
  return byKey(a, b) < 0;
}

/** The later of the two. */
export function laterKey(a: Key, b: Key): Key {
  return isBefore(a, b) ? b : a;
}

/** The number of a line: of its file, and of its first byte in it. */
export function placeOf(file: number, byte: number): number {
  return file * MOST_BYTES + byte;
}

/** The file and byte that make up a place. @example fileAndByte(placeOf(3, 712)) //=> { file: 3, byte: 712 } */
export function fileAndByte(place: number): { file: number; byte: number } {
  return { file: Math.floor(place / MOST_BYTES), byte: place % MOST_BYTES };
}
