/** What a plan starts from: the patient and the wishes of the person, and what is known of the equipment. */
import type { CalendarDate, Timestamp } from '../calendar/zone.ts';
import type { Agent, Species } from '../inventory/inventory.ts';
import { type Kg, type Minutes, type Ml, ml, type Percent } from '../quantity/units.ts';
import type { OpenPopOff } from '../record/pop-off.ts';
import type { GaugeState } from '../record/supply-use.ts';
import type { WearState } from '../record/wear.ts';

export type { GaugeState, WearState };

export interface PlanRequest {
  readonly weightKg: Kg;
  readonly species: Species | null;
  /** Chooses the class, the circuit and the bag where it is given; the flow goes by the actual weight. */
  readonly idealWeightKg: Kg | null;
  /** Ids that force the choice. */
  readonly machine: string | null;
  readonly circuit: string | null;
  readonly bagMl: Ml | null;
  readonly minutes: Minutes | null;
  readonly agent: Agent | null;
  readonly settingPercent: Percent | null;
  readonly breathsPerMin: number | null;
  /** Dead space of adapters between circuit and patient. */
  readonly adapterMl: Ml;
  readonly caseRef: string | null;
  readonly weightConfirmed: boolean;
}

/**
 * The request for a weight with everything else left free but what is wished.
 *
 * @example requestFor(kg(6.8), { species: 'dog' }).machine //=> null
 */
export function requestFor(weightKg: Kg, wishes: Partial<Omit<PlanRequest, 'weightKg'>> = {}): PlanRequest {
  return {
    weightKg,
    species: null,
    idealWeightKg: null,
    machine: null,
    circuit: null,
    bagMl: null,
    minutes: null,
    agent: null,
    settingPercent: null,
    breathsPerMin: null,
    adapterMl: ml(0),
    caseRef: null,
    weightConfirmed: false,
    ...wishes,
  };
}

/** The last leak test of a pair. */
export interface LastHold {
  readonly entry: string;
  readonly on: Timestamp | CalendarDate;
  readonly by: string;
  readonly result: 'pass' | 'fail';
  /** In words: "fell from 20 to 14 cmH2O in 10 s". */
  readonly words: string;
}

export interface HoldState {
  readonly state: 'held' | 'needed' | 'failed';
  readonly last: LastHold | null;
  /** Why a test that was done does not count, in words; null where there is nothing to say. */
  readonly because: string | null;
}

/** A check that stands overdue or failed on one of the assets in question. */
export interface CheckTrouble {
  readonly asset: string;
  readonly check: string;
  readonly state: 'overdue' | 'failed';
  readonly blocks: boolean;
  /** In words: "due since 24 Nov 2026". */
  readonly words: string;
}

/** What is known of the equipment. `NO_RECORD` answers where there is no record folder at all. */
export interface EquipmentState {
  readonly record: 'none' | 'read' | 'damaged';
  /** What is to be said of entries that are dated after today, as a sentence without a full stop; null: there are none. */
  readonly entriesInFuture: string | null;
  /** Why an asset is out of service, in words; null when it is in service. */
  outOfService(asset: string): string | null;
  hold(circuit: string, machine: string): HoldState;
  /**
   * Whether the pop-off of the pair was left shut, or does not open, and nobody has seen it open since: why, which
   * circuit was on, and the command that says it was seen open. A circle's pop-off may have been left shut by another circuit.
   */
  popOffShut(circuit: string, machine: string): Pick<OpenPopOff, 'because' | 'circuit' | 'answer'> | null;
  /** The parts of the pair that failed with another partner and are not cleared, in words. */
  failedElsewhere(circuit: string, machine: string): readonly string[];
  /** Overdue or failed checks on these assets. */
  checks(assets: readonly string[]): readonly CheckTrouble[];
  /** Since when an asset is back in service without a round having looked at it; null: seen, or never away. */
  unseenReturn(asset: string): string | null;
  /** Whether the last high-pressure test of a supply failed, in words; null otherwise. */
  supplyHoldFailed(supply: string): string | null;
  /** A cylinder's last reading (record/supply-use.ts); null: never read. */
  gauge(supply: string): GaugeState | null;
  /** How far an absorber or a canister is worn (record/wear.ts); null: nothing is known. */
  wear(asset: string): WearState | null;
}

/** Nothing is known: no record folder exists. */
export const NO_RECORD: EquipmentState = {
  record: 'none',
  entriesInFuture: null,
  outOfService: () => null,
  hold: () => ({ state: 'needed', last: null, because: null }),
  popOffShut: () => null,
  failedElsewhere: () => [],
  checks: () => [],
  unseenReturn: () => null,
  supplyHoldFailed: () => null,
  gauge: () => null,
  wear: () => null,
};
