/** The result of the due report, as plain data. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Asset, Check } from '../inventory/inventory.ts';
import type { Code } from '../problem/codes.ts';
import type { StationHead } from '../record/read.ts';
import type { UseCounts } from './use.ts';

/** Worst first. */
export const DUE_STATES = ['overdue', 'due', 'soon', 'ok', 'withdrawn'] as const;

export type DueState = (typeof DUE_STATES)[number];

/** What brought the date: the interval, use, or a failure. */
export type Limit = 'interval' | 'hours_in_use' | 'gain_g' | 'failed';

/** One check of one asset. */
export interface DueItem {
  readonly asset: Asset;
  readonly check: Check;
  readonly state: DueState;
  /** The earliest date that the interval, use or a failure gives; null where none of them does yet. */
  readonly dueOn: CalendarDate | null;
  /** Which of them gave it. */
  readonly limit: Limit | null;
  /** Whole days since dueOn; 0 unless overdue. */
  readonly daysOverdue: number;
  readonly lastDoneOn: CalendarDate | null;
  /** The date of a failure that was not followed by a pass; null where the check does not stand failed. */
  readonly failedOn: CalendarDate | null;
  /** null where the check does not go by use. */
  readonly used: UseCounts | null;
  /** Whether a count that the check goes by is not known. */
  readonly isUseUnknown: boolean;
  /** Why this date and this state, in words without a full stop. */
  readonly because: string;
}

/** What a reader of the report must know beside the items. */
export interface DueCaution {
  readonly code: Extract<
    Code,
    'record_damaged' | 'no_record' | 'entry_in_future' | 'asset_left_inventory' | 'use_unknown'
  >;
  /** One sentence without a full stop. */
  readonly message: string;
}

export type Counts = Readonly<Record<DueState, number>>;

export interface PracticeDue {
  readonly practice: string;
  readonly inventory: { readonly file: string; readonly blob: string };
  /** The date for which it is worked out: calendar date in the practice's zone. */
  readonly asOf: CalendarDate;
  readonly record: 'none' | 'read' | 'damaged';
  /** The last line of each station when the report was made: a report that was kept is a witness of the record. */
  readonly stations: readonly StationHead[];
  /** Worst first, grouped by asset. */
  readonly items: readonly DueItem[];
  readonly counts: Counts;
  readonly cautions: readonly DueCaution[];
}

export interface DueReport {
  /** The date asked for; where none was, today at the first practice. */
  readonly asOf: CalendarDate;
  /** When the report was made. */
  readonly madeAt: Date;
  readonly practices: readonly PracticeDue[];
}
