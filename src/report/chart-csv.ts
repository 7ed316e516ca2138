/** A chart as a table for a spreadsheet: a row for each band and class, weights and flows unrounded. */
import type { Band, BandService } from '../chart/bands.ts';
import type { Chart } from '../chart/chart.ts';
import { PHASES } from '../inventory/inventory.ts';
import { roundTo } from '../quantity/compare.ts';

const COLUMNS = [
  'from_kg',
  'from_included',
  'to_kg',
  'to_included',
  'status',
  'role',
  'class',
  'circuit',
  'kind',
  'machine',
  ...PHASES.flatMap(phase => [
    `${phase}_low_ml_kg_min`,
    `${phase}_high_ml_kg_min`,
    `${phase}_minimum_applied`,
    `${phase}_set_low_ml_min`,
    `${phase}_set_high_ml_min`,
  ]),
  'bag_ml',
  'bag_large_enough',
  'hold_pressure_cmh2o',
  'hold_seconds',
  'hold_fill',
  'hold_watch',
  'hold_drop_cmh2o',
  'hold_make_up_ml_min',
] as const;

/** The first line of every such file. */
export const CHART_CSV_HEAD = COLUMNS.join(',');

/** RFC 4180 with line feeds. No cell holds text that a person wrote but ids, which need no quotes. */
export function renderChartCsv({ bands }: Chart): string {
  const rows = bands.flatMap(band => [
    ...(band.main === null && band.other !== null ? [] : [row(band, band.main, 'leads')]),
    ...(band.other === null ? [] : [row(band, band.other, 'or')]),
  ]);
  return `${[CHART_CSV_HEAD, ...rows].join('\n')}\n`;
}

function row({ span, outcome }: Band, service: BandService | null, role: 'leads' | 'or'): string {
  const { low, high } = span;
  const weights = [low.edge.kg, low.included, high.edge.kg, high.included, outcome.status];
  if (service === null) return pad(weights);
  const { circuitClass, circuit, machine, phases, flows, leakHold } = service;
  const flowCells = phases.flatMap(({ perKg, minimumApplied }, i) => {
    const flow = flows[i];
    return [
      ...perKg.value,
      minimumApplied,
      ...[flow?.setLowMlPerMin, flow?.setHighMlPerMin].map(set =>
        set === undefined ? '' : roundTo(set, 0.1),
      ),
    ];
  });
  return pad([
    ...weights,
    role,
    circuitClass,
    circuit.id,
    circuit.kind,
    machine.id,
    ...flowCells,
    outcome.bag?.sizeMl ?? '',
    outcome.bag?.isLargeEnough ?? '',
    leakHold.pressureCmH2O,
    leakHold.seconds,
    leakHold.fill,
    leakHold.watch,
    leakHold.dropCmH2O,
    leakHold.makeUpMlPerMin,
  ]);
}

function pad(cells: readonly (string | number | boolean)[]): string {
  return [...cells, ...Array<string>(COLUMNS.length - cells.length).fill('')].join(',');
}
