/** The cells of a CSV list by the columns of its first line. */
import type { Source } from '../../inventory/source.ts';
import { didYouMean, nearest } from '../../problem/nearest.ts';
import type { Problem } from '../../problem/problem.ts';
import { type Cell, COLUMNS, type ColumnName, columnOf, type ListRow, REQUIRED } from './cells.ts';
import { parseCsv } from './csv.ts';

export function csvRows(source: Source): ListRow[] | Problem[] {
  const parsed = parseCsv(source);
  const [header, ...rest] = parsed;
  if (isProblem(header)) return parsed as Problem[];
  if (header === undefined) return [];
  const columns: (ColumnName | null)[] = [];
  const problems: Problem[] = [];
  for (const cell of header) {
    const column = columnOf(cell.text) ?? null;
    const name = cell.text.trim();
    if (column === null) {
      const what = name === '' ? 'a column without a name' : `there is no column '${name}'`;
      problems.push(at(source, cell, 'list_column_unknown', what, didYouMean(name, COLUMNS)));
    } else if (columns.includes(column)) {
      problems.push(
        at(source, cell, 'list_column_twice', `the column ${column} stands twice`, 'keep one of the two'),
      );
    }
    columns.push(column);
  }
  const end = header.at(-1)?.to ?? 0;
  const meant = header.map(({ text }) => nearest(text.trim(), COLUMNS));
  for (const column of REQUIRED) {
    // A name that is nearly this one has been named already.
    if (columns.includes(column) || meant.includes(column)) continue;
    const message = `the column ${column} is missing`;
    problems.push(
      source.problem('list_column_missing', end, end, message, `add ${column} to the first line`),
    );
  }
  const rows = rest as Cell[][];
  // With columns that are not known the cells cannot be told apart; what is wrong with them comes after.
  if (problems.length > 0) return problems;
  const uneven = rows.filter(cells => cells.length !== columns.length);
  if (uneven.length > 0) return uneven.map(cells => lengthProblem(source, cells, columns.length));
  return rows.map(cells => ({ cells: byColumn(cells, columns), from: cells[0]?.from ?? 0 }));
}

function byColumn(cells: readonly Cell[], columns: readonly (ColumnName | null)[]): Map<ColumnName, Cell> {
  const map = new Map<ColumnName, Cell>();
  for (const [i, column] of columns.entries()) {
    const cell = cells[i];
    if (column !== null && cell !== undefined) map.set(column, cell);
  }
  return map;
}

function lengthProblem(source: Source, cells: readonly Cell[], columns: number): Problem {
  const from = cells[0]?.from ?? 0;
  const to = cells.at(-1)?.to ?? from;
  const split = cells.find(
    (cell, i) => /^\d+$/.test(cell.text.trim()) && /^\d+ ?[a-z%]*$/i.test(cells[i + 1]?.text ?? ''),
  );
  const comma =
    cells.length > columns && split !== undefined
      ? '; a decimal comma parts a cell in two: write a point'
      : '';
  const message = `${cells.length} cells, and the first line has ${columns}`;
  return source.problem('list_row_length', from, to, message, `count them${comma}`);
}

function isProblem(value: Cell[] | Problem | undefined): value is Problem {
  return value !== undefined && 'code' in value;
}

function at(
  source: Source,
  { from, to }: Cell,
  code: 'list_column_unknown' | 'list_column_twice',
  message: string,
  remedy: string,
): Problem {
  return source.problem(code, from, to, message, remedy);
}
