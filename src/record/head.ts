/**
 * The head of a station, remembered outside the record: a hash chain alone cannot see that its last lines were cut off.
 *
 *   $XDG_STATE_HOME/holdfast/<hash of the record's real path>-<station>.head
 */
import {
  closeSync,
  constants,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  realpathSync,
  renameSync,
  rmSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { homedir } from 'node:os';
import path from 'node:path';
import { fileProblem, type Problem } from '../problem/problem.ts';
import { lineHash } from './chain.ts';
import { codeOf } from './folder.ts';
import { isStationName } from './station.ts';

const SECTOR_BYTES = 512;
const HASH_DIGITS = 64;
/** Nearly every memory is one sector. */
const MOST_BYTES = 4 * SECTOR_BYTES;
/** Never through a link. */
const OVERWRITE_FLAGS = constants.O_RDWR | (constants.O_NOFOLLOW ?? 0);
const SUFFIX = '.head';

/** The last line that this computer saw of a station, and where it stood. */
export interface RememberedHead {
  /** SHA-256 of the line. */
  readonly head: string;
  /** Its number in the station's chain, where the line says it. */
  readonly n: number | null;
  /** Name of its file, its first byte, and its length without the newline. */
  readonly file: string;
  readonly byte: number;
  readonly length: number;
}

/** What is remembered of a station. */
export interface Memory {
  readonly last: RememberedHead;
  /** Heads that were found missing when the next entry was written. Kept until a person deletes the file. */
  readonly missing: readonly RememberedHead[];
}

/**
 * The folder for what is remembered: `$XDG_STATE_HOME/holdfast`, else `~/.local/state/holdfast`.
 *
 * @example stateFolder({ XDG_STATE_HOME: '/var/lib/state' }) //=> '/var/lib/state/holdfast'
 */
export function stateFolder(env: Readonly<Record<string, string | undefined>>): string {
  const { XDG_STATE_HOME: state, HOME: home } = env;
  // The specification of these folders has relative ones ignored.
  if (state !== undefined && path.isAbsolute(state)) return path.join(state, 'holdfast');
  return path.join(home === undefined || home === '' ? homedir() : home, '.local', 'state', 'holdfast');
}

/** What is remembered of a station, or null: nothing, or nothing legible. */
export function recallHead(stateDir: string, recordDir: string, station: string): Memory | null {
  try {
    return asMemory(unsealed(readFileSync(memoryFile(stateDir, recordDir, station), 'utf8')));
  } catch {
    return null;
  }
}

/** The stations of a record of which something is remembered. */
export function recallStations(stateDir: string, recordDir: string): string[] {
  try {
    const prefix = `${recordKey(realpathSync.native(recordDir))}-`;
    return readdirSync(stateDir)
      .filter(name => name.startsWith(prefix) && name.endsWith(SUFFIX))
      .map(name => name.slice(prefix.length, -SUFFIX.length))
      .filter(isStationName);
  } catch {
    return [];
  }
}

/**
 * Remembers a head, whole or not at all. Failing to is a caution, never a failure: the record is written already.
 *
 * @returns `head_not_kept`, or null.
 */
export function rememberHead(
  stateDir: string,
  recordDir: string,
  station: string,
  memory: Memory,
): Problem | null {
  const kept = new KeptHead(stateDir, recordDir, station);
  try {
    return kept.remember(memory);
  } finally {
    kept.close();
  }
}

/**
 * What is remembered of a station, held open between the look at it and the change of it, so that its file is found once.
 *
 * @example
 * const kept = new KeptHead(stateDir, recordDir, station);
 * kept.memory //=> { last: …, missing: [] }
 */
export class KeptHead {
  /** null: nothing, or nothing legible. */
  readonly memory: Memory | null;
  readonly #stateDir: string;
  readonly #recordDir: string;
  readonly #station: string;
  #open: { readonly fd: number; readonly record: string; readonly size: number } | null = null;

  constructor(stateDir: string, recordDir: string, station: string) {
    this.#stateDir = stateDir;
    this.#recordDir = recordDir;
    this.#station = station;
    this.memory = this.#recalled() ?? recallHead(stateDir, recordDir, station);
  }

  /** As `rememberHead`. @returns `head_not_kept`, or null. */
  remember(memory: Memory): Problem | null {
    const bytes = (record: string) => Buffer.from(sealed({ record, station: this.#station, ...memory }));
    try {
      if (this.#open !== null && isOverwritten(this.#open, bytes(this.#open.record))) return null;
      const record = realpathSync.native(this.#recordDir);
      replaceFile(memoryFileOf(this.#stateDir, record, this.#station), bytes(record));
      return null;
    } catch (error) {
      const message = `the record's head could not be remembered in ${this.#stateDir} (${codeOf(error)})`;
      const remedy = 'make that folder writable, or set XDG_STATE_HOME to one that is';
      return fileProblem('head_not_kept', this.#stateDir, message, remedy);
    }
  }

  close(): void {
    if (this.#open !== null) closeSync(this.#open.fd);
    this.#open = null;
  }

  /** From a file that may be written as well; null: there is none, or another way must be tried. */
  #recalled(): Memory | null {
    try {
      const record = realpathSync.native(this.#recordDir);
      const fd = openSync(memoryFileOf(this.#stateDir, record, this.#station), OVERWRITE_FLAGS);
      const bytes = Buffer.allocUnsafe(MOST_BYTES);
      const size = readSync(fd, bytes, 0, MOST_BYTES, 0);
      this.#open = { fd, record, size };
      return asMemory(unsealed(bytes.toString('utf8', 0, size)));
    } catch {
      return null;
    }
  }
}

/** The file in which a station's head is remembered. */
export function memoryFile(stateDir: string, recordDir: string, station: string): string {
  return memoryFileOf(stateDir, realpathSync.native(recordDir), station);
}

function memoryFileOf(stateDir: string, record: string, station: string): string {
  return path.join(stateDir, `${recordKey(record)}-${station}${SUFFIX}`);
}

/** @param record - its real path. */
function recordKey(record: string): string {
  return lineHash(Buffer.from(record)).slice(0, 16);
}

/** Puts a text in place of a file, whole or not at all. */
function replaceFile(file: string, bytes: Buffer): void {
  const fresh = `${file}.new`;
  // Left by a writer that was killed, or a link put there: never written through.
  rmSync(fresh, { force: true });
  const anew = { mode: 0o600, flag: 'wx' };
  try {
    writeFileSync(fresh, bytes, anew);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
    mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
    writeFileSync(fresh, bytes, anew);
  }
  try {
    renameSync(fresh, file);
  } catch (error) {
    rmSync(fresh, { force: true });
    throw error;
  }
}

/**
 * Whether the open file has the same size, and now holds these bytes. Nearly always it does: a rename would make the disk write
 * the new file out at once, and the next entry wait for it. A write that was cut off shows by its hash.
 */
function isOverwritten({ fd, size }: { readonly fd: number; readonly size: number }, bytes: Buffer): boolean {
  // A longer file than is read at once has more than these bytes.
  if (bytes.length !== size || size === MOST_BYTES) return false;
  try {
    return writeSync(fd, bytes, 0, size, 0) === size;
  } catch {
    return false;
  }
}

/** One line of JSON with its own hash in front, filled up with spaces to a whole number of sectors. */
function sealed(content: unknown): string {
  const json = JSON.stringify(content);
  const line = `${lineHash(Buffer.from(json))} ${json}`;
  const length = Buffer.byteLength(line) + 1;
  const filler = ' '.repeat(Math.ceil(length / SECTOR_BYTES) * SECTOR_BYTES - length);
  return `${line}${filler}\n`;
}

/** @throws where the text is not one that was sealed. */
function unsealed(text: string): unknown {
  const json = text.slice(HASH_DIGITS + 1).trimEnd();
  if (lineHash(Buffer.from(json)) !== text.slice(0, HASH_DIGITS)) throw new Error('not as it was sealed');
  return JSON.parse(json);
}

function asMemory(value: unknown): Memory | null {
  if (typeof value !== 'object' || value === null || !('last' in value)) return null;
  const last = asHead(value.last);
  if (last === null) return null;
  const missing = 'missing' in value && Array.isArray(value.missing) ? value.missing : [];
  return { last, missing: missing.map(asHead).filter(head => head !== null) };
}

function asHead(value: unknown): RememberedHead | null {
  if (typeof value !== 'object' || value === null) return null;
  const { head, n, file, byte, length } = value as Record<string, unknown>;
  if (typeof head !== 'string' || typeof file !== 'string' || path.basename(file) !== file) return null;
  if (typeof byte !== 'number' || typeof length !== 'number') return null;
  return { head, n: typeof n === 'number' ? n : null, file, byte, length };
}
