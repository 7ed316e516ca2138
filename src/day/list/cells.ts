/** The list as rows of cells, whichever file it came from, each cell with its stretch of the text. */
export const COLUMNS = [
  'ref',
  'species',
  'weight',
  'start',
  'minutes',
  'machine',
  'circuit',
  'agent',
  'setting',
  'ideal_weight',
  'confirm_weight',
] as const;

export type ColumnName = (typeof COLUMNS)[number];

export const REQUIRED: readonly ColumnName[] = ['ref', 'species', 'weight', 'start', 'minutes'];

/** Offsets into the text, from 0. */
export interface Cell {
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

export interface ListRow {
  readonly cells: ReadonlyMap<ColumnName, Cell>;
  /** Where the row begins. */
  readonly from: number;
}

/** Whether a name is that of a column; capitals and spaces are no matter. @example columnOf(' Ideal weight ') //=> 'ideal_weight' */
export function columnOf(name: string): ColumnName | undefined {
  const plain = name.trim().toLowerCase().replaceAll(' ', '_');
  return COLUMNS.find(column => column === plain);
}
