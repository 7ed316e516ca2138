/** What every code of the closed list carries: the row that `holdfast explain` prints and CODES.md shows. */
export interface CodeRow {
  /** What it means, in one or two sentences. */
  readonly means: string;
  /** What to do about it. */
  readonly remedy: string;
}

/** A caution of a plan has one level, always the same: stop (exit 1), caution, or note. */
export type Level = 'stop' | 'caution' | 'note';

export interface CautionRow extends CodeRow {
  readonly level: Level;
}
