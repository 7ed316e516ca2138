/**
 * One published or agreed value beside ours. Each check is an assertion, and a row of the table in README.md: run the
 * tests with `REFERENCE_ROWS=FOLDER` and every test file leaves its rows there, a line of JSON each.
 */
import { appendFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';

/**
 * How a value is known. seen: read in a stored copy of the source or of a text that prints it; quoted: read in a text that
 * quotes the source; memory: from memory, the named text not at hand; practice: common practice, no source; exact: by
 * definition or arithmetic.
 */
export type How = 'seen' | 'quoted' | 'memory' | 'practice' | 'exact';

export interface ReferenceRow {
  /** The row of the reference values that it belongs to, for example F3. */
  readonly id: string;
  /** What is compared, with its unit: "flow for a cat of 4 kg, L/min". */
  readonly figure: string;
  readonly ours: number | string;
  /** A figure, a range with both ends included, or a word such as an outcome. */
  readonly theirs: number | readonly [low: number, high: number] | string;
  /** How far ours may be from theirs, in the unit of the figure. Left out: by binary dust only. */
  readonly tolerance?: number;
  readonly source: string;
  readonly how: How;
  /** Which rules ours goes by, where they are not the defaults: "with the source's own rules". */
  readonly rules?: string;
  /** Why theirs does not agree, where it is known not to. Then the check is that it still does not. */
  readonly misfit?: string;
}

/**
 * Asserts that ours agrees with theirs and keeps the row. Call it inside a test.
 *
 * @example check({ id: 'F3', figure: 'cat of 4 kg, L/min', ours: 0.8, theirs: 0.8, source: 'AAFP 2018, Table 4', how: 'seen' })
 */
export function check(row: ReferenceRow): void {
  const difference = differenceOf(row);
  keep(row, difference);
  const words = `${row.id}, ${row.figure}: ours ${row.ours}, theirs ${row.theirs} (${row.source}; ${row.how})`;
  if (difference === null) expect(row.ours === row.theirs, words).toBe(row.misfit === undefined);
  else {
    const dust = 1e-9 * Math.max(1, Math.abs(Number(row.ours)));
    expect(Math.abs(difference) <= (row.tolerance ?? 0) + dust, words).toBe(row.misfit === undefined);
  }
}

/** Ours less theirs, or less the nearer end of a range that ours lies outside of; null where words are compared. */
function differenceOf({ ours, theirs }: ReferenceRow): number | null {
  if (typeof ours === 'string' || typeof theirs === 'string') return null;
  const [low, high] = typeof theirs === 'number' ? [theirs, theirs] : theirs;
  return ours < low ? ours - low : ours > high ? ours - high : 0;
}

function keep(row: ReferenceRow, difference: number | null): void {
  const folder = process.env.REFERENCE_ROWS;
  if (folder === undefined) return;
  const name = path.basename(expect.getState().testPath ?? 'rows', '.test.ts');
  appendFileSync(path.join(folder, `${name}.jsonl`), `${JSON.stringify({ ...row, difference })}\n`);
}
