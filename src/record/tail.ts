/** The end of a station's newest file: its last complete line, and what a writer that was cut off left behind it. */
import {
  closeSync,
  constants,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  readSync,
  rmSync,
  writeSync,
} from 'node:fs';
import path from 'node:path';
import { syncFolder } from './folder.ts';

const NEWLINE = 0x0a;
const BLOCK_BYTES = 4096;
const COPY_BYTES = 65_536;

/** The last complete line of an open file. */
export interface LastLine {
  /** Without its newline. */
  readonly bytes: Buffer;
  readonly byte: number;
}

/** Where the end of a file lies. */
export interface FileEnd {
  readonly size: number;
  /** Bytes up to and with the last newline; what lies behind is a torn tail. */
  readonly completeBytes: number;
  /** The last bytes of the file, up to `size`: nearly always the last line is among them. */
  readonly lastBlock: Buffer;
}

/** Looks for the last newline. @param size - in bytes, where it is known already. */
export function fileEnd(fd: number, size = fstatSync(fd).size): FileEnd {
  const lastBlock = readExactly(fd, Math.max(0, size - BLOCK_BYTES), Math.min(size, BLOCK_BYTES));
  const start = size - lastBlock.length;
  const newline = lastBlock.lastIndexOf(NEWLINE);
  const last = newline === -1 ? newlineBefore(fd, start) : start + newline;
  return { size, completeBytes: last + 1, lastBlock };
}

/** The last complete line, or null where there is none. */
export function lastLine(fd: number, { size, completeBytes, lastBlock }: FileEnd): LastLine | null {
  if (completeBytes === 0) return null;
  const end = completeBytes - 1;
  const start = size - lastBlock.length;
  const newline = end > start ? lastBlock.lastIndexOf(NEWLINE, end - start - 1) : -1;
  const byte = newline === -1 ? newlineBefore(fd, Math.min(start, end)) + 1 : start + newline + 1;
  return {
    bytes: byte >= start ? lastBlock.subarray(byte - start, end - start) : readExactly(fd, byte, end - byte),
    byte,
  };
}

/** Reads a stretch; shorter where the file ends before. */
export function readExactly(fd: number, byte: number, length: number): Buffer {
  const bytes = Buffer.allocUnsafe(length);
  let got = 0;
  while (got < length) {
    const more = readSync(fd, bytes, got, length - got, byte + got);
    if (more === 0) break;
    got += more;
  }
  return bytes.subarray(0, got);
}

/**
 * Moves a torn tail into a file of its own, bytes kept, then cuts it off. Copied and kept by the disk first: a kill in
 * between leaves it in both places, never in none.
 *
 * @param fd - the year file, open for reading and writing.
 * @returns the path of the new file, `YEAR.jsonl.torn-ID`.
 */
export function setTornTailAside(fd: number, file: string, end: FileEnd, id: string): string {
  const aside = `${file}.torn-${id}`;
  const flags = constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL;
  const copy = openSync(aside, flags, 0o644);
  try {
    for (let byte = end.completeBytes; byte < end.size; byte += COPY_BYTES) {
      writeAll(copy, readExactly(fd, byte, Math.min(COPY_BYTES, end.size - byte)));
    }
    fsyncSync(copy);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  } finally {
    closeSync(copy);
  }
  syncFolder(path.dirname(file));
  ftruncateSync(fd, end.completeBytes);
  fsyncSync(fd);
  return aside;
}

function writeAll(fd: number, bytes: Buffer): void {
  for (let done = 0; done < bytes.length; ) {
    const written = writeSync(fd, bytes, done);
    if (written === 0) throw systemError('nothing was written', 'ENOSPC', 'write');
    done += written;
  }
}

/** The place of the last newline before `end`, or -1. */
function newlineBefore(fd: number, end: number): number {
  const block = Buffer.allocUnsafe(BLOCK_BYTES);
  for (let high = end; high > 0; ) {
    const low = Math.max(0, high - BLOCK_BYTES);
    const got = readSync(fd, block, 0, high - low, low);
    if (got < high - low) throw systemError('the file was cut while it was read', 'EIO', 'read');
    const at = block.lastIndexOf(NEWLINE, got - 1);
    if (at !== -1) return low + at;
    high = low;
  }
  return -1;
}

/** As the system would have said it: only what names its call is taken for the disk's failure, and not for a bug. */
function systemError(message: string, code: string, syscall: string): Error {
  return Object.assign(new Error(message), { code, syscall });
}
