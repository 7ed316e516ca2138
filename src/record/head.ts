/**
 * The head of a station, remembered outside the record: a hash chain alone cannot see that its last lines were cut off.
 *
 *   $XDG_STATE_HOME/holdfast/<hash of the record's real path>-<station>.json
 */
import {
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { homedir } from 'node:os';
import path from 'node:path';
import { fileProblem, type Problem } from '../problem/problem.ts';
import { lineHash } from './chain.ts';
import { codeOf } from './folder.ts';
import { isStationName } from './station.ts';

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
    return asMemory(JSON.parse(readFileSync(memoryFile(stateDir, recordDir, station), 'utf8')));
  } catch {
    return null;
  }
}

/** The stations of a record of which something is remembered. */
export function recallStations(stateDir: string, recordDir: string): string[] {
  try {
    const prefix = `${recordKey(recordDir)}-`;
    return readdirSync(stateDir)
      .filter(name => name.startsWith(prefix) && name.endsWith('.json'))
      .map(name => name.slice(prefix.length, -'.json'.length))
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
  try {
    const file = memoryFile(stateDir, recordDir, station);
    const text = `${JSON.stringify({ record: realpathSync(recordDir), station, ...memory })}\n`;
    replaceFile(file, text);
    return null;
  } catch (error) {
    const message = `the record's head could not be remembered in ${stateDir} (${codeOf(error)})`;
    return fileProblem(
      'head_not_kept',
      stateDir,
      message,
      'make that folder writable, or set XDG_STATE_HOME to one that is',
    );
  }
}

/** The file in which a station's head is remembered. */
export function memoryFile(stateDir: string, recordDir: string, station: string): string {
  return path.join(stateDir, `${recordKey(recordDir)}-${station}.json`);
}

function recordKey(recordDir: string): string {
  return lineHash(Buffer.from(realpathSync(recordDir))).slice(0, 16);
}

function replaceFile(file: string, text: string): void {
  const fresh = `${file}.new`;
  try {
    writeFileSync(fresh, text, { mode: 0o600 });
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
    mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
    writeFileSync(fresh, text, { mode: 0o600 });
  }
  try {
    renameSync(fresh, file);
  } catch (error) {
    rmSync(fresh, { force: true });
    throw error;
  }
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
