/**
 * The chart of a practice: for every weight what a plan would say, in bands with exact edges.
 *
 *   inventory ─> edges ─> cells (each edge, each stretch between) ─ plan at each ─> outcomes ─> bands, findings
 *
 * Pure: no file, no clock.
 */
import type { Timestamp } from '../calendar/zone.ts';
import type { Inventory } from '../inventory/inventory.ts';
import type { EquipmentState } from '../plan/request.ts';
import { type Band, bandsOf, type PlannedCell } from './bands.ts';
import { edgesOf } from './edges.ts';
import { type Finding, findingsOf, type Replan } from './findings.ts';
import { type Cell, cellsBetween } from './grid.ts';
import { type ChartRequest, outcomeAt } from './outcome.ts';
import { type LabelStepG, labelStepFor } from './span.ts';

/** An asset that the record holds back. */
export interface OutOfService {
  readonly asset: string;
  readonly because: string;
}

export interface Chart {
  readonly at: Timestamp;
  readonly inventory: Inventory;
  readonly request: ChartRequest;
  readonly record: EquipmentState['record'];
  readonly entriesInFuture: EquipmentState['entriesInFuture'];
  readonly bands: readonly Band[];
  readonly findings: readonly Finding[];
  readonly outOfService: readonly OutOfService[];
  /** The pairs that failed their leak test and have not passed since. */
  readonly failedPairs: readonly OutOfService[];
  /** To what the edges are printed; the bands keep them exact. */
  readonly labelStepG: LabelStepG;
}

/**
 * Draws up the chart.
 *
 * @param labelStep - to what the edges are printed, for charts that are to be compared; else as the chart itself asks
 * @example chartOf(inventory, NO_RECORD, { fromKg: kg(0.5), toKg: kg(80), species: null, machine: null }, at).bands.length
 */
export function chartOf(
  inventory: Inventory,
  equipment: EquipmentState,
  request: ChartRequest,
  at: Timestamp,
  labelStep: LabelStepG | null = null,
): Chart {
  const edges = edgesOf(inventory, request);
  const labelStepG = labelStep ?? labelStepFor(edges);
  const cells = planCells(cellsBetween(edges), inventory, equipment, request, at);
  const replan: Replan = (cell, otherInventory, otherEquipment) =>
    outcomeAt(cell.sampleKg, otherInventory, otherEquipment, request, at);
  return {
    at,
    inventory,
    request,
    record: equipment.record,
    entriesInFuture: equipment.entriesInFuture,
    bands: bandsOf(cells, inventory, request.species),
    findings: findingsOf(cells, inventory, equipment, replan, labelStepG),
    outOfService: outOfService(inventory, equipment),
    failedPairs: failedPairs(inventory, equipment),
    labelStepG,
  };
}

/** The bands alone, for whoever needs no findings. */
export function bandsFor(
  inventory: Inventory,
  equipment: EquipmentState,
  request: ChartRequest,
  at: Timestamp,
): Band[] {
  const cells = cellsBetween(edgesOf(inventory, request));
  return bandsOf(planCells(cells, inventory, equipment, request, at), inventory, request.species);
}

export function planCells(
  cells: readonly Cell[],
  inventory: Inventory,
  equipment: EquipmentState,
  request: ChartRequest,
  at: Timestamp,
): PlannedCell[] {
  return cells.map(cell => ({
    ...cell,
    outcome: outcomeAt(cell.sampleKg, inventory, equipment, request, at),
  }));
}

/** Whether some weight of the chart has no circuit, so that somebody must act. */
export function hasGap({ findings }: Pick<Chart, 'findings'>): boolean {
  return findings.some(({ kind }) => kind === 'gap' || kind === 'leading_class_missing');
}

function outOfService({ assets }: Inventory, equipment: EquipmentState): OutOfService[] {
  return [...assets.keys()].flatMap(asset => {
    const because = equipment.outOfService(asset);
    return because === null ? [] : [{ asset, because }];
  });
}

function failedPairs({ circuits, machines }: Inventory, equipment: EquipmentState): OutOfService[] {
  return circuits.flatMap(circuit =>
    machines.flatMap(machine => {
      const { state, last } = equipment.hold(circuit.id, machine.id);
      if (state !== 'failed') return [];
      return [
        { asset: `${circuit.id} on ${machine.id}`, because: `failed its leak test: ${last?.words ?? ''}` },
      ];
    }),
  );
}
