/** The opening rounds of a day: one a machine that is used, with the circuits that it is first used with. */
import type { Inventory } from '../inventory/inventory.ts';
import type { PlannedCase } from './day.ts';

/** One round: at which machine, and which circuits' checks go with it. */
export interface OpeningRound {
  readonly machine: string;
  /** In the order of the inventory. Empty where none of them has a check in the opening round. */
  readonly circuits: readonly string[];
}

/**
 * The opening rounds in the order of the inventory's machines; none where the practice has no opening round. Each circuit
 * with a check in that round is named once, at the machine of its first case: a check of a circuit is done once a day.
 *
 * @param cases - those that are served, in the order of time
 * @example openingRounds(cases, inventory) //=> [{ machine: 'theatre-1', circuits: ['t-piece-1'] }]
 */
export function openingRounds(cases: readonly PlannedCase[], inventory: Inventory): OpeningRound[] {
  const checks = inventory.checks.filter(({ round }) => round === 'opening');
  if (checks.length === 0) return [];
  const pairs = cases.flatMap(({ plan }) => plan.main?.choice.pair ?? []);
  const machineOf = new Map<string, string>();
  for (const { circuit, machine } of pairs)
    if (!machineOf.has(circuit.id)) machineOf.set(circuit.id, machine.id);
  const hasCheck = (id: string) => checks.some(({ assets }) => assets.includes(id));
  return inventory.machines
    .filter(({ id }) => pairs.some(({ machine }) => machine.id === id))
    .map(({ id: machine }) => ({
      machine,
      circuits: inventory.circuits
        .map(({ id }) => id)
        .filter(id => machineOf.get(id) === machine && hasCheck(id)),
    }));
}
