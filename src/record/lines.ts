/** A file of the record, line by line, in memory that does not grow with it. */
import { fstatSync, readSync } from 'node:fs';
import { lineHash } from './chain.ts';

const NEWLINE = 0x0a;
const BLOCK_BYTES = 262_144;
const SMALLEST_BYTES = 1024;
/** No entry comes near it. A longer line is shown cut off: it is none of ours, whatever follows. */
const LONGEST_LINE_BYTES = 16 * 1024 * 1024;
/** A reader may see the first half of a line that is being written at this moment. */
const SECOND_LOOK_MS = 30;

/**
 * Called for each complete line.
 *
 * @param bytes - without the newline; only good until the call returns.
 * @param text - the same, decoded.
 * @param line - counted from 1.
 * @param byte - where the line begins in the file, from 0.
 */
export type VisitLine = (bytes: Buffer, text: string, line: number, byte: number) => void;

/**
 * Called before it, to take a line without decoding it.
 *
 * @param block - in which the line begins at `start`.
 * @returns where its newline stands; -1: it was not taken.
 */
export type TakeLine = (block: Buffer, start: number, line: number, byte: number) => number;

/** What stands behind the last newline. */
export interface TornTail {
  readonly line: number;
  readonly byte: number;
  readonly length: number;
  /** SHA-256 of its bytes. */
  readonly hash: string;
}

/** Takes an open file in blocks. */
export interface VisitBlocks {
  /**
   * Called for each run of whole lines.
   *
   * @param block - ends with a newline; only good until the call returns.
   * @param line - the first line's number, counted from 1.
   * @param byte - where the block begins in the file, from 0.
   * @returns how many lines it holds.
   */
  block(block: Buffer, line: number, byte: number): number;
  /** Called with the beginning of a line that is too long for an entry; its rest is passed over. */
  tooLong(beginning: Buffer, line: number, byte: number): void;
}

/**
 * Reads an open file from its beginning, line by line.
 *
 * @param take - asked first; not given: each line is visited.
 * @returns the torn tail, or null where the file ends with a newline, as it should.
 */
export function readLines(fd: number, visit: VisitLine, take: TakeLine = () => -1): TornTail | null {
  return readBlocks(fd, {
    block(block, firstLine, byte) {
      let line = firstLine;
      for (let start = 0; start < block.length; line += 1) {
        let newline = take(block, start, line, byte + start);
        if (newline === -1) {
          newline = block.indexOf(NEWLINE, start);
          const bytes = block.subarray(start, newline);
          visit(bytes, bytes.toString('utf8'), line, byte + start);
        }
        start = newline + 1;
      }
      return line - firstLine;
    },
    tooLong: (beginning, line, byte) => visit(beginning, beginning.toString('latin1'), line, byte),
  });
}

/**
 * Reads an open file from its beginning, block by block.
 *
 * @param until - reads no byte at or behind this one; not given: to the end.
 * @returns the torn tail, or null where the file ends with a newline, as it should.
 */
export function readBlocks(
  fd: number,
  visit: VisitBlocks,
  until = Number.POSITIVE_INFINITY,
): TornTail | null {
  let buffer = Buffer.allocUnsafe(Math.min(BLOCK_BYTES, fstatSync(fd).size + SMALLEST_BYTES));
  let kept = 0;
  let line = 1;
  let byte = 0;
  let isLongLineOver = true;
  let looks = 0;
  for (;;) {
    if (kept === buffer.length) {
      if (buffer.length < LONGEST_LINE_BYTES) buffer = Buffer.concat([buffer], buffer.length * 2);
      else {
        if (isLongLineOver) visit.tooLong(buffer, line, byte);
        isLongLineOver = false;
        byte += kept;
        kept = 0;
      }
    }
    const got = readSync(fd, buffer, kept, Math.min(buffer.length - kept, until - byte - kept), byte + kept);
    if (got === 0) {
      if (kept === 0 && isLongLineOver) return null;
      if (looks++ === 0) {
        sleep(SECOND_LOOK_MS);
        continue;
      }
      return { line, byte, length: kept, hash: lineHash(buffer.subarray(0, kept)) };
    }
    looks = 0;
    const end = kept + got;
    // What was kept has no newline.
    let start = 0;
    if (!isLongLineOver) {
      start = buffer.subarray(0, end).indexOf(NEWLINE) + 1;
      isLongLineOver = start > 0;
      if (isLongLineOver) line += 1;
    }
    const linesEnd = buffer.lastIndexOf(NEWLINE, end - 1) + 1;
    if (isLongLineOver && linesEnd > start) {
      line += visit.block(buffer.subarray(start, linesEnd), line, byte + start);
      start = linesEnd;
    }
    buffer.copyWithin(0, start, end);
    byte += start;
    kept = end - start;
  }
}

function sleep(ms: number): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms);
}
