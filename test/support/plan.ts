/** Planning in a test: a request with everything left out that the test does not name, and a record made up for it. */
import type { Inventory } from '../../src/inventory/inventory.ts';
import { type Plan, planCase } from '../../src/plan/plan.ts';
import {
  type CheckTrouble,
  type EquipmentState,
  type HoldState,
  NO_RECORD,
  type PlanRequest,
  requestFor,
} from '../../src/plan/request.ts';
import { kg } from '../../src/quantity/units.ts';

const AT = '2026-11-25T08:14:03+00:00';

/** @example planFor(practice(), 6.8).main?.choice.pair?.circuit.id //=> 'bain-1' */
export function planFor(
  inventory: Inventory,
  weightKg: number,
  wishes: Partial<PlanRequest> = {},
  equipment: EquipmentState = NO_RECORD,
): Plan {
  return planCase(inventory, equipment, requestFor(kg(weightKg), wishes), AT);
}

/** The codes of a plan's cautions, in their order. */
export const codesOf = ({ cautions }: Plan): string[] => cautions.map(({ code }) => code);

/** "bain-1 on theatre-1", or null where no pair fits. */
export function pairOf({ main }: Plan): string | null {
  const pair = main?.choice.pair;
  return pair ? `${pair.circuit.id} on ${pair.machine.id}` : null;
}

/** What a made-up record says. Pairs are written "bain-1 theatre-1". */
export interface Known {
  readonly outOfService?: Readonly<Record<string, string>>;
  readonly holds?: Readonly<Record<string, HoldState['state']>>;
  readonly popOffShut?: Readonly<Record<string, string>>;
  readonly failedElsewhere?: Readonly<Record<string, readonly string[]>>;
  readonly checks?: readonly CheckTrouble[];
  readonly supplyHoldFailed?: Readonly<Record<string, string>>;
  readonly record?: EquipmentState['record'];
}

/** A record that was read and says this; of everything else it says nothing. */
export function knowing(known: Known = {}): EquipmentState {
  const pair = (circuit: string, machine: string) => `${circuit} ${machine}`;
  return {
    ...NO_RECORD,
    record: known.record ?? 'read',
    outOfService: asset => known.outOfService?.[asset] ?? null,
    hold: (circuit, machine) => {
      const state = known.holds?.[pair(circuit, machine)] ?? 'needed';
      if (state === 'needed') return { state, last: null, because: null };
      const result = state === 'held' ? 'pass' : 'fail';
      const words = state === 'held' ? 'held 20 cmH2O for 10 s' : 'fell from 20 to 14 cmH2O in 10 s';
      return { state, last: { entry: 'e1', on: AT, by: 'mk', result, words }, because: null };
    },
    popOffShut: (circuit, machine) => {
      const because = known.popOffShut?.[pair(circuit, machine)];
      return because === undefined
        ? null
        : { because, circuit, answer: `holdfast sign-off ${circuit} pop-off-open` };
    },
    failedElsewhere: (circuit, machine) => known.failedElsewhere?.[pair(circuit, machine)] ?? [],
    checks: assets => (known.checks ?? []).filter(({ asset }) => assets.includes(asset)),
    supplyHoldFailed: supply => known.supplyHoldFailed?.[supply] ?? null,
  };
}
