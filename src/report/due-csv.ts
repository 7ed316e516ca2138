/** The due report as CSV (RFC 4180) that a spreadsheet opens without running any of it. */
import type { DueReport } from '../due/item.ts';
import { dueDocument } from './due-json.ts';
import { safeText } from './safe-text.ts';

const COLUMNS = [
  'practice',
  'as_of',
  'asset',
  'check',
  'state',
  'due_on',
  'limit',
  'days_overdue',
  'last_done_on',
  'failed_on',
  'blocks',
  'hours_in_use',
  'hours_in_use_limit',
  'gain_g',
  'gain_g_limit',
  'record',
  'because',
] as const;

type Cell = string | number | boolean | null;

/** One line of names, then one for each item; control characters made visible, CRLF after each line. What is not known or does not apply is an empty cell. */
export function renderDueCsv(report: DueReport): string {
  const rows = dueDocument(report).practices.flatMap(({ practice, as_of, record, items }) =>
    items.map(({ used, ...item }) => {
      const cells: Readonly<Record<string, Cell>> = { practice, as_of, record, ...item, ...used };
      return COLUMNS.map(column => csvCell(visible(cells[column] ?? null)));
    }),
  );
  return [COLUMNS, ...rows].map(cells => `${cells.join(',')}\r\n`).join('');
}

function visible(value: Cell): Cell {
  return typeof value === 'string' ? safeText(value) : value;
}

/**
 * One cell. A text that a spreadsheet would take for a formula gets an apostrophe in front, which spreadsheets read as
 * "text follows"; so does one that only begins after blanks, which some trim.
 *
 * @example csvCell('=1+1') //=> "'=1+1"
 */
export function csvCell(value: Cell): string {
  if (value === null) return '';
  if (typeof value !== 'string') return String(value);
  const safe = /^[\t\r\n]|^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
