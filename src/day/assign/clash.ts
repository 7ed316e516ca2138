/**
 * The smallest set of tasks that cannot all be served.
 *
 * A clash is found first (too many tasks for their resources at one moment, or what is left when tasks are taken out one
 * by one). That none is smaller is proved by hitting sets: a clash holds, for every set of tasks that can be served, one of
 * those left out. So the fewest tasks that hit all the sets left out so far either are a clash, and then none is smaller,
 * or can be served and bring one more set left out; and once they are as many as the clash found, that one is the smallest.
 */

import { type Steps, StepsSpent } from './model.ts';
import type { Search } from './search.ts';

export interface Clash {
  /** Indices of the tasks, rising. Whichever of them is taken out, the others can be served. */
  readonly tasks: readonly number[];
  /** Whether it is proved that no clash has fewer tasks; false where the steps were spent before. */
  readonly isSmallest: boolean;
}

/**
 * A clash with the fewest tasks among those of `within`, which cannot all be served.
 *
 * @param steps - for the proof that none is smaller
 * @throws StepsSpent where the search itself runs out of steps
 */
export function smallestClash(search: Search, within: ReadonlySet<number>, steps: Steps): Clash {
  const crowded = search.smallestCrowding(within);
  const found = irreducible(search, crowded ?? within);
  const leftOut: number[][] = [];
  try {
    for (;;) {
      const candidate = smallestHittingSet(leftOut, steps);
      if (candidate.size >= found.length) return { tasks: found, isSmallest: true };
      if (!search.isPossible(candidate)) return { tasks: sorted(candidate), isSmallest: true };
      steps.spend(within.size * STEPS_PER_QUESTION);
      leftOut.push(restOf(search, candidate, within));
    }
  } catch (error) {
    if (error instanceof StepsSpent) return { tasks: found, isSmallest: false };
    throw error;
  }
}

/** Steps to see that one task more can join. */
const STEPS_TO_JOIN = 60;

/** What one question to the search costs of the steps for the proof, to keep it short. */
const STEPS_PER_QUESTION = 10;

/** Takes out one task after another, the latest first, as long as the others still cannot be served. */
function irreducible(search: Search, tasks: ReadonlySet<number>): number[] {
  const left = new Set(tasks);
  for (const index of sorted(tasks).reverse()) {
    left.delete(index);
    if (search.isPossible(left)) left.add(index);
  }
  return sorted(left);
}

/** What stays out when as many tasks as possible, in their order, join those of `core`. */
function restOf(search: Search, core: ReadonlySet<number>, within: ReadonlySet<number>): number[] {
  const served = new Set(core);
  const rest: number[] = [];
  for (const index of within) {
    if (served.has(index)) continue;
    served.add(index);
    // A set left out that is larger than need be proves less, but nothing wrong.
    if (search.isSeenPossible(served, STEPS_TO_JOIN)) continue;
    served.delete(index);
    rest.push(index);
  }
  return rest;
}

/**
 * The fewest members that have one in each of the sets; of several such, one with the earliest members.
 *
 * @throws StepsSpent
 */
export function smallestHittingSet(sets: readonly (readonly number[])[], steps: Steps): Set<number> {
  for (let most = 0; ; most++) {
    const hit = hittingSet(sets, new Set(), most, steps);
    if (hit !== null) return hit;
  }
}

function hittingSet(
  sets: readonly (readonly number[])[],
  chosen: ReadonlySet<number>,
  most: number,
  steps: Steps,
): Set<number> | null {
  steps.spend();
  const open = sets.filter(set => !set.some(member => chosen.has(member)));
  if (open.length === 0) return new Set(chosen);
  if (apart(open) > most) return null;
  // The smallest set leaves the fewest members to try.
  const [first] = [...open].sort((a, b) => a.length - b.length);
  for (const member of sorted(first ?? [])) {
    const hit = hittingSet(open, new Set([...chosen, member]), most - 1, steps);
    if (hit !== null) return hit;
  }
  return null;
}

/** How many sets have no member in common, found one after another: each needs a member of its own. */
function apart(sets: readonly (readonly number[])[]): number {
  const used = new Set<number>();
  let found = 0;
  for (const set of sets) {
    if (set.some(member => used.has(member))) continue;
    for (const member of set) used.add(member);
    found++;
  }
  return found;
}

function sorted(members: Iterable<number>): number[] {
  return [...members].sort((a, b) => a - b);
}
