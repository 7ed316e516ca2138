/** The rows of a YAML list: `patients:` and below it a group of keys for each. The keys are the columns of the CSV list. */
import { type Located, type ParsedDocument, parseYaml } from '../../inventory/parse.ts';
import type { Source } from '../../inventory/source.ts';
import { didYouMean, nearest } from '../../problem/nearest.ts';
import type { Problem } from '../../problem/problem.ts';
import { type Cell, COLUMNS, type ColumnName, columnOf, type ListRow, REQUIRED } from './cells.ts';

const SHAPE =
  'write patients: and below it, for each, - { ref: …, species: …, weight: …, start: "08:30", minutes: … }';

export function yamlRows(source: Source): ListRow[] | Problem[] {
  const document = parseYaml(source);
  if (Array.isArray(document)) return document;
  const { value } = document;
  const patients = isGroup(value) ? value.patients : undefined;
  if (!isGroup(value) || !Array.isArray(patients)) {
    return [
      source.problem('list_shape', 0, 1, 'a list begins with patients: and has a group for each', SHAPE),
    ];
  }
  const unknown = Object.keys(value).filter(key => key !== 'patients');
  const problems = unknown.map(key => {
    const { start, end } = keyOf(document, `/${pointerName(key)}`);
    return source.problem(
      'list_column_unknown',
      start,
      end,
      `there is no key '${key}' here`,
      'the list has patients: alone',
    );
  });
  const rows: ListRow[] = [];
  for (const [i, patient] of patients.entries()) {
    const row = patientRow(document, patient, `/patients/${i}`);
    if (Array.isArray(row)) problems.push(...row);
    else rows.push(row);
  }
  return problems.length > 0 ? problems : rows;
}

function patientRow(document: ParsedDocument, patient: unknown, pointer: string): ListRow | Problem[] {
  const { source } = document;
  const { start, end } = document.locate(pointer).value;
  if (!isGroup(patient))
    return [source.problem('list_shape', start, end, 'a patient is a group of keys', SHAPE)];
  const problems: Problem[] = [];
  const cells = new Map<ColumnName, Cell>();
  for (const [key, value] of Object.entries(patient)) {
    const path = `${pointer}/${pointerName(key)}`;
    const column = columnOf(key);
    const name = keyOf(document, path);
    const at = document.locate(path).value;
    if (column === undefined) {
      const message = `there is no key '${key}'`;
      problems.push(
        source.problem('list_column_unknown', name.start, name.end, message, didYouMean(key, COLUMNS)),
      );
    } else if (cells.has(column)) {
      problems.push(
        source.problem('list_column_twice', name.start, name.end, `${column} stands twice`, 'keep one'),
      );
    } else if (typeof value === 'object' && value !== null) {
      problems.push(source.problem('list_shape', at.start, at.end, `${column} is a single value`, SHAPE));
    } else {
      cells.set(column, { text: textOf(source, value, at), from: at.start, to: at.end });
    }
  }
  const meant = Object.keys(patient).map(key => nearest(key, COLUMNS));
  for (const column of REQUIRED) {
    // A name that is nearly this one has been named already.
    if (cells.has(column) || meant.includes(column)) continue;
    problems.push(
      source.problem('list_column_missing', start, start + 1, `${column} is missing`, `add ${column}:`),
    );
  }
  return problems.length > 0 ? problems : { cells, from: start };
}

/** A number as it was written: 1e3, 0x10 and 1_0 must not slip in as the number that YAML makes of them. */
function textOf(source: Source, value: unknown, { start, end }: { start: number; end: number }): string {
  if (value === null || value === undefined) return '';
  return typeof value === 'string' ? value : source.text.slice(start, end).trim();
}

function keyOf(document: ParsedDocument, pointer: string): NonNullable<Located['key']> {
  const { key, value } = document.locate(pointer);
  return key ?? value;
}

function pointerName(key: string): string {
  return key.replaceAll('~', '~0').replaceAll('/', '~1');
}

function isGroup(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
