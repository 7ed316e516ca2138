/** Damage: something in the record that is not as it was written. */
import { RECORD_STORE_CODES } from '../problem/codes/record-store.ts';
import type { Problem } from '../problem/problem.ts';

export type DamageCode = Extract<keyof typeof RECORD_STORE_CODES, `damage_${string}`>;

/** A problem that names station, byte, and what was expected and found there. */
export interface Damage extends Problem {
  readonly code: DamageCode;
  /** null: of the record as a whole. */
  readonly station: string | null;
  /** The line's first byte in the file, from 0. */
  readonly byte: number | null;
  readonly expected: string | null;
  readonly found: string | null;
}

/** A place in the record; null where it has none. */
interface DamagePlace {
  readonly file: string | null;
  readonly line: number | null;
  readonly byte: number | null;
}

interface Particulars {
  readonly message: string;
  readonly expected: string | null;
  readonly found: string | null;
}

/** Damage of a code, with the remedy that the list of codes gives. */
export function damageAt(
  code: DamageCode,
  station: string | null,
  { file, line, byte }: DamagePlace,
  { message, expected, found }: Particulars,
): Damage {
  return {
    code,
    station,
    file,
    line,
    column: null,
    byte,
    message,
    remedy: RECORD_STORE_CODES[code].remedy,
    expected,
    found,
  };
}
