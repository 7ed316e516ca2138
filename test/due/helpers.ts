import { dueItems } from '../../src/due/due.ts';
import type { DueItem } from '../../src/due/item.ts';
import type { Entry } from '../../src/generated/entry.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { foldStanding } from '../../src/record/standing.ts';

const LARKHILL = 'test/scenarios/fixtures/due.yaml';

export function larkhill(): Inventory {
  return ensureInventory(LARKHILL, () => '2026-11-25');
}

/** The one item of an asset and a check, on Wednesday 25 November 2026 where nothing else is said. */
export function itemOf(
  asset: string,
  check: string,
  entries: readonly Entry[],
  { asOf = '2026-11-25', soonDays = 7, inventory = larkhill() } = {},
): DueItem {
  const items = dueItems({ inventory, standing: foldStanding(inventory, entries), asOf, soonDays });
  const [item, ...others] = items.filter(found => found.asset.id === asset && found.check.id === check);
  if (item === undefined || others.length > 0)
    throw new Error(`${others.length} too many, or none: ${asset} ${check}`);
  return item;
}
