/** An inventory and its equipment as they would be if something were taken away. */
import type { Inventory } from '../inventory/inventory.ts';
import type { EquipmentState } from '../plan/request.ts';
import type { Ml } from '../quantity/units.ts';

/** The equipment without some assets, as though they were withdrawn. @param equipment a plain object of functions */
export function withoutAssets(equipment: EquipmentState, taken: readonly string[]): EquipmentState {
  return {
    ...equipment,
    outOfService: asset => (taken.includes(asset) ? 'taken away' : equipment.outOfService(asset)),
  };
}

/** The inventory without the bags of a size. */
export function withoutBags(inventory: Inventory, sizeMl: Ml): Inventory {
  return { ...inventory, bags: inventory.bags.filter(bag => bag.sizeMl !== sizeMl) };
}
