/**
 * Where it leaks: the failed leak tests that stand, the parts that the record acquits, and the rest ranked. Pure.
 *
 * A hold is evidence on three parts: machine, circuit, and the bag where it was named by id. A counting pass says that none
 * of them leaked then; a failure says that at least one did. A part that passed in any pair since a failure is cleared of it.
 */
import { classOf, type Inventory } from '../inventory/inventory.ts';
import { isProof } from './counting.ts';
import { standingFailure } from './pair-hold.ts';
import type { HoldDone, Standing } from './standing-types.ts';

export interface Part {
  readonly kind: 'bag' | 'circuit' | 'machine';
  readonly id: string;
}

/** A part that may leak. */
interface Suspect {
  readonly part: Part;
  /** Whether this part alone explains every failure of the group. */
  readonly alone: boolean;
  /** How many of the group's failures it can explain. */
  readonly explains: number;
  /** With how many other parts it explains the group as a pair of leaks, where neither does alone. */
  readonly withAnother: number;
}

interface Cleared {
  readonly part: Part;
  /** The pass that acquits it. */
  readonly by: HoldDone;
  /** A machine that failed with a circle and passed with a T-piece or Bain: its absorber and valves were not in that test. */
  readonly exceptCircle: boolean;
}

/** Failures that hang together by parts still under suspicion. */
export interface SuspectGroup {
  /** In the order in which they were done. */
  readonly failures: readonly HoldDone[];
  readonly cleared: readonly Cleared[];
  /** Most suspect first; empty where every part passed elsewhere since. */
  readonly suspects: readonly Suspect[];
  /** The fewest leaks that explain all failures; null: more than two, or none of these parts. */
  readonly leaks: 1 | 2 | null;
  /** Every smallest set of leaking parts that explains all failures. */
  readonly explanations: readonly (readonly Part[])[];
}

/** A failure with the parts that may have caused it and those that passed since. */
interface Case {
  readonly failure: HoldDone;
  readonly suspects: readonly Part[];
  readonly cleared: readonly Cleared[];
}

/**
 * The failed leak tests that stand, in groups, with the suspects of each.
 *
 * @example findSuspects(standing, inventory)[0]?.suspects[0]?.part.id //=> 'theatre-1'
 */
export function findSuspects(standing: Standing, inventory: Inventory): SuspectGroup[] {
  const lastPasses = passesByPart(standing, inventory);
  const cases: Case[] = [];
  for (const pair of standing.pairs.values()) {
    const failure = standingFailure(pair, inventory);
    if (failure !== null) cases.push(examine(failure, lastPasses, inventory));
  }
  cases.sort((a, b) => a.failure.done.order - b.failure.done.order);
  return groupsOf(cases).map(rank);
}

/** The parts that a hold tests. @example partsOf(entry, inventory) //=> bag, circuit, machine */
export function partsOf({ entry }: HoldDone, inventory: Inventory): Part[] {
  const circuit: Part = { kind: 'circuit', id: entry.circuit };
  const machine: Part = { kind: 'machine', id: entry.machine };
  if (entry.reason === 'pop_off_stuck') return [popOffOwner(circuit, machine, inventory)];
  return [
    ...(entry.bag?.id === undefined ? [] : [{ kind: 'bag', id: entry.bag.id } as const]),
    circuit,
    machine,
  ];
}

/** A circle's pop-off sits on the machine; a T-piece and a Bain have their own. */
function popOffOwner(circuit: Part, machine: Part, inventory: Inventory): Part {
  return isRebreathing(circuit.id, inventory) ? machine : circuit;
}

function isCircle({ entry }: HoldDone, inventory: Inventory): boolean {
  return isRebreathing(entry.circuit, inventory);
}

function isRebreathing(circuitId: string, inventory: Inventory): boolean {
  const kind = inventory.circuits.find(({ id }) => id === circuitId)?.kind;
  return kind !== undefined && classOf(kind) === 'rebreathing';
}

/** The last counting pass of each part. */
function passesByPart(standing: Standing, inventory: Inventory): ReadonlyMap<string, HoldDone> {
  const passes = new Map<string, HoldDone>();
  for (const hold of [...standing.pairs.values()].flatMap(pair => pair.holds)) {
    if (!isProof(hold.entry, inventory)) continue;
    for (const { id } of partsOf(hold, inventory)) {
      const before = passes.get(id);
      if (before === undefined || before.done.order < hold.done.order) passes.set(id, hold);
    }
  }
  return passes;
}

function examine(failure: HoldDone, lastPasses: ReadonlyMap<string, HoldDone>, inventory: Inventory): Case {
  const suspects: Part[] = [];
  const cleared: Cleared[] = [];
  for (const part of partsOf(failure, inventory)) {
    const by = lastPasses.get(part.id);
    if (by !== undefined && by.done.order > failure.done.order)
      cleared.push({
        part,
        by,
        exceptCircle: part.kind === 'machine' && isCircle(failure, inventory) && !isCircle(by, inventory),
      });
    else suspects.push(part);
  }
  return { failure, suspects, cleared };
}

/** Cases that share a suspect belong together; a case without suspects stands alone. */
function groupsOf(cases: readonly Case[]): Case[][] {
  let groups: Case[][] = [];
  for (const one of cases) {
    const ids = new Set(one.suspects.map(({ id }) => id));
    const touching = groups.filter(group =>
      group.some(({ suspects }) => suspects.some(({ id }) => ids.has(id))),
    );
    groups = [...groups.filter(group => !touching.includes(group)), [...touching.flat(), one]];
  }
  return groups;
}

function rank(cases: readonly Case[]): SuspectGroup {
  const parts = distinct(cases.flatMap(({ suspects }) => suspects));
  const explains = (part: Part) =>
    cases.filter(({ suspects }) => suspects.some(({ id }) => id === part.id)).length;
  const alone = parts.filter(part => explains(part) === cases.length);
  const others = parts.filter(part => !alone.includes(part));
  const together = others.flatMap((a, i) =>
    others
      .slice(i + 1)
      .filter(b => explainTogether(a, b, cases))
      .map(b => [a, b]),
  );
  const suspects = parts.map(part => ({
    part,
    alone: alone.includes(part),
    explains: explains(part),
    withAnother: together.filter(pair => pair.includes(part)).length,
  }));
  const singles = alone.map(part => [part]);
  return {
    failures: cases.map(({ failure }) => failure),
    cleared: distinctCleared(cases),
    suspects: suspects.sort(moreSuspectFirst),
    leaks: singles.length > 0 ? 1 : together.length > 0 ? 2 : null,
    explanations: singles.length > 0 ? singles : together,
  };
}

function explainTogether(a: Part, b: Part, cases: readonly Case[]): boolean {
  return cases.every(({ suspects }) => suspects.some(({ id }) => id === a.id || id === b.id));
}

/** Leaks are found at the bag more often than at the circuit, and there more often than at the machine. */
const HOW_OFTEN: Readonly<Record<Part['kind'], number>> = { bag: 0, circuit: 1, machine: 2 };

function moreSuspectFirst(a: Suspect, b: Suspect): number {
  return (
    Number(b.alone) - Number(a.alone) ||
    b.explains - a.explains ||
    b.withAnother - a.withAnother ||
    HOW_OFTEN[a.part.kind] - HOW_OFTEN[b.part.kind]
  );
}

function distinct(parts: readonly Part[]): Part[] {
  return [...new Map(parts.map(part => [part.id, part])).values()];
}

/** Each part once, unless another failure of the group still holds it under suspicion. */
function distinctCleared(cases: readonly Case[]): Cleared[] {
  const suspected = new Set(cases.flatMap(({ suspects }) => suspects.map(({ id }) => id)));
  const cleared = new Map(cases.flatMap(one => one.cleared.map(entry => [entry.part.id, entry])));
  return [...cleared.values()].filter(({ part }) => !suspected.has(part.id));
}
