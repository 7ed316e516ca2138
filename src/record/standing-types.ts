/**
 * What the record says of each asset and each circuit–machine pair, as plain data. `foldStanding` (standing.ts) makes it
 * from the entries in their order; plan and due read it.
 */
import type { CalendarDate, Timestamp } from '../calendar/zone.ts';
import type { HoldEntry } from '../generated/entry.ts';
import type { Grams, Minutes, Psi } from '../quantity/units.ts';

/** Something that was done: the entry that says so, and its place in the order of the record. */
export interface Done {
  readonly entry: string;
  /** Position in the order on, at, station, line. Of two things, the one with the higher order came later. */
  readonly order: number;
  /** The practice's calendar date on which it was done. */
  readonly date: CalendarDate;
  readonly at: Timestamp;
  readonly by: string;
}

/** The last pass and the last failure of one check of one asset. It stands failed when the failure is the later one. */
export interface CheckStanding {
  readonly lastPass: Done | null;
  readonly lastFail: Done | null;
}

/** A stretch of use that an asset saw. */
export interface Use {
  readonly done: Done;
  readonly minutes: Minutes;
}

/** A gauge or a scale that was read. `isNew` begins a fresh cylinder or canister. */
export interface Reading {
  readonly done: Done;
  readonly psi: Psi | null;
  readonly g: Grams | null;
  readonly isNew: boolean;
}

export interface AssetStanding {
  readonly id: string;
  /** null: in service. */
  readonly withdrawn: { readonly done: Done; readonly because: string } | null;
  /** The last return to service, for the round that follows it. */
  readonly returned: Done | null;
  /** By check id; only checks that were ever passed or failed. */
  readonly checks: ReadonlyMap<string, CheckStanding>;
  /** Every use, in order. Absorbent wears only with circles; a machine, its vaporizers and charcoal with every case. */
  readonly uses: readonly Use[];
  readonly readings: readonly Reading[];
}

export interface PairStanding {
  readonly circuit: string;
  readonly machine: string;
  /** All holds of this pair, in order. */
  readonly holds: readonly { readonly done: Done; readonly entry: HoldEntry }[];
}

export interface Standing {
  /** Every asset that the record speaks of, also those that have left the inventory. */
  readonly assets: ReadonlyMap<string, AssetStanding>;
  /** By `circuit machine`, parted by a space. */
  readonly pairs: ReadonlyMap<string, PairStanding>;
}
