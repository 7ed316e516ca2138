/** The folders and files of a record, opened so that nothing can be slipped in their place. */
import {
  type BigIntStats,
  closeSync,
  constants,
  fstatSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  type Stats,
} from 'node:fs';
import { platform } from 'node:os';
import path from 'node:path';
import { fileProblem, type Problem, Refusal } from '../problem/problem.ts';
import { isStationName } from './station.ts';

const YEAR_FILE = /^\d{4}\.jsonl$/;
const SET_ASIDE = /^\d{4}\.jsonl\.torn-[0-9a-z-]+$/;
const READ_FLAGS = constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0);
const WORLD_WRITABLE = 0o002;
const STICKY = 0o1000;

/** One station's folder and what is in it. Paths are full, so that they can be opened and shown. */
export interface StationFiles {
  readonly station: string;
  readonly folder: string;
  /** Year files, oldest first. */
  readonly files: readonly string[];
  /** Torn tails that were set aside. */
  readonly setAside: readonly string[];
}

/** A record as it lies on disk. */
export interface RecordFiles {
  readonly dir: string;
  /** False where there is no such folder: nothing was ever recorded there. */
  readonly exists: boolean;
  readonly stations: readonly StationFiles[];
  /** `record_world_writable`, `stray_file`. */
  readonly cautions: readonly Problem[];
}

/**
 * Lists a record.
 *
 * @throws Refusal (exit 3) where the record or a station is a symbolic link, no folder, or cannot be read.
 */
export function openRecord(dir: string): RecordFiles {
  if (!isFolder(dir)) return { dir, exists: false, stations: [], cautions: [] };
  const cautions: Problem[] = [...worldWritable(dir)];
  const stations: StationFiles[] = [];
  for (const name of namesIn(dir)) {
    const full = path.join(dir, name);
    const stat = statOf(full);
    // Gone since the folder was listed. A station that comes and goes is not read as one that never was.
    if (stat === undefined && !isStationName(name)) continue;
    if (stat === undefined) throw notReadable(full, new Error('it went away meanwhile'));
    if (isStationName(name) && (stat.isDirectory() || stat.isSymbolicLink())) {
      isFolder(full);
      cautions.push(...worldWritable(full));
      stations.push(listStation(full, name, cautions));
    } else if (!name.startsWith('.')) cautions.push(stray(full));
  }
  return { dir, exists: true, stations, cautions };
}

/** One station's files. Its folder has been looked at before (`ensureStationFolder`). */
export function openStation(recordDir: string, station: string): StationFiles {
  return listStation(path.join(recordDir, station), station, []);
}

function listStation(folder: string, station: string, cautions: Problem[]): StationFiles {
  const files: string[] = [];
  const setAside: string[] = [];
  for (const name of namesIn(folder)) {
    const full = path.join(folder, name);
    if (YEAR_FILE.test(name)) files.push(full);
    else if (SET_ASIDE.test(name)) setAside.push(full);
    else if (!name.startsWith('.')) cautions.push(stray(full));
  }
  return { station, folder, files, setAside };
}

/**
 * Makes the folders of a station where they are missing, and has the disk keep them.
 *
 * @throws Refusal (exit 3) where that cannot be done, or something else stands in their place.
 */
export function ensureStationFolder(recordDir: string, station: string): string {
  const folder = path.join(recordDir, station);
  for (const wanted of [recordDir, folder]) {
    if (isFolder(wanted)) continue;
    try {
      mkdirSync(wanted, 0o755);
    } catch (error) {
      if (codeOf(error) === 'ENOENT') throw noPlaceFor(wanted);
      // Another writer may have made it just now.
      if (codeOf(error) !== 'EEXIST' || !isFolder(wanted)) throw writeRefusal(error, wanted);
    }
  }
  return folder;
}

/** A record is begun in a folder that is there: a whole path that is missing is mistyped, or its disk is. */
function noPlaceFor(folder: string): Refusal {
  const message = `not recorded: ${path.dirname(folder)} is not there, so no record is begun in it`;
  return storeRefusal(
    'record_missing',
    folder,
    message,
    'check the name, and whether the disk it lies on is there',
  );
}

/** Has the disk keep the names in a folder: without it a new file may be gone after a power cut. */
export function syncFolder(folder: string): void {
  // Windows cannot open a folder for this, and keeps names by itself.
  if (platform() === 'win32') return;
  const fd = openSync(folder, constants.O_RDONLY);
  try {
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
}

/**
 * Opens a file of the record for reading.
 *
 * @throws Refusal (exit 3) where it is a link, no regular file, or cannot be read.
 */
export function openToRead(file: string): number {
  let fd: number;
  try {
    fd = openSync(file, READ_FLAGS);
  } catch (error) {
    if (codeOf(error) === 'ELOOP') throw symlinkRefusal(file);
    throw notReadable(file, error);
  }
  return ensureRegular(fd, file);
}

/** Hands the descriptor back where it is a regular file; else closes it and refuses. */
function ensureRegular(fd: number, file: string): number {
  try {
    if (fstatSync(fd).isFile()) return fd;
  } catch (error) {
    closeSync(fd);
    throw notReadable(file, error);
  }
  closeSync(fd);
  throw notFile(file);
}

/** A folder by what stays the same wherever it is moved. */
export type FolderIdentity = Pick<BigIntStats, 'dev' | 'ino'>;

/**
 * Looks whether a file opened for writing is a regular file and its path still leads to it, without a link on the way; else
 * closes it and refuses. O_NOFOLLOW looks at the last name alone: a folder may have been put aside for a link since.
 *
 * @param locked - the station's folder that is locked; null: any.
 * @returns the size of the file in bytes.
 */
export function ensureInPlace(fd: number, file: string, locked: FolderIdentity | null): number {
  try {
    const opened = fstatSync(fd, { bigint: true });
    if (!opened.isFile()) throw notFile(file);
    ensureStationInPlace(file, locked);
    if (!isSame(lstatSync(file, { bigint: true }), opened)) throw disturbed(file);
    return Number(opened.size);
  } catch (error) {
    closeSync(fd);
    throw error;
  }
}

/** Looks whether a file's station is still the one that is locked, without a link on the way; else refuses. */
export function ensureStationInPlace(file: string, locked: FolderIdentity | null): void {
  const folder = path.dirname(file);
  const station = isFolder(path.dirname(folder)) ? folderAt(folder) : null;
  if (station === null || !isSame(station, locked ?? station)) throw disturbed(file);
}

function isSame(one: FolderIdentity, other: FolderIdentity): boolean {
  return one.ino === other.ino && one.dev === other.dev;
}

function disturbed(file: string): Refusal {
  return storeRefusal(
    'record_disturbed',
    file,
    `not recorded: ${file} was put aside while it was opened`,
    'see which program moves it, and type the command again',
  );
}

/** Whether a folder is there. @throws Refusal (exit 3) where it is a link, something else, or out of reach. */
function isFolder(folder: string): boolean {
  return folderAt(folder) !== null;
}

/** As `isFolder`; null: nothing is there. */
function folderAt(folder: string): BigIntStats | null {
  let stat: BigIntStats;
  try {
    // Without the trailing slash, which would look through a link.
    stat = lstatSync(path.resolve(folder), { bigint: true });
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return null;
    if (codeOf(error) === 'ENOTDIR') throw notFolder(path.dirname(folder));
    throw notReadable(folder, error);
  }
  if (stat.isSymbolicLink()) throw symlinkRefusal(folder);
  if (!stat.isDirectory()) throw notFolder(folder);
  return stat;
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder).sort();
  } catch (error) {
    throw notReadable(folder, error);
  }
}

/** Of the name itself, not of what a link leads to; undefined: nothing is there. */
function statOf(place: string): Stats | undefined {
  try {
    return lstatSync(path.resolve(place), { throwIfNoEntry: false });
  } catch (error) {
    throw notReadable(place, error);
  }
}

function worldWritable(folder: string): Problem[] {
  if (platform() === 'win32') return [];
  const mode = statOf(folder)?.mode ?? 0;
  if ((mode & WORLD_WRITABLE) === 0 || (mode & STICKY) !== 0) return [];
  const message = `every user of this computer may write to ${folder}`;
  return [fileProblem('record_world_writable', folder, message, `chmod o-w ${folder}`)];
}

function stray(full: string): Problem {
  return fileProblem('stray_file', full, `${full} is no part of the record and is not read`, 'move it away');
}

/** A refusal because of the record (exit 3). */
export function storeRefusal(code: Problem['code'], file: string, message: string, remedy: string): Refusal {
  return new Refusal([fileProblem(code, file, message, remedy)], 3);
}

function notFile(place: string): Refusal {
  return storeRefusal('record_not_file', place, `${place} is no regular file`, 'move it away');
}

export function notFolder(place: string): Refusal {
  return storeRefusal(
    'record_not_folder',
    place,
    `${place} is no folder`,
    'move it away, or name another with --record',
  );
}

function symlinkRefusal(place: string): Refusal {
  const message = `${place} is a symbolic link`;
  return storeRefusal('record_symlink', place, message, 'put the real folder or file in its place');
}

export function notReadable(place: string, error: unknown): Refusal {
  const message = `${place} cannot be read (${codeOf(error)})`;
  return storeRefusal('record_not_readable', place, message, 'check its permissions and the disk');
}

/** The refusal for a failed write of which nothing is left. `what` is the file or folder. */
export function writeRefusal(error: unknown, what: string): Refusal {
  const code = codeOf(error);
  if (code === 'ELOOP') return symlinkRefusal(what);
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') {
    const message = `not recorded: ${what} may not be written (${code})`;
    return storeRefusal(
      'record_read_only',
      what,
      message,
      'run it as the user who owns the record, or correct the permissions',
    );
  }
  if (code === 'ENOSPC' || code === 'EDQUOT' || code === 'EFBIG') {
    const message = `not recorded: there is no room for ${what} (${code})`;
    return storeRefusal('record_disk_full', what, message, 'make room, then type the command again');
  }
  const message = `not recorded: ${what} could not be written (${code})`;
  return storeRefusal('record_not_written', what, message, 'check the disk, then type the command again');
}

/** The system's name for an error, for example ENOSPC. */
export function codeOf(error: unknown): string {
  if (error instanceof Error && 'code' in error && typeof error.code === 'string') return error.code;
  return error instanceof Error ? error.message : String(error);
}

/** Whether the system refused a call, rather than the program going wrong. */
export function isSystemError(error: unknown): boolean {
  return error instanceof Error && 'syscall' in error && codeOf(error) !== '';
}
