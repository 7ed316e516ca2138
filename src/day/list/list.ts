/** The day's list: text → rows → cases, with every problem of every row. Pure. */
import { rawTextProblems } from '../../inventory/raw-text.ts';
import type { Source } from '../../inventory/source.ts';
import { byPlace, type Problem } from '../../problem/problem.ts';
import { type DayCase, endOf } from '../day-case.ts';
import type { ColumnName, ListRow } from './cells.ts';
import { csvRows } from './csv-rows.ts';
import { type ListScene, readRow } from './row.ts';
import { yamlRows } from './yaml-rows.ts';

export type ListKind = 'csv' | 'yaml';
export type ListRead = { ok: true; cases: readonly DayCase[] } | { ok: false; problems: readonly Problem[] };

/** More than any day has; beyond it the search for the best assignment would not end in time. */
const MOST_CASES = 200;

/**
 * Reads a list, or says everything that is wrong with it: first with its shape, then with its cells and rows.
 *
 * @returns the cases in the order of their starts; of those that start together, in the order of the list
 */
export function readDayList(kind: ListKind, scene: ListScene): ListRead {
  const { source } = scene;
  const raw = rawTextProblems(source).filter(({ code }) => kind === 'yaml' || code !== 'tab_indentation');
  if (raw.length > 0) return { ok: false, problems: raw };
  if (withoutComments(source, kind) === '') return { ok: false, problems: [empty(source)] };
  const rows = kind === 'csv' ? csvRows(source) : yamlRows(source);
  if (!areRows(rows)) return { ok: false, problems: [...rows].sort(byPlace) };
  if (rows.length === 0) return { ok: false, problems: [empty(source)] };
  const tooMany = rows[MOST_CASES];
  if (tooMany !== undefined) {
    const message = `${rows.length} patients; a day has at most ${MOST_CASES}`;
    const problem = source.problem(
      'list_too_large',
      tooMany.from,
      tooMany.from,
      message,
      'check that it is the right file',
    );
    return { ok: false, problems: [problem] };
  }
  const read = rows.map(row => readRow(row, scene));
  const problems = [
    ...read.flatMap(one => (Array.isArray(one) ? one : [])),
    ...refsTwice(rows, source),
    ...mixedUnits(rows, source),
    ...namedTwice(rows, read, scene),
  ];
  if (problems.length > 0) return { ok: false, problems: problems.sort(byPlace) };
  const cases = read.flatMap(one => (Array.isArray(one) ? [] : [one]));
  return { ok: true, cases: cases.sort((a, b) => a.start.getTime() - b.start.getTime()) };
}

function areRows(list: ListRow[] | Problem[]): list is ListRow[] {
  return list.every(item => 'cells' in item);
}

function withoutComments({ text }: Source, kind: ListKind): string {
  return (kind === 'yaml' ? text.replace(/^\s*(?:#.*)?$/gm, '') : text.replace(/[,;]/g, '')).trim();
}

function empty(source: Source): Problem {
  const remedy = 'write a line of column names and one for each patient: holdfast help day shows a list';
  return source.problem('list_empty', 0, 0, 'the list has no patients', remedy);
}

const textOf = ({ cells }: ListRow, column: ColumnName) => cells.get(column)?.text.trim() ?? '';

function refsTwice(rows: readonly ListRow[], source: Source): Problem[] {
  const first = new Map<string, ListRow>();
  return rows.flatMap(row => {
    const ref = textOf(row, 'ref');
    const before = first.get(ref);
    if (before === undefined) first.set(ref, row);
    if (before === undefined || ref === '') return [];
    const message = `ref '${ref}' stands already on line ${source.placeAt(before.from).line}`;
    return [at(source, row, 'ref', 'list_ref_twice', message, 'give each patient a ref of its own')];
  });
}

/** In a list with pounds, ounces or grams a bare number is not surely kilograms. */
function mixedUnits(rows: readonly ListRow[], source: Source): Problem[] {
  const columns: ColumnName[] = ['weight', 'ideal_weight'];
  const other = rows.flatMap(row =>
    columns.flatMap(column => /^[\d.]+ ?(g|lbs?|oz)$/i.exec(textOf(row, column))?.[1] ?? []),
  )[0];
  if (other === undefined) return [];
  return rows.flatMap(row =>
    columns
      .filter(column => /^\d+(\.\d+)?$/.test(textOf(row, column)))
      .map(column => {
        const text = textOf(row, column);
        const message = `${column} '${text}' has no unit, and other weights of the list are in ${other}`;
        return at(source, row, column, 'list_units_mixed', message, `write ${text}kg or ${text}${other}`);
      }),
  );
}

/** Machines and circuits that two rows name for one time: nothing could be planned around that. */
function namedTwice(
  rows: readonly ListRow[],
  read: readonly (DayCase | Problem[])[],
  { source, inventory }: ListScene,
): Problem[] {
  const turnover = inventory.rules.turnoverMinutes.value;
  const restMs = turnover * 60_000;
  const problems: Problem[] = [];
  for (const column of ['machine', 'circuit'] as const) {
    for (const [i, later] of read.entries()) {
      const row = rows[i];
      if (Array.isArray(later) || row === undefined || later[column] === null) continue;
      const clash = read
        .slice(0, i)
        .find(
          (one): one is DayCase =>
            !Array.isArray(one) &&
            one[column] === later[column] &&
            one.start.getTime() < endOf(later).getTime() + restMs &&
            later.start.getTime() < endOf(one).getTime() + restMs,
        );
      if (clash === undefined) continue;
      const message = `${later[column]} is named for ${clash.ref} (line ${clash.line}) at an overlapping time, with ${turnover} min of turnover`;
      problems.push(
        at(
          source,
          row,
          column,
          'list_named_twice',
          message,
          `move one of the two, or leave the ${column} out of one`,
        ),
      );
    }
  }
  return problems;
}

function at(
  source: Source,
  row: ListRow,
  column: ColumnName,
  code: 'list_ref_twice' | 'list_units_mixed' | 'list_named_twice',
  message: string,
  remedy: string,
): Problem {
  const { from, to } = row.cells.get(column) ?? { from: row.from, to: row.from };
  return source.problem(code, from, to, message, remedy);
}
