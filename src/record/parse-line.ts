/** The text of one line → an entry, or why it is none. */
import type { Entry } from '../generated/entry.ts';
import validate from '../generated/validate-entry.js';
import { isStationName } from './station.ts';

const SHA256 = /^[0-9a-f]{64}$/;
const SHA1 = /^[0-9a-f]{40}$/;
const DONE = /^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}:\d{2}[+-]\d{2}:\d{2})?$/;
/** Nearly every time is plainly one; the others are looked at more closely. */
const PLAIN_TIME =
  /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|1\d|2[0-8])(?:T(?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d[+-](?:[01]\d|2[0-3]):[0-5]\d)?$/;

/** Values that were checked before: on nearly every line they are the same again, and the check is dear. */
export interface Known {
  /** The hash that `prev` should be. */
  prev: string;
  inventory: string;
  station: string;
}

/** Nothing is known yet. */
export function nothingKnown(): Known {
  return { prev: '', inventory: '', station: '' };
}

/** The reason why a line is no entry. */
export interface NotAnEntry {
  readonly reason: string;
}

/**
 * Reads a line.
 *
 * @param text - without the newline.
 * @param known - `inventory` and `station` are brought up to date.
 * @example parseLine('{"v":2}', nothingKnown()) //=> { reason: "must have property 'kind'" }
 */
export function parseLine(text: string, known: Known): Entry | NotAnEntry {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { reason: text === '' ? 'an empty line' : 'not JSON' };
  }
  if (!isEntryShape(value)) return { reason: whyNot(value) };
  return patternFault(value, known) ?? value;
}

/** The patterns that the generated validator leaves out (esbuild.config.mjs): checked where they are not known already. */
function patternFault(entry: Entry, known: Known): NotAnEntry | null {
  if (entry.prev !== known.prev && !SHA256.test(entry.prev)) return { reason: 'prev is no SHA-256' };
  if (entry.on !== entry.at && !(DONE.test(entry.on) && isPossible(entry.on)))
    return { reason: 'on is no date and no time' };
  // Such a time has no place in the order of the entries.
  if (!isPossible(entry.at)) return { reason: 'at is no time' };
  if (entry.inventory !== known.inventory) {
    if (!SHA1.test(entry.inventory)) return { reason: 'inventory is no blob id' };
    known.inventory = entry.inventory;
  }
  if (entry.station !== known.station) {
    if (!isStationName(entry.station)) return { reason: 'station is no name of a station' };
    known.station = entry.station;
  }
  return null;
}

/** Whether there is such a day, and such a time on it. @param time - of the pattern DONE. */
function isPossible(time: string): boolean {
  if (PLAIN_TIME.test(time)) return true;
  const date = time.slice(0, 10);
  // The calendar's days run on past the end of a month: the 31st of February reads as the 3rd of March.
  const midnight = Date.parse(`${date}T00:00:00Z`);
  if (Number.isNaN(midnight) || new Date(midnight).toISOString().slice(0, 10) !== date) return false;
  return PLAIN_TIME.test(`2000-01-01${time.slice(10)}`);
}

/** Whether what `parseLine` gave is an entry. */
export function isEntry(parsed: Entry | NotAnEntry): parsed is Entry {
  return 'kind' in parsed;
}

function isEntryShape(value: unknown): value is Entry {
  return validate(value);
}

function whyNot(value: unknown): string {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return 'no JSON object';
  const error = validate.errors?.[0];
  if (error === undefined) return 'not in the format of the record';
  const where = error.instancePath === '' ? '' : `${error.instancePath.slice(1).replaceAll('/', '.')} `;
  const key = error.params.additionalProperty;
  return `${where}${error.message ?? 'is not as it should be'}${typeof key === 'string' ? ` (${key})` : ''}`;
}
