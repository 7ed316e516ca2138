/** What a practice owns, as tables for a person or as JSON with the units in the keys. */
import type {
  Absorber,
  BagSize,
  Check,
  Circuit,
  Inventory,
  Machine,
  OxygenSupply,
  Scavenging,
  Vaporizer,
} from '../inventory/inventory.ts';
import { KIND_WORDS } from '../plan/fit.ts';
import { formatFlow, formatGauge, formatNumber, formatVolume } from '../quantity/format.ts';
import { assetsWords, DONE_BY_WORDS, dueWords } from './check-words.ts';
import { safeJson, safeText } from './safe-text.ts';
import { type Column, renderTable } from './table.ts';
import { counted } from './text.ts';

/** One sort of thing: its rows in the inventory, and how a row is shown. */
interface Listing<T> {
  readonly heading: string;
  readonly columns: readonly Column[];
  rows(inventory: Inventory): readonly T[];
  cells(row: T, inventory: Inventory): readonly string[];
  json(row: T): Record<string, unknown>;
}

/** The sorts in the order in which they are listed. */
export const LISTED = [
  'machine',
  'absorber',
  'vaporizer',
  'scavenging',
  'circuit',
  'bag',
  'supply',
  'check',
] as const;
export type Listed = (typeof LISTED)[number];

/**
 * Tables of what there is, one for each sort that has anything.
 *
 * @param isMeant whether an asset, a bag size or a check is to be listed
 */
export function renderInventoryList(
  inventory: Inventory,
  sorts: readonly Listed[],
  isMeant: Meant,
  width: number,
): string {
  const tables = sorts
    .map(sort => LISTINGS[sort](inventory, isMeant).table(width))
    .filter(table => table !== '');
  return tables.join('\n');
}

/** The same as JSON, `holdfast.inventory-list/1`: `items[]` with `type` and the keys of the inventory. */
export function renderInventoryListJson(
  inventory: Inventory,
  sorts: readonly Listed[],
  isMeant: Meant,
): string {
  const items = sorts.flatMap(sort =>
    LISTINGS[sort](inventory, isMeant)
      .json()
      .map(item => ({ type: sort, ...item })),
  );
  const { file, blob, practice } = inventory;
  return `${safeJson({ format: 'holdfast.inventory-list/1', file, blob, practice: practice.name, items }, 2)}\n`;
}

/** Whether something is to be listed, by its JSON pointer. */
export type Meant = (path: string) => boolean;

function listing<T extends { readonly path: string }>({ heading, columns, rows, cells, json }: Listing<T>) {
  return (inventory: Inventory, isMeant: Meant) => {
    const meant = rows(inventory).filter(({ path }) => isMeant(path));
    return {
      table: (width: number) => {
        if (meant.length === 0) return '';
        const texts = meant.map(row => cells(row, inventory).map(safeText));
        return `${heading}\n${indented(renderTable(columns, texts, width - 2))}`;
      },
      json: () => meant.map(json),
    };
  };
}

const indented = (text: string) => text.replace(/^(?=.)/gm, '  ');

const right = (heading: string): Column => ({ heading, align: 'right' });
const left = (...headings: string[]): Column[] => headings.map(heading => ({ heading }));
const known = <T>(value: T | null, show: (value: T) => string) => (value === null ? '-' : show(value));

const MACHINES = listing<Machine>({
  heading: 'Machines',
  columns: [
    ...left('id', 'where', 'drives', 'T-piece, Bain', 'flush to'),
    right('flow to'),
    ...left('oxygen'),
  ],
  rows: ({ machines }) => machines,
  cells: ({ id, location, drives, freshGasOutlet, flushTo, flowmeter, oxygen }) => [
    id,
    location ?? '-',
    drives.map(drive => DRIVE_WORDS[drive]).join(', '),
    OUTLET_WORDS[freshGasOutlet],
    flushTo,
    formatFlow(flowmeter.maxMlPerMin),
    oxygen.join(', '),
  ],
  json: machine => ({
    id: machine.id,
    location: machine.location,
    since: machine.since,
    max_ml_min: machine.flowmeter.maxMlPerMin,
    drives: machine.drives,
    fresh_gas_outlet: machine.freshGasOutlet,
    flush_to: machine.flushTo,
    capnograph: machine.capnograph,
    pressure_gauge: machine.pressureGauge,
    internal_volume_ml: machine.internalVolumeMl,
    oxygen: machine.oxygen,
  }),
});

const DRIVE_WORDS = { circle: 'circle', t_piece: 'T-piece', bain: 'Bain' };
const OUTLET_WORDS = { at_machine: 'at the outlet', at_circle: "at the circle's end", switch: 'by a switch' };

const ABSORBERS = listing<Absorber>({
  heading: 'Absorbers',
  columns: [...left('id', 'machine', 'since'), right('absorbent')],
  rows: ({ machines }) => machines.flatMap(({ absorber }) => absorber ?? []),
  cells: ({ id, machine, since, absorbentG }) => [id, machine, since ?? '-', `${formatNumber(absorbentG)} g`],
  json: ({ id, machine, since, absorbentG }) => ({ id, machine, since, absorbent_g: absorbentG }),
});

const VAPORIZERS = listing<Vaporizer>({
  heading: 'Vaporizers',
  columns: [...left('id', 'machine', 'since', 'agent'), right('least flow')],
  rows: ({ machines }) => machines.flatMap(({ vaporizers }) => vaporizers),
  cells: ({ id, machine, since, agent, minFlowMlPerMin }) => [
    id,
    machine,
    since ?? '-',
    agent,
    known(minFlowMlPerMin, formatFlow),
  ],
  json: ({ id, machine, since, agent, minFlowMlPerMin }) => ({
    id,
    machine,
    since,
    agent,
    min_flow_ml_min: minFlowMlPerMin,
  }),
});

const SCAVENGING = listing<Scavenging>({
  heading: 'Scavenging',
  columns: left('id', 'machine', 'since', 'kind', 'limit'),
  rows: ({ machines }) => machines.flatMap(({ scavenging }) => scavenging ?? []),
  cells: ({ id, machine, since, kind, limitGainG, airBreak }) => [
    id,
    machine,
    since ?? '-',
    kind,
    limitGainG === null
      ? `${airBreak ? 'with' : 'without'} air break`
      : `${formatNumber(limitGainG)} g gained`,
  ],
  json: ({ id, machine, since, kind, limitGainG, airBreak }) => ({
    id,
    machine,
    since,
    kind,
    limit_gain_g: limitGainG,
    air_break: kind === 'active' ? airBreak : null,
  }),
});

const CIRCUITS = listing<Circuit>({
  heading: 'Circuits',
  columns: [
    ...left('id', 'kind'),
    right('weights'),
    ...left('gauge'),
    right('bore'),
    right('volume'),
    right('dead space'),
  ],
  rows: ({ circuits }) => circuits,
  cells: ({ id, kind, weightsKg, pressureGauge, boreMm, volumeMl, deadSpaceMl }) => [
    id,
    KIND_WORDS[kind],
    known(weightsKg, ([low, high]) => `${formatNumber(low)} to ${formatNumber(high)} kg`),
    pressureGauge ? 'own' : '-',
    known(boreMm, bore => `${formatNumber(bore)} mm`),
    known(volumeMl, formatVolume),
    known(deadSpaceMl, volume => `${formatNumber(volume)} mL`),
  ],
  json: circuit => ({
    id: circuit.id,
    kind: circuit.kind,
    since: circuit.since,
    weights_kg: circuit.weightsKg,
    pressure_gauge: circuit.pressureGauge,
    bore_mm: circuit.boreMm,
    volume_ml: circuit.volumeMl,
    dead_space_ml: circuit.deadSpaceMl,
    compliance_ml_cmh2o: circuit.complianceMlPerCmH2O,
  }),
});

const BAGS = listing<BagSize>({
  heading: 'Reservoir bags',
  columns: [right('size'), right('count'), ...left('ids')],
  rows: ({ bags }) => bags,
  cells: ({ sizeMl, count, ids }) => [formatVolume(sizeMl), String(count), ids.join(', ')],
  json: ({ sizeMl, count, ids }) => ({ size_ml: sizeMl, count, ids }),
});

const SUPPLIES = listing<OxygenSupply>({
  heading: 'Oxygen supplies',
  columns: [
    ...left('id', 'kind'),
    right('full'),
    right('gauge when full'),
    right('reserve'),
    right('flow to'),
  ],
  rows: ({ supplies }) => supplies,
  cells: supply => {
    if (supply.kind === 'pipeline') return [supply.id, supply.kind, '-', '-', '-', '-'];
    if (supply.kind === 'concentrator') {
      return [supply.id, supply.kind, '-', '-', '-', formatFlow(supply.maxMlPerMin)];
    }
    const { id, cylinders, capacityL, fullPsi, reservePsi, gaugeUnit } = supply;
    const kind = cylinders === 1 ? 'cylinder' : counted(cylinders, 'cylinder');
    const gauges = [formatGauge(fullPsi, gaugeUnit), formatGauge(reservePsi, gaugeUnit)];
    return [id, kind, `${formatNumber(capacityL)} L`, ...gauges, '-'];
  },
  json: supply => ({
    id: supply.id,
    kind: supply.kind,
    since: supply.since,
    ...(supply.kind === 'concentrator' ? { max_ml_min: supply.maxMlPerMin } : {}),
    ...(supply.kind === 'cylinder'
      ? {
          cylinders: supply.cylinders,
          capacity_l: supply.capacityL,
          full_psi: supply.fullPsi,
          reserve_psi: supply.reservePsi,
          gauge_unit: supply.gaugeUnit,
        }
      : {}),
  }),
});

const CHECKS = listing<Check>({
  heading: 'Checks',
  columns: left('id', 'of', 'due', 'done by', 'round'),
  rows: ({ checks }) => checks,
  cells: (check, inventory) => [
    check.id,
    assetsWords(check.assets.flatMap(id => inventory.assets.get(id) ?? [])),
    dueWords(check),
    DONE_BY_WORDS[check.doneBy],
    [check.round?.replace('_', ' '), check.blocks ? 'blocks plans' : null].filter(Boolean).join('; ') || '-',
  ],
  json: check => ({
    id: check.id,
    assets: check.assets,
    every: check.every,
    after: { hours_in_use: check.after.hoursInUse, gain_g: check.after.gainG },
    counted_from: check.countedFrom,
    starting: check.starting,
    done_by: check.doneBy,
    blocks: check.blocks,
    round: check.round,
    text: check.text,
  }),
});

const LISTINGS: Readonly<Record<Listed, ReturnType<typeof listing>>> = {
  machine: MACHINES,
  absorber: ABSORBERS,
  vaporizer: VAPORIZERS,
  scavenging: SCAVENGING,
  circuit: CIRCUITS,
  bag: BAGS,
  supply: SUPPLIES,
  check: CHECKS,
};
