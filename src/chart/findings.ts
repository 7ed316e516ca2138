/**
 * What a chart shows at a second look: weights that nothing serves, weights that both classes serve, and assets on which
 * alone a stretch of weights depends.
 */

import type { Inventory } from '../inventory/inventory.ts';
import { stockedSizes } from '../plan/bag.ts';
import { CLASS_WORDS, supplyOf } from '../plan/fit.ts';
import type { EquipmentState } from '../plan/request.ts';
import { otherClass } from '../plan/zone.ts';
import { formatVolume } from '../quantity/format.ts';
import type { PlannedCell } from './bands.ts';
import type { Outcome } from './outcome.ts';
import { describeSpan, joinNeighbours, type LabelStepG, type Span } from './span.ts';
import { withoutAssets, withoutBags } from './take-away.ts';

export type FindingKind =
  | 'gap'
  | 'leading_class_missing'
  | 'bag_missing'
  | 'overlap'
  | 'single_point_of_failure';

export interface Finding {
  readonly kind: FindingKind;
  readonly span: Span;
  /** The id of the asset on which the stretch depends; null where the finding is not of one. */
  readonly asset: string | null;
  /** In words: "only bain-1 serves over 5 to below 7 kg". */
  readonly message: string;
}

/** How an outcome would be with other equipment or another inventory. */
export type Replan = (cell: PlannedCell, inventory: Inventory, equipment: EquipmentState) => Outcome;

/** @param stepG - to what the weights in the messages are given */
export function findingsOf(
  cells: readonly PlannedCell[],
  inventory: Inventory,
  equipment: EquipmentState,
  replan: Replan,
  stepG: LabelStepG,
): Finding[] {
  return [
    ...gaps(cells, stepG),
    ...leadingClassMissing(cells, inventory, stepG),
    ...bagsMissing(cells, stepG),
    ...overlaps(cells, stepG),
    ...singlePoints(cells, inventory, equipment, replan, stepG),
    ...singleBags(cells, inventory, equipment, replan, stepG),
  ];
}

function gaps(cells: readonly PlannedCell[], stepG: LabelStepG): Finding[] {
  return stretches(cells, ({ outcome }) => outcome.status === 'none').map(span => ({
    kind: 'gap',
    span,
    asset: null,
    message: `no circuit in service ${describeSpan(span, stepG)}`,
  }));
}

function leadingClassMissing(
  cells: readonly PlannedCell[],
  { rules }: Inventory,
  stepG: LabelStepG,
): Finding[] {
  const leading = rules.boundary.between.value;
  return stretches(cells, ({ outcome }) => outcome.status === 'other_class_only').map(span => ({
    kind: 'leading_class_missing',
    span,
    asset: null,
    message: `no ${CLASS_WORDS[leading]} circuit ${describeSpan(span, stepG)}: a plan stops unless a ${CLASS_WORDS[otherClass(leading)]} one is named`,
  }));
}

function bagsMissing(cells: readonly PlannedCell[], stepG: LabelStepG): Finding[] {
  return stretches(cells, isBagMissing).map(span => ({
    kind: 'bag_missing',
    span,
    asset: null,
    message: `no bag large enough in stock ${describeSpan(span, stepG)}`,
  }));
}

function isBagMissing({ outcome: { bag } }: Pick<PlannedCell, 'outcome'>): boolean {
  return bag !== null && !bag.isLargeEnough;
}

function overlaps(cells: readonly PlannedCell[], stepG: LabelStepG): Finding[] {
  return stretches(cells, ({ outcome }) => outcome.main !== null && outcome.other !== null).map(span => ({
    kind: 'overlap',
    span,
    asset: null,
    message: `both classes may serve ${describeSpan(span, stepG)}`,
  }));
}

/** A circuit, machine or supply without which nothing would serve weights that are served now. */
function singlePoints(
  cells: readonly PlannedCell[],
  inventory: Inventory,
  equipment: EquipmentState,
  replan: Replan,
  stepG: LabelStepG,
): Finding[] {
  const kinds = [
    { assets: inventory.circuits, does: 'serves' },
    { assets: inventory.machines, does: 'serves' },
    { assets: inventory.supplies, does: 'gives oxygen' },
  ];
  return kinds.flatMap(({ assets, does }) =>
    assets.flatMap(({ id }): Finding[] => {
      const without = withoutAssets(equipment, [id]);
      // A weight whose pair does not use the asset keeps its pair.
      const isLost = (cell: PlannedCell) =>
        uses(cell.outcome, id, inventory, equipment) && replan(cell, inventory, without).status === 'none';
      return stretches(cells, isLost).map(span => ({
        kind: 'single_point_of_failure',
        span,
        asset: id,
        message: `only ${id} ${does} ${describeSpan(span, stepG)}`,
      }));
    }),
  );
}

function uses(
  { main, other }: Outcome,
  id: string,
  inventory: Inventory,
  equipment: EquipmentState,
): boolean {
  return [main, other].some(
    service =>
      service !== null &&
      (service.circuit.id === id ||
        service.machine.id === id ||
        supplyOf(service.machine, inventory, equipment)?.id === id),
  );
}

/** The last bag of a size, without which nothing in stock would be large enough. */
function singleBags(
  cells: readonly PlannedCell[],
  inventory: Inventory,
  equipment: EquipmentState,
  replan: Replan,
  stepG: LabelStepG,
): Finding[] {
  const single = stockedSizes(inventory, equipment).filter(
    ({ count, ids }) => count - ids.filter(id => equipment.outOfService(id) !== null).length === 1,
  );
  return single.flatMap(({ sizeMl, ids }): Finding[] => {
    const without = withoutBags(inventory, sizeMl);
    const isLost = (cell: PlannedCell) =>
      cell.outcome.bag?.sizeMl === sizeMl &&
      cell.outcome.bag.isLargeEnough &&
      isBagMissing({ outcome: replan(cell, without, equipment) });
    const id = ids.find(bag => equipment.outOfService(bag) === null) ?? null;
    return stretches(cells, isLost).map(span => ({
      kind: 'single_point_of_failure',
      span,
      asset: id,
      message: `only one ${formatVolume(sizeMl)} bag${id === null ? '' : ` (${id})`} is large enough ${describeSpan(span, stepG)}`,
    }));
  });
}

/** The stretches of neighbouring cells for which something holds. */
function stretches(cells: readonly PlannedCell[], holds: (cell: PlannedCell) => boolean): Span[] {
  return joinNeighbours(
    cells.map(cell => ({ span: cell.span, holds: holds(cell) })),
    (a, b) => a.holds === b.holds,
  )
    .filter(({ items: [first] }) => first.holds)
    .map(({ span }) => span);
}
