/** Bytes of one line → an entry, or why it is none. */
import type { Entry } from '../generated/entry.ts';
import validate from '../generated/validate-entry.js';

const SHA256 = /^[0-9a-f]{64}$/;
const SHA1 = /^[0-9a-f]{40}$/;

/** Values that were checked before: on nearly every line they are the same again, and the check is dear. */
export interface Known {
  prev: string;
  inventory: string;
}

/** The reason why a line is no entry. */
export interface NotAnEntry {
  readonly reason: string;
}

/**
 * Reads a line.
 *
 * @param bytes - without the newline.
 * @param known - the hash that `prev` should be, and the `inventory` of the line before; the latter is brought up to date.
 * @example parseLine(Buffer.from('{"v":2}'), known) //=> { reason: "must have property 'kind'" }
 */
export function parseLine(bytes: Buffer, known: Known): Entry | NotAnEntry {
  let value: unknown;
  try {
    value = JSON.parse(bytes.toString('utf8'));
  } catch {
    return { reason: bytes.length === 0 ? 'an empty line' : 'not JSON' };
  }
  if (!isEntryShape(value)) return { reason: whyNot(value) };
  // The generated validator leaves these two out (esbuild.config.mjs): they cost as much as all the rest together.
  if (value.prev !== known.prev && !SHA256.test(value.prev)) return { reason: 'prev is no SHA-256' };
  if (value.inventory !== known.inventory) {
    if (!SHA1.test(value.inventory)) return { reason: 'inventory is no blob id' };
    known.inventory = value.inventory;
  }
  return value;
}

/** Whether what `parseLine` gave is an entry. */
export function isEntry(parsed: Entry | NotAnEntry): parsed is Entry {
  return 'kind' in parsed;
}

/** What is wrong with an entry by the schema, or null where nothing is. */
export function entryFault(value: unknown): string | null {
  const parsed = parseLine(Buffer.from(JSON.stringify(value)), { prev: '', inventory: '' });
  return isEntry(parsed) ? null : parsed.reason;
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
