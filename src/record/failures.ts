/** Which parts stand under suspicion: in a leak test that failed, and in none that passed since. Pure. */
import type { Inventory } from '../inventory/inventory.ts';
import { isProof } from './counting.ts';
import type { HoldDone, Standing } from './standing-types.ts';

/** A part of a pair that failed with another partner. */
export interface PartFailure {
  readonly part: 'circuit' | 'machine';
  readonly id: string;
  /** The partner with which it failed. */
  readonly with: string;
  readonly hold: HoldDone;
}

/**
 * The parts of a pair that were in a failed hold with another partner and have passed with no partner since. A pass of the
 * very pair that failed acquits both of its parts; a pass of one of them elsewhere acquits that one.
 *
 * @example failuresElsewhere(standing, inventory, 'bain-1', 'theatre-1') //=> [{ part: 'circuit', id: 'bain-1', with: 'dental', … }]
 */
export function failuresElsewhere(
  standing: Standing,
  inventory: Inventory,
  circuit: string,
  machine: string,
): PartFailure[] {
  const found: PartFailure[] = [];
  for (const part of ['circuit', 'machine'] as const) {
    const id = part === 'circuit' ? circuit : machine;
    const failure = uncleared(standing, inventory, part, id).findLast(
      ({ entry }) => entry.circuit !== circuit || entry.machine !== machine,
    );
    if (failure === undefined) continue;
    found.push({
      part,
      id,
      with: part === 'circuit' ? failure.entry.machine : failure.entry.circuit,
      hold: failure,
    });
  }
  return found;
}

/** The failed holds of a part since it last passed with any partner, in order. */
function uncleared(
  standing: Standing,
  inventory: Inventory,
  part: 'circuit' | 'machine',
  id: string,
): HoldDone[] {
  const pairs = [...standing.pairs.values()].filter(pair => pair[part] === id);
  const passes = pairs.map(
    ({ holds }) => holds.findLast(({ entry }) => isProof(entry, inventory))?.done.order ?? -1,
  );
  const lastPass = Math.max(-1, ...passes);
  return pairs
    .flatMap(({ holds }) => failuresAfter(holds, lastPass))
    .sort((a, b) => a.done.order - b.done.order);
}

/** From the end, since a record of years has few failures that are not cleared. */
function failuresAfter(holds: readonly HoldDone[], order: number): HoldDone[] {
  const found: HoldDone[] = [];
  for (let i = holds.length - 1; i >= 0; i--) {
    const hold = holds[i];
    if (hold === undefined || hold.done.order < order) break;
    if (hold.entry.result === 'fail') found.push(hold);
  }
  return found;
}
