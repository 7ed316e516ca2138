/** An inventory and its equipment as they would be if something were taken away. */
import type { Inventory } from '../inventory/inventory.ts';
import type { EquipmentState } from '../plan/request.ts';
import type { Ml } from '../quantity/units.ts';

/** The equipment without some assets, as though they were withdrawn. */
export function withoutAssets(equipment: EquipmentState, taken: readonly string[]): EquipmentState {
  return {
    record: equipment.record,
    outOfService: asset => (taken.includes(asset) ? 'taken away' : equipment.outOfService(asset)),
    hold: (circuit, machine) => equipment.hold(circuit, machine),
    popOffShut: (circuit, machine) => equipment.popOffShut(circuit, machine),
    failedElsewhere: (circuit, machine) => equipment.failedElsewhere(circuit, machine),
    checks: assets => equipment.checks(assets),
    unseenReturn: () => null,
    supplyHoldFailed: supply => equipment.supplyHoldFailed(supply),
    gauge: supply => equipment.gauge(supply),
    wear: asset => equipment.wear(asset),
  };
}

/** The inventory without the bags of a size. */
export function withoutBags(inventory: Inventory, sizeMl: Ml): Inventory {
  return { ...inventory, bags: inventory.bags.filter(bag => bag.sizeMl !== sizeMl) };
}
