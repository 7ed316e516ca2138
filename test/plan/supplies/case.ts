/** Cases for the tests of supplies: Larkhill's equipment, a record made of entries, and a request. */
import type { Entry } from '../../../src/generated/entry.ts';
import type { Inventory, Phase } from '../../../src/inventory/inventory.ts';
import { type Plan, planCase } from '../../../src/plan/plan.ts';
import { type EquipmentState, NO_RECORD, type PlanRequest, requestFor } from '../../../src/plan/request.ts';
import type { Supplies } from '../../../src/plan/supplies/supplies.ts';
import { kg, mlPerKgMin, mlPerMin } from '../../../src/quantity/units.ts';
import { foldStanding } from '../../../src/record/standing.ts';
import { foldGauges } from '../../../src/record/supply-use.ts';
import { wearOf } from '../../../src/record/wear.ts';

const AT = '2026-11-25T12:00:00+00:00';

/** A dog of 10 kg: coaxial-1 on theatre-1, 750 mL/min to start and to wake, 500 mL/min in between. */
const DOG_10_KG = requestFor(kg(10), { species: 'dog' });

/** What the entries say of supplies and of what is in service; nothing of leak tests. */
export function equipmentOf(inventory: Inventory, entries: readonly Entry[]): EquipmentState {
  const standing = foldStanding(inventory, entries);
  const gauges = foldGauges(inventory, entries);
  return {
    ...NO_RECORD,
    record: 'read',
    outOfService: id => standing.assets.get(id)?.withdrawn?.because ?? null,
    gauge: id => gauges.get(id) ?? null,
    wear: id => {
      const asset = inventory.assets.get(id);
      return asset?.type === 'absorber' || asset?.type === 'scavenging'
        ? wearOf(inventory, asset, standing.assets.get(id))
        : null;
    },
  };
}

export function plan(
  inventory: Inventory,
  entries: readonly Entry[] | EquipmentState,
  request: Partial<PlanRequest> = {},
): Plan {
  const equipment = 'record' in entries ? entries : equipmentOf(inventory, entries);
  return planCase(inventory, equipment, { ...DOG_10_KG, ...request }, AT);
}

/** The supplies of a plan that has a pair. */
export function supplies(...given: Parameters<typeof plan>): Supplies {
  const made = plan(...given);
  if (made.supplies === null) throw new Error('no pair was chosen');
  return made.supplies;
}

/** The messages of one code. */
export function messages({ cautions }: Plan, code: string): string[] {
  return cautions.filter(caution => caution.code === code).map(({ message }) => message);
}

/** A machine with other properties; its parts and everything else as before. */
export function withMachine(
  inventory: Inventory,
  id: string,
  given: Partial<Inventory['machines'][number]>,
): Inventory {
  const machines = inventory.machines.map(machine =>
    machine.id === id ? { ...machine, ...given } : machine,
  );
  const assets = new Map(inventory.assets);
  for (const machine of machines) {
    for (const part of [machine, machine.absorber, machine.scavenging, ...machine.vaporizers])
      if (part !== null) assets.set(part.id, part);
  }
  return { ...inventory, machines, assets };
}

/** Other flows on circles, in mL/kg/min, and another least flow. */
export function withCircleFlows(
  inventory: Inventory,
  { induction, maintenance, recovery }: Readonly<Record<Phase, readonly [low: number, high: number]>>,
  minimum = 500,
): Inventory {
  const { minimumMlPerMin, mlPerKgMin: perKg } = inventory.rules.freshGasFlow;
  const rule = (phase: Phase, [low, high]: readonly [number, number]) => ({
    ...perKg.rebreathing[phase],
    value: [mlPerKgMin(low), mlPerKgMin(high)] as const,
  });
  const freshGasFlow = {
    minimumMlPerMin: { ...minimumMlPerMin, value: mlPerMin(minimum) },
    mlPerKgMin: {
      ...perKg,
      rebreathing: {
        induction: rule('induction', induction),
        maintenance: rule('maintenance', maintenance),
        recovery: rule('recovery', recovery),
      },
    },
  };
  return { ...inventory, rules: { ...inventory.rules, freshGasFlow } };
}
