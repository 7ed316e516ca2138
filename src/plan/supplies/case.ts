/** What the supplies of a case are worked out from, and how a part says what it lacks. */
import type { Inventory, OxygenSupply } from '../../inventory/inventory.ts';
import type { ReservoirBag } from '../bag.ts';
import type { Pair, Weights } from '../fit.ts';
import type { Flows } from '../flow.ts';
import type { EquipmentState, PlanRequest } from '../request.ts';

/** A pair that was chosen for a patient, with its flows and its bag. */
export interface SupplyCase {
  readonly inventory: Inventory;
  readonly equipment: EquipmentState;
  readonly request: PlanRequest;
  readonly weights: Weights;
  readonly pair: Pair;
  readonly flows: Flows;
  readonly bag: ReservoirBag | null;
  /** The supply that serves: the first in service; null: none is. */
  readonly supply: OxygenSupply | null;
}

/** Something without which a figure cannot be worked out. */
export interface Missing {
  /** What is not known, in words: "the volume of coaxial-1". */
  readonly what: string;
  readonly in: 'inventory' | 'options' | 'record';
  /** What to write or type: "volume_ml", "--minutes N", "holdfast reading ward-e-1 PRESSURE". */
  readonly add: string;
  /** Where it would stand in the inventory: the nearest thing above it that is there. */
  readonly path: string | null;
  readonly line: number | null;
}

/** Figures may be missing; each part says which and why. */
export interface Lacking {
  readonly missing: readonly Missing[];
}

/** A key that the inventory leaves out, below `path`. */
export function missingKey(
  inventory: Pick<Inventory, 'placeOf'>,
  path: string,
  key: string,
  what: string,
): Missing {
  const whole = `${path}/${key.split(':')[0]}`;
  return { what, in: 'inventory', add: key, path: whole, line: inventory.placeOf(whole).line };
}

export function missingOption(add: string, what: string): Missing {
  return { what, in: 'options', add, path: null, line: null };
}

export function missingEntry(add: string, what: string): Missing {
  return { what, in: 'record', add, path: null, line: null };
}

/** What nothing can be known of while the record is damaged: a lost line may have used what would seem to be left. */
export function missingForDamage(what: string): Missing {
  return missingEntry('holdfast record verify', `${what}: the record is damaged`);
}
