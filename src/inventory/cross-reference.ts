/**
 * The cross-reference stage: what no schema can see. An ordered list of checks of one signature; each gives all the
 * problems it finds.
 */
import type { InventoryFile } from '../generated/inventory-file.ts';
import { byPlace, type Problem } from '../problem/problem.ts';
import { allAssets } from './build.ts';
import { checkIntervals, checkSelections, checkStarts, checkWays } from './cross-checks/checks.ts';
import type { CrossCheck, Draft } from './cross-checks/draft.ts';
import {
  bagIds,
  bagSizesTwice,
  danglingSupplies,
  flowmeterMarks,
  supplyPressures,
  undrivenCircuits,
  unusedSupplies,
} from './cross-checks/equipment.ts';
import { idsReserved, idsTwice } from './cross-checks/ids.ts';
import { reversedRanges, sinceInFuture, timeZone } from './cross-checks/practice.ts';
import type { Inventory } from './inventory.ts';
import type { ParsedDocument } from './parse.ts';

const CHECKS: readonly CrossCheck[] = [
  timeZone,
  sinceInFuture,
  reversedRanges,
  idsTwice,
  idsReserved,
  danglingSupplies,
  unusedSupplies,
  supplyPressures,
  undrivenCircuits,
  bagSizesTwice,
  bagIds,
  flowmeterMarks,
  checkSelections,
  checkIntervals,
  checkWays,
  checkStarts,
];

/** All cross-reference problems, in the order of the file. */
export function crossReferenceProblems(
  file: InventoryFile,
  document: ParsedDocument,
  inventory: Inventory,
  todayIn: (timeZone: string) => string | null,
): Problem[] {
  const { machines, circuits, bags, supplies } = inventory;
  const at = (path: string) => ({ path, place: inventory.placeOf(path) });
  const draft: Draft = {
    file,
    document,
    inventory,
    today: todayIn(inventory.practice.timeZone),
    assets: [...allAssets(machines, circuits, bags, supplies, at)],
    problem(code, pointer, message, remedy) {
      const { value } = document.locate(pointer);
      return document.source.problem(code, value.start, value.end, message, remedy);
    },
  };
  return CHECKS.flatMap(check => check(draft)).sort(byPlace);
}
