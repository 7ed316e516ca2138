/**
 * What the record says of each asset and each circuit–machine pair, as plain data. `foldStanding` (standing.ts) makes it
 * from the entries in their order; plan and due read it.
 */
import type { CalendarDate, Timestamp } from '../calendar/zone.ts';
import type { HoldEntry } from '../generated/entry.ts';
import type { Agent } from '../inventory/inventory.ts';
import type { Grams, Minutes, MlPerCmH2O, MlPerMin, Percent, Psi } from '../quantity/units.ts';

/** Something that was done: the entry that says so, and its place in the order of the record. */
export interface Done {
  readonly entry: string;
  /** Position in the order on, at, station, line. Of two things, the one with the higher order came later. */
  readonly order: number;
  /** The practice's calendar date on which it was done. */
  readonly date: CalendarDate;
  /** When it was done: an instant, or a bare date where only the day is known. */
  readonly on: Timestamp | CalendarDate;
  /** When it was entered. */
  readonly at: Timestamp;
  readonly by: string;
}

/** The last pass and the last failure of one check of one asset. It stands failed when the failure is the later one. */
export interface CheckStanding {
  readonly lastPass: Done | null;
  readonly lastFail: Done | null;
}

/** A stretch of use that an asset saw: one case, as its `usage` entry tells it. */
export interface Use {
  readonly done: Done;
  readonly minutes: Minutes;
  readonly machine: string;
  readonly circuit: string;
  readonly flowMlPerMin: MlPerMin;
  /** null: not said. */
  readonly agent: Agent | null;
  readonly settingPercent: Percent | null;
  readonly caseRef: string | null;
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
  /** null: in service. Where it was withdrawn twice without a return, the first: that is since when. */
  readonly withdrawn: { readonly done: Done; readonly because: string } | null;
  /** The last withdrawal of all, also one that came on top of another: two workplaces may each have entered it. */
  readonly lastWithdrawal: Done | null;
  /** The last return to service, for the round that follows it. */
  readonly returned: Done | null;
  /** By check id; only checks that were ever passed or failed. */
  readonly checks: ReadonlyMap<string, CheckStanding>;
  /** Of a circuit: how its pop-off was signed off, in order. */
  readonly popOffAnswers: readonly { readonly done: Done; readonly result: 'pass' | 'fail' }[];
  /** A cylinder's high-pressure tests, whether or not a check asks for them. */
  readonly supplyHold: CheckStanding;
  /**
   * Every use, in order. Absorbent wears only with circles; a machine and its scavenging with every case; a vaporizer with
   * its own agent, and where the entry does not say which.
   */
  readonly uses: readonly Use[];
  readonly readings: readonly Reading[];
}

export interface PairStanding {
  readonly circuit: string;
  readonly machine: string;
  /** All holds of this pair, in order. */
  readonly holds: readonly HoldDone[];
  /** All measurements of compliance of this pair, in order. */
  readonly compliances: readonly { readonly done: Done; readonly mlPerCmH2O: MlPerCmH2O }[];
}

export interface HoldDone {
  readonly done: Done;
  readonly entry: HoldEntry;
}

export interface Standing {
  /** Every asset that the record speaks of, also those that have left the inventory. */
  readonly assets: ReadonlyMap<string, AssetStanding>;
  /** By `pairKey(circuit, machine)`. */
  readonly pairs: ReadonlyMap<string, PairStanding>;
}

/** The key of a pair. @example pairKey('bain-1', 'theatre-1') //=> 'bain-1 theatre-1' */
export function pairKey(circuit: string, machine: string): string {
  return `${circuit} ${machine}`;
}

/** Whether the last that is known of a check is a failure. */
export function standsFailed({ lastPass, lastFail }: AnsweredCheck): boolean {
  return lastFail !== null && (lastPass === null || lastFail.order > lastPass.order);
}

/** When something was done: all that dates are worked out from. */
export type Moment = Pick<Done, 'order' | 'date'>;

export interface AnsweredCheck {
  readonly lastPass: Moment | null;
  readonly lastFail: Moment | null;
}

/**
 * The part of a standing on which the due report rests. `foldStanding` gives it with all the rest; a scan (scan/scan.ts)
 * gives it alone, with only those uses and readings that still count.
 */
export interface DueStanding {
  readonly assets: ReadonlyMap<string, AssetDueStanding>;
}

export interface AssetDueStanding {
  readonly withdrawn: { readonly done: Moment; readonly because: string } | null;
  readonly checks: ReadonlyMap<string, AnsweredCheck>;
  readonly uses: readonly SeenUse[];
  readonly readings: readonly SeenReading[];
}

export type SeenUse = Pick<Use, 'minutes' | 'flowMlPerMin' | 'agent' | 'settingPercent'> & {
  readonly done: Moment;
};

export type SeenReading = Pick<Reading, 'g' | 'isNew'> & { readonly done: Moment };
