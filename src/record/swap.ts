/** The one swap that would tell most about where it leaks. Pure. */
import { classOf, driveOf, type Inventory } from '../inventory/inventory.ts';
import { isCountingPass } from './counting.ts';
import type { HoldDone, Standing } from './standing-types.ts';
import { type Part, partsOf, type SuspectGroup } from './suspects.ts';

/** A leak test to do next: a failed pair with one part exchanged. */
export interface Swap {
  readonly circuit: string;
  readonly machine: string;
  /** What is exchanged, and for what; a bag without an id is exchanged for another of its size. */
  readonly out: Part;
  readonly in: string | null;
  /** The suspects that leak if this test passes, and if it fails: the explanations that are left. */
  readonly ifPass: readonly (readonly Part[])[];
  readonly ifFail: readonly (readonly Part[])[];
  /** Whether the part that comes in has passed its last leak test: only then is a failure sure to be the rest's. */
  readonly proven: boolean;
}

/**
 * The swap that splits the explanations most evenly, with a partner that is itself above suspicion; null where one
 * explanation is left, or none, or nothing to swap with.
 *
 * @param groups - all groups: a suspect of any of them is no partner.
 */
export function bestSwap(
  group: SuspectGroup,
  groups: readonly SuspectGroup[],
  standing: Standing,
  inventory: Inventory,
): Swap | null {
  if (group.explanations.length < 2) return null;
  const shady = new Set(groups.flatMap(({ suspects }) => suspects.map(({ part }) => part.id)));
  const inService = (id: string) => (standing.assets.get(id)?.withdrawn ?? null) === null;
  const candidates = group.failures.flatMap(failure => [...swapsOf(failure, inventory)]);
  const swaps = candidates
    .filter(({ in: incoming, circuit, machine }) => {
      const others = [circuit, machine].every(inService);
      return others && (incoming === null || (!shady.has(incoming) && inService(incoming)));
    })
    .map(candidate => foretell(candidate, group, standing))
    .filter(({ ifPass, ifFail }) => ifPass.length > 0 && ifFail.length > 0);
  return swaps.sort(tellsMoreFirst)[0] ?? null;
}

interface Candidate {
  readonly circuit: string;
  readonly machine: string;
  readonly out: Part;
  readonly in: string | null;
  /** The parts that the test would then test, as far as the failed test tested them. */
  readonly kept: readonly Part[];
}

function* swapsOf(failure: HoldDone, inventory: Inventory): Generator<Candidate> {
  const { circuit, machine } = failure.entry;
  const parts = partsOf(failure, inventory);
  const kind = inventory.circuits.find(({ id }) => id === circuit)?.kind;
  const drives = inventory.machines.find(({ id }) => id === machine)?.drives ?? [];
  for (const out of parts) {
    const kept = parts.filter(part => part !== out);
    if (out.kind === 'bag') yield { circuit, machine, out, in: null, kept };
    if (out.kind === 'machine' && kind !== undefined) {
      for (const other of inventory.machines) {
        if (other.id !== machine && other.drives.includes(driveOf(kind)))
          yield { circuit, machine: other.id, out, in: other.id, kept };
      }
    }
    if (out.kind === 'circuit' && kind !== undefined) {
      for (const other of inventory.circuits) {
        // A Bain does not breathe through the absorber and valves of a circle, so that it could tell nothing of them.
        const alike = classOf(other.kind) === classOf(kind) && drives.includes(driveOf(other.kind));
        if (other.id !== circuit && alike) yield { circuit: other.id, machine, out, in: other.id, kept };
      }
    }
  }
}

function foretell(
  { kept, ...candidate }: Candidate,
  { explanations }: SuspectGroup,
  standing: Standing,
): Swap {
  const tested = new Set(kept.map(({ id }) => id));
  const isTested = (parts: readonly Part[]) => parts.some(({ id }) => tested.has(id));
  return {
    ...candidate,
    ifFail: explanations.filter(isTested),
    ifPass: explanations.filter(parts => !isTested(parts)),
    proven: candidate.in !== null && lastPassed(candidate.in, standing),
  };
}

function lastPassed(id: string, standing: Standing): boolean {
  const holds = [...standing.pairs.values()]
    .filter(({ circuit, machine }) => circuit === id || machine === id)
    .flatMap(pair => pair.holds)
    .sort((a, b) => a.done.order - b.done.order);
  const last = holds.at(-1);
  return last !== undefined && isCountingPass(last.entry);
}

/** The most even split first; then another bag, done in a moment; then a proven partner; then what is quicker to change. */
function tellsMoreFirst(a: Swap, b: Swap): number {
  const left = (swap: Swap) => Math.max(swap.ifPass.length, swap.ifFail.length);
  const isBag = (swap: Swap) => Number(swap.out.kind === 'bag');
  return (
    left(a) - left(b) ||
    isBag(b) - isBag(a) ||
    Number(b.proven) - Number(a.proven) ||
    EFFORT[a.out.kind] - EFFORT[b.out.kind]
  );
}

const EFFORT: Readonly<Record<Part['kind'], number>> = { bag: 0, circuit: 1, machine: 2 };
