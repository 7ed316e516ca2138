/** One patient of the day's list, as it was understood. */
import type { Agent, Species } from '../inventory/inventory.ts';
import type { Kg, Minutes, Percent } from '../quantity/units.ts';

export interface DayCase {
  readonly ref: string;
  /** The line of the list. */
  readonly line: number;
  readonly species: Species;
  readonly weightKg: Kg;
  readonly idealWeightKg: Kg | null;
  readonly weightConfirmed: boolean;
  readonly start: Date;
  readonly minutes: Minutes;
  /** Ids that the list names. */
  readonly machine: string | null;
  readonly circuit: string | null;
  readonly agent: Agent | null;
  readonly settingPercent: Percent | null;
}

const MINUTE_MS = 60_000;

/** Minutes since 1970, for the search. */
export function startMinute({ start }: Pick<DayCase, 'start'>): number {
  return start.getTime() / MINUTE_MS;
}

export function endOf({ start, minutes }: Pick<DayCase, 'start' | 'minutes'>): Date {
  return new Date(start.getTime() + minutes * MINUTE_MS);
}

export function atMinute(minute: number): Date {
  return new Date(minute * MINUTE_MS);
}
