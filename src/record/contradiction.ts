/** What an entry says of itself that cannot be, given the line before it. Pure. */
import type { Entry } from '../generated/entry.ts';

/** Where the chain stands. */
export interface Circumstances {
  readonly station: string;
  /** The number that the entry should have; null: unknown. */
  readonly n: number | null;
  /** When the line before was entered; null: there is none. */
  readonly at: string | null;
}

export interface Fault {
  readonly expected: string;
  readonly found: string;
}

const OFFSET_AT = 19;

/** The first fault, or null. */
export function contradictionIn(entry: Entry, { station, n, at }: Circumstances): Fault | null {
  if (entry.station !== station) return { expected: `station ${station}`, found: `station ${entry.station}` };
  if (entry.n !== undefined && n !== null && entry.n !== n)
    return { expected: `line number ${n}`, found: `line number ${entry.n}` };
  if (at !== null && isAfter(at, entry.at))
    return { expected: `entered at ${at} or later`, found: `entered at ${entry.at}` };
  if (entry.on !== entry.at && isDoneAfter(entry))
    return { expected: `done by ${entry.at}`, found: `done on ${entry.on}` };
  return null;
}

/** Whether something was done after it was entered, or after any other instant in its place. */
export function isDoneAfter({ on, at }: Pick<Entry, 'on' | 'at'>): boolean {
  return on.includes('T') ? isAfter(on, at) : on > at.slice(0, 10);
}

/** Whether an instant is after another. With the same offset, as nearly always, the texts themselves are in order. */
function isAfter(a: string, b: string): boolean {
  if (a.endsWith(b.slice(OFFSET_AT))) return a > b;
  return Date.parse(a) > Date.parse(b);
}
