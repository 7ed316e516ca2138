/** The chain that binds a station's lines: each carries the hash of the one before. */
import { hash } from 'node:crypto';

/** What the very first line of a station carries as `prev`. */
export const FIRST_PREV = '0'.repeat(64);

/**
 * SHA-256 of a line's bytes without its newline, as 64 hexadecimal digits.
 *
 * @example lineHash(Buffer.from('{}')) //=> '44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a'
 */
export function lineHash(bytes: Uint8Array): string {
  return hash('sha256', bytes);
}
