/** The record as CSV (RFC 4180), one line an entry, that a spreadsheet opens without running any of it. */
import type { Entry } from '../generated/entry.ts';
import { csvCell } from './due-csv.ts';
import type { Shown } from './record-show.ts';
import { safeText } from './safe-text.ts';

const COLUMNS = [
  'id',
  'on',
  'at',
  'station',
  'kind',
  'by',
  'asset',
  'circuit',
  'machine',
  'supply',
  'check',
  'result',
  'reason',
  'pop_off',
  'bag.size_ml',
  'bag.id',
  'fall.from_cmh2o',
  'fall.to_cmh2o',
  'fall.seconds',
  'taut.steady',
  'taut.seconds',
  'make_up.flow_ml_min',
  'make_up.at_cmh2o',
  'leak.ml_min',
  'leak.at_least',
  'rule.pressure_cmh2o',
  'rule.seconds',
  'rule.drop_cmh2o',
  'rule.make_up_ml_min',
  'rule.fall_psi',
  'rule.minutes',
  'from_psi',
  'to_psi',
  'psi',
  'g',
  'new',
  'minutes',
  'flow_ml_min',
  'agent',
  'setting_percent',
  'from_cmh2o',
  'to_cmh2o',
  'seconds',
  'compliance_ml_cmh2o',
  'case',
  'entry',
  'because',
  'note',
  'cancelled_by',
  'inventory',
  'tool',
] as const;

/** A line of names, then the entries, control characters made visible (jsonl has them exactly); a key within another stands as `fall.seconds`. CRLF ends each line. */
export function renderRecordCsv({ entries, cancelledBy }: Shown): string {
  const rows = entries.map(entry => {
    const cells: Record<string, Cell> = {
      ...flat(entry),
      cancelled_by: cancelledBy.get(entry.id)?.id ?? null,
    };
    return COLUMNS.map(column => csvCell(cells[column] ?? null));
  });
  return [COLUMNS, ...rows].map(cells => `${cells.join(',')}\r\n`).join('');
}

type Cell = string | number | boolean | null;

function flat(entry: Entry): Record<string, Cell> {
  const cells: Record<string, Cell> = {};
  const put = (value: unknown, name: string): void => {
    if (typeof value === 'object' && value !== null) {
      for (const [key, inner] of Object.entries(value)) put(inner, name === '' ? key : `${name}.${key}`);
    } else if (typeof value === 'string') cells[name] = safeText(value);
    else if (typeof value === 'number' || typeof value === 'boolean') cells[name] = value;
  };
  put(entry, '');
  return cells;
}
