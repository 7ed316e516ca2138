/** Reading a record: all stations' entries in one order, and all that is wrong with it. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';
import type { Problem } from '../problem/problem.ts';
import type { Damage } from './damage.ts';

/** Where an entry stands. Lines count from 1; bytes from 0, to the line's first. */
export interface EntryPlace {
  readonly file: string;
  readonly line: number;
  readonly byte: number;
}

/** A station's newest line: what a report prints as a witness. */
export interface StationHead {
  readonly station: string;
  /** SHA-256 of the last complete line; 64 zeros where there is none. */
  readonly head: string;
  /** Lines that are entries. */
  readonly entries: number;
}

export interface RecordRead {
  readonly dir: string;
  /** False where there is no record at all: nothing is known. */
  readonly exists: boolean;
  /** In the order on, at, station, line. Also from a damaged record: all lines that are entries. */
  readonly entries: readonly Entry[];
  /** The places of the entries, in the same order. */
  readonly places: readonly EntryPlace[];
  readonly stations: readonly StationHead[];
  /** Where it is not empty, nothing that the record says can be relied on: caution `record_damaged`. */
  readonly damage: readonly Damage[];
  /** Untidy, not damaged: to be printed on stderr. */
  readonly cautions: readonly Problem[];
}

export interface ReadOptions {
  /** The practice's zone: a bare date counts as the end of that day there. */
  readonly timeZone: string;
  /** Leaves out what was done after this day, whenever it was entered. */
  readonly asOf?: CalendarDate | undefined;
  /** Whether each line's hash is compared with the next line's `prev`. Default true. */
  readonly checkChain?: boolean | undefined;
}
