/** Ids of entries: made before the write, so that a retry is recognised. */
import { randomBytes } from 'node:crypto';
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
  const random = Array.from(randomBytes(6), byte => ALPHABET[byte % 32]).join('');
  return `${date}-${time}-${random}`;
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
