/** A day's plan as CSV (RFC 4180), one line a case, that a spreadsheet opens without running any of it. */
import type { Day } from '../day/day.ts';
import { dayDocument } from './day-json.ts';
import { csvCell } from './due-csv.ts';

const COLUMNS = [
  'ref',
  'start',
  'end',
  'minutes',
  'state',
  'machine',
  'circuit',
  'bag_ml',
  'bag',
  'species',
  'weight_kg',
  'induction_ml_min',
  'maintenance_ml_min',
  'recovery_ml_min',
  'before',
  'stops',
  'cautions',
] as const;

type Cells = Readonly<Record<(typeof COLUMNS)[number], string | number | null>>;

/** A line of names, then the cases in the order of their starts; CRLF after each line. */
export function renderDayCsv(day: Day): string {
  const document = dayDocument(day);
  const rows = document.cases.map((one, i): Cells => {
    const plan = day.cases[i]?.plan;
    const phases = one.state === 'planned' ? plan?.main?.flows?.phases : undefined;
    const items = document.morning.find(({ before }) => before === one.ref)?.items ?? [];
    const codes = (level: string) => [
      ...(plan?.cautions ?? []).filter(caution => caution.level === level).map(({ code }) => code),
      ...document.cautions
        .filter(caution => caution.level === level && caution.case === one.ref)
        .map(({ code }) => code),
    ];
    return {
      ref: one.ref,
      start: one.start,
      end: one.end,
      minutes: one.minutes,
      state: one.state,
      machine: one.machine,
      circuit: one.circuit,
      bag_ml: one.bag?.size_ml ?? null,
      bag: one.bag?.which ?? null,
      species: day.cases[i]?.dayCase.species ?? null,
      weight_kg: plan?.request.weightKg ?? null,
      induction_ml_min: phases?.induction.setMlPerMin ?? null,
      maintenance_ml_min: phases?.maintenance.setMlPerMin ?? null,
      recovery_ml_min: phases?.recovery.setMlPerMin ?? null,
      before: items
        .map(({ what, asset, check }) => [what, check, asset].filter(word => word !== null).join(' '))
        .join(';'),
      stops: [...new Set(codes('stop'))].join(' '),
      cautions: [...new Set(codes('caution'))].join(' '),
    };
  });
  return [COLUMNS, ...rows.map(cells => COLUMNS.map(column => csvCell(cells[column])))]
    .map(cells => `${cells.join(',')}\r\n`)
    .join('');
}
