/** The end of a station, made ready for the next line. Called while the station is locked. */
import { closeSync, constants, fsyncSync, openSync, writeSync } from 'node:fs';
import path from 'node:path';
import type { Entry } from '../generated/entry.ts';
import { fileProblem, type Problem } from '../problem/problem.ts';
import { FIRST_PREV, lineHash } from './chain.ts';
import { newEntryId } from './entry-id.ts';
import {
  ensureInPlace,
  ensureStationInPlace,
  type FolderIdentity,
  openStation,
  openToRead,
  storeRefusal,
  syncFolder,
} from './folder.ts';
import type { Memory, RememberedHead } from './head.ts';
import { isEntry, nothingKnown, parseLine } from './parse-line.ts';
import { type FileEnd, fileEnd, type LastLine, lastLine, readExactly, setTornTailAside } from './tail.ts';

const APPEND_FLAGS =
  constants.O_RDWR | constants.O_APPEND | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0);

/** A file of the station, open for reading and appending. It ends after a newline, or is empty. */
export interface OpenFile {
  readonly fd: number;
  readonly file: string;
  readonly size: number;
}

/** What the next line follows. */
export interface StationEnd {
  /** The newest file; null where the station has none. */
  readonly newest: OpenFile | null;
  /** The last line's hash, 64 zeros where there is none. */
  readonly head: string;
  /** The last line; null where there is none. */
  readonly last: Entry | null;
  /** What is remembered of the station, with heads that are missing now. */
  readonly missing: readonly RememberedHead[];
  /** `torn_tail_set_aside`, `newline_restored`, `last_head_missing`. */
  readonly cautions: readonly Problem[];
}

/**
 * Sets a torn tail aside and looks at the last line.
 *
 * @param locked - the station's folder.
 * @param memory - what is remembered of the station; null: nothing.
 * @throws Refusal (exit 3) `last_line_damaged` where nothing can be chained to it. Damage further up hinders nothing.
 */
export function prepareStationEnd(
  recordDir: string,
  station: string,
  locked: FolderIdentity,
  memory: Memory | null,
  now: Date,
): StationEnd {
  const { files } = openStation(recordDir, station);
  const cautions: Problem[] = [];
  const newestFile = files.at(-1);
  if (newestFile === undefined) {
    const missing = missingHeads(memory, false, cautions, recordDir);
    return { newest: null, head: FIRST_PREV, last: null, missing, cautions };
  }
  const { fd, size } = openToAppend(newestFile, locked);
  try {
    const end = healed({ fd, file: newestFile, size }, memory, now, cautions);
    const found = lastLineOf(fd, end, files);
    if (found === null) {
      const missing = missingHeads(memory, false, cautions, newestFile);
      return { newest: { fd, file: newestFile, size: 0 }, head: FIRST_PREV, last: null, missing, cautions };
    }
    const head = lineHash(found.line.bytes);
    const last = ensureIntact(found, head, station, memory);
    const isThere = memory === null || memory.last.head === head || stillThere(memory.last, files);
    const missing = missingHeads(memory, isThere, cautions, newestFile);
    return { newest: { fd, file: newestFile, size: end.completeBytes }, head, last, missing, cautions };
  } catch (error) {
    closeSync(fd);
    throw error;
  }
}

/**
 * Opens an existing file of the record for reading and appending.
 *
 * @param locked - the station's folder that is locked; null: any.
 */
export function openToAppend(file: string, locked: FolderIdentity | null): OpenFile {
  const fd = openSync(file, APPEND_FLAGS);
  return { fd, file, size: ensureInPlace(fd, file, locked) };
}

/** Makes a new year's file and has the disk keep its name, before anything is in it. */
export function createYearFile(file: string, locked: FolderIdentity): OpenFile {
  // Not through a link: even an empty file would be one too many there.
  ensureStationInPlace(file, locked);
  const fd = openSync(file, APPEND_FLAGS | constants.O_CREAT | constants.O_EXCL, 0o644);
  return { fd, file, size: ensureInPlace(fd, file, locked) };
}

/** Has the disk keep the names of a file and of the folders above it, up to the one that holds the record. */
export function syncNames(recordDir: string, file: string): void {
  syncFolder(path.dirname(file));
  syncFolder(recordDir);
  syncFolder(path.dirname(path.resolve(recordDir)));
}

function healed(
  { fd, file, size }: OpenFile,
  memory: Memory | null,
  now: Date,
  cautions: Problem[],
): FileEnd {
  const end = fileEnd(fd, size);
  const torn = end.size - end.completeBytes;
  if (torn === 0) return end;
  if (memory !== null && memory.last.length === torn && isRemembered(fd, end, memory.last)) {
    // Not a torn line: the very entry that was last reported as recorded, without its newline.
    writeSync(fd, '\n');
    fsyncSync(fd);
    const message = `the newline behind the last entry of ${file} had gone and was put back`;
    cautions.push(fileProblem('newline_restored', file, message, 'find the program that changed the file'));
    return fileEnd(fd);
  }
  const aside = setTornTailAside(fd, file, end, newEntryId(now));
  const message = `${file} ended in the middle of a line; its last ${torn} bytes were set aside in ${path.basename(aside)}`;
  const remedy = 'if the command that wrote them did not report success, enter it anew';
  cautions.push(fileProblem('torn_tail_set_aside', aside, message, remedy));
  return fileEnd(fd);
}

function isRemembered(fd: number, end: FileEnd, head: RememberedHead): boolean {
  return lineHash(readExactly(fd, end.completeBytes, head.length)) === head.head;
}

interface FoundLine {
  readonly file: string;
  readonly line: LastLine;
}

/** The station's last line: in the newest file, or in an older one where that is empty. */
function lastLineOf(newestFd: number, end: FileEnd, files: readonly string[]): FoundLine | null {
  for (const file of files.toReversed()) {
    const isNewest = file === files.at(-1);
    const fd = isNewest ? newestFd : openToRead(file);
    try {
      const line = lastLine(fd, isNewest ? end : fileEnd(fd));
      if (line !== null) return { file, line };
    } finally {
      if (!isNewest) closeSync(fd);
    }
  }
  return null;
}

function ensureIntact(
  { file, line }: FoundLine,
  head: string,
  station: string,
  memory: Memory | null,
): Entry {
  const parsed = parseLine(line.bytes.toString('utf8'), nothingKnown());
  if (!isEntry(parsed)) throw damagedLast(file, line, parsed.reason);
  if (parsed.station !== station) throw damagedLast(file, line, `it is of station ${parsed.station}`);
  const last = memory?.last;
  if (
    last !== undefined &&
    last.file === path.basename(file) &&
    last.byte === line.byte &&
    last.head !== head
  ) {
    throw damagedLast(file, line, `its hash was ${last.head} and is ${head}`);
  }
  return parsed;
}

function damagedLast(file: string, line: LastLine, why: string) {
  return storeRefusal(
    'last_line_damaged',
    file,
    `not recorded: the last line of ${file} (byte ${line.byte}) is not as it was written: ${why}`,
    'run holdfast record verify, copy the file aside, and restore it from git or a backup',
  );
}

/** Whether the line that was last seen still stands where it stood. */
function stillThere(head: RememberedHead, files: readonly string[]): boolean {
  const file = files.find(candidate => path.basename(candidate) === head.file);
  if (file === undefined) return false;
  const fd = openToRead(file);
  try {
    const bytes = readExactly(fd, head.byte, head.length + 1);
    return (
      bytes.length === head.length + 1 &&
      bytes.at(-1) === 0x0a &&
      lineHash(bytes.subarray(0, -1)) === head.head
    );
  } finally {
    closeSync(fd);
  }
}

/** Heads that were seen and are gone. They go on being remembered, or the next entry would hide the cut. */
function missingHeads(
  memory: Memory | null,
  isThere: boolean,
  cautions: Problem[],
  file: string,
): readonly RememberedHead[] {
  if (memory === null) return [];
  if (isThere) return memory.missing;
  const message = `the entry that this computer saw last (line ${memory.last.n ?? '?'} of the station) is no longer in the record`;
  const remedy =
    'run holdfast record verify, copy the file aside, and restore the missing lines from git or a backup';
  cautions.push(fileProblem('last_head_missing', file, message, remedy));
  return [...memory.missing, memory.last];
}
