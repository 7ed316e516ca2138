/**
 * The kernel: reads blocks of lines in memory of its own and leaves a row of figures for each. It is WebAssembly, since that is
 * quick from the first line on and takes sixteen bytes at once. What is not of the store's shape, or rare, is left to the parser.
 */
import { at, LONGEST_LOOK, newlineFrom } from './bytes';
import { assets, checks, takeAnyName } from './content';
import { KIND, LINE_START, NEWLINE, ROW_BYTES } from './layout';
import { beginBlock, line } from './line';
import { beginRow, setInteger } from './row';

/** Where the program puts a block, or a name; and where it finds the rows. */
let input: usize = 0;
let rows: usize = 0;

/** Called once, first. @param bytes - of the longest block. @param most - rows at once. */
export function makeRoom(bytes: usize, most: usize): void {
  input = heap.alloc(bytes + LONGEST_LOOK);
  rows = heap.alloc(most * ROW_BYTES);
}

export function inputAt(): usize {
  return input;
}

export function rowsAt(): usize {
  return rows;
}

/** Numbers the name that was put in. Each is given once. */
export function addAsset(length: usize, number: i32): void {
  assets.add(input, length, number);
}

export function addCheck(length: usize, number: i32): void {
  checks.add(input, length, number);
}

export { takeAnyName };

/**
 * Reads the lines that were put in, one after another, up to so many.
 *
 * @param length - of the block, which ends with a newline.
 * @returns how many rows it left.
 */
export function readLines(length: usize, most: i32): i32 {
  const end = input + length;
  memory.fill(end, 0, LONGEST_LOOK);
  beginBlock(input);
  let place = input;
  let row = rows;
  let count = 0;
  while (place < end && count < most) {
    beginRow(row);
    const kind = line(place);
    const newline = kind === 0 ? newlineFrom(place) : at - 1;
    setInteger(KIND, kind);
    setInteger(LINE_START, (place - input) as i32);
    setInteger(NEWLINE, (newline - input) as i32);
    place = newline + 1;
    row += ROW_BYTES;
    count += 1;
  }
  return count;
}
