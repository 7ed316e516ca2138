/** Damage: something in the record that is not as it was written. */
import type { RECORD_STORE_CODES } from '../problem/codes/record-store.ts';
import type { Problem } from '../problem/problem.ts';

export type DamageCode = Extract<keyof typeof RECORD_STORE_CODES, `damage_${string}`>;

/** A problem that names station, byte, and what was expected and found there. */
export interface Damage extends Problem {
  readonly code: DamageCode;
  readonly station: string;
  /** The line's first byte in the file, from 0. */
  readonly byte: number | null;
  readonly expected: string | null;
  readonly found: string | null;
}
