/** Ids of entries: made before the write, so that a retry is recognised. */
import { randomUUID } from 'node:crypto';
import { problem, Refusal } from '../problem/problem.ts';

// No i, l, o, u: ids are read out and typed again.
const ALPHABET = '0123456789abcdefghjkmnpqrstvwxyz';
const ID = /^[0-9a-z-]{8,64}$/;

/**
 * A new id: the instant in UTC to the millisecond, then six random characters (30 bits). Sorts by time as text.
 *
 * @example newEntryId(new Date('2026-11-25T08:14:03.127Z')) //=> '20261125-081403127-7q2k9d'
 */
export function newEntryId(now: Date): string {
  const iso = now.toISOString();
  const date = iso.slice(0, 10).replaceAll('-', '');
  const time = iso.slice(11, 23).replace(/[:.]/g, '');
  return `${date}-${time}-${randomText()}`;
}

/** Six characters of 5 bits. A UUID is the cheapest source of good random bits: Node keeps a store of them. */
function randomText(): string {
  let bits = Number.parseInt(randomUUID().slice(0, 8), 16);
  let text = '';
  for (let i = 0; i < 6; i++) {
    text += ALPHABET[bits & 31] ?? '';
    bits >>>= 5;
  }
  return text;
}

/**
 * The id that a person gave with --id.
 *
 * @throws Refusal (exit 2) `entry_id_not_valid`.
 */
export function ensureEntryId(text: string): string {
  if (ID.test(text)) return text;
  throw new Refusal([
    problem(
      'entry_id_not_valid',
      `'${text}' cannot be the id of an entry`,
      'take the id that the failed command printed: a-z, 0-9 and -, 8 to 64 characters',
    ),
  ]);
}
