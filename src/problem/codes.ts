/**
 * The closed list of codes. Every error that a person can cause and every caution of a plan has one row here, and every
 * row has a sample in the tests (test/problem/codes.test.ts checks both ways).
 */
import type { CautionRow, CodeRow } from './code.ts';
import { CAUTION_CODES } from './codes/caution.ts';
import { DAY_CAUTION_CODES, DAY_LIST_CODES } from './codes/day.ts';
import { DUE_CODES } from './codes/due.ts';
import { INVENTORY_CODES } from './codes/inventory.ts';
import { RECORD_CODES } from './codes/record.ts';
import { USAGE_CODES } from './codes/usage.ts';

export type { Level } from './code.ts';

export type CautionCode = keyof typeof CAUTION_CODES;
export type DayCautionCode = keyof typeof DAY_CAUTION_CODES;
export type Code =
  | CautionCode
  | DayCautionCode
  | keyof typeof DAY_LIST_CODES
  | keyof typeof DUE_CODES
  | keyof typeof INVENTORY_CODES
  | keyof typeof RECORD_CODES
  | keyof typeof USAGE_CODES;

/** The families in the order in which a person meets them, each with its heading. */
export const CODE_FAMILIES: readonly {
  heading: string;
  rows: Readonly<Record<string, CodeRow | CautionRow>>;
}[] = [
  { heading: 'Command line', rows: USAGE_CODES },
  { heading: 'Inventory', rows: INVENTORY_CODES },
  { heading: 'Record', rows: RECORD_CODES },
  { heading: 'Cautions of a plan', rows: CAUTION_CODES },
  { heading: "The day's list", rows: DAY_LIST_CODES },
  { heading: "Cautions of a day's plan", rows: DAY_CAUTION_CODES },
  { heading: 'Cautions of the due report', rows: DUE_CODES },
];

export { CAUTION_CODES, DAY_CAUTION_CODES };
