/** The suspects of a failed leak test, and the best swap, against trying every leak there could be. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry, HoldEntry } from '../../src/generated/entry.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { findSuspects, type SuspectGroup } from '../../src/record/suspects.ts';
import { bestSwap } from '../../src/record/swap.ts';
import { failedHold, hold, larkhill } from './entries.ts';

const inventory = larkhill();

function groupsOf(entries: Entry[]): SuspectGroup[] {
  return findSuspects(foldStanding(inventory, entries), inventory);
}

const CIRCUITS = ['t-piece-1', 'bain-1', 'coaxial-1', 'y-piece-1'];
const MACHINES = ['theatre-1', 'dental'];
const BAGS = ['three-litre-a', 'three-litre-b'];
const UNIVERSE = [...BAGS, ...CIRCUITS, ...MACHINES];

const holds: fc.Arbitrary<HoldEntry[]> = fc
  .array(
    fc.record({
      circuit: fc.constantFrom(...CIRCUITS),
      machine: fc.constantFrom(...MACHINES),
      bag: fc.constantFrom(undefined, ...BAGS),
      how: fc.constantFrom('pass', 'fail', 'fail', 'shut'),
    }),
    { maxLength: 12 },
  )
  .map(drafts =>
    drafts.map(({ circuit, machine, bag, how }, i) => {
      const on = `08:${String(i).padStart(2, '0')}`;
      const given = bag === undefined ? {} : { bag: { size_ml: 3000, id: bag } };
      if (how === 'fail') return failedHold(on, circuit, machine, given);
      return hold(on, circuit, machine, how === 'shut' ? { ...given, pop_off: 'shut' as const } : given);
    }),
  );

function tested(entry: HoldEntry): string[] {
  return [entry.bag?.id, entry.circuit, entry.machine].filter(id => id !== undefined);
}

function counts(entry: HoldEntry): boolean {
  return entry.result === 'pass' && entry.pop_off === 'open';
}

/** The failed last holds that stand: the last of each pair, passes that do not count left out. */
function naiveFailures(entries: HoldEntry[]): number[] {
  return entries.flatMap((entry, i) => {
    const later = entries
      .slice(i + 1)
      .some(
        other =>
          other.circuit === entry.circuit &&
          other.machine === entry.machine &&
          (counts(other) || other.result === 'fail'),
      );
    return entry.result === 'fail' && !later ? [i] : [];
  });
}

/** Whether the leak of these parts, and of no others, agrees with all that was seen of a failure and since. */
function explains(leaking: string[], failure: number, entries: HoldEntry[]): boolean {
  const failed = entries[failure];
  return (
    failed !== undefined &&
    tested(failed).some(
      id =>
        leaking.includes(id) &&
        !entries.slice(failure + 1).some(later => counts(later) && tested(later).includes(id)),
    )
  );
}

function pairsOf<T>(items: readonly T[]): [T, T][] {
  return items.flatMap((a, i) => items.slice(i + 1).map((b): [T, T] => [a, b]));
}

describe('the suspects', () => {
  it('equal a naive enumeration of all single-leak and double-leak explanations of the last holds', () => {
    const seen = { one: 0, two: 0, none: 0 };
    fc.assert(
      fc.property(holds, entries => {
        const groups = groupsOf(entries);
        const indexOf = (id: string) => entries.findIndex(entry => entry.id === id);
        const grouped = groups.map(({ failures }) => failures.map(({ entry }) => indexOf(entry.id)));
        expect(grouped.flat().sort((a, b) => a - b)).toEqual(naiveFailures(entries));

        for (const [g, group] of groups.entries()) {
          const failures = grouped[g] ?? [];
          const all = (leaking: string[]) => failures.every(failure => explains(leaking, failure, entries));
          const singles = UNIVERSE.filter(id => all([id]));
          const doubles = pairsOf(UNIVERSE).filter(([a, b]) => all([a, b]) && !all([a]) && !all([b]));

          expect(
            group.suspects
              .filter(({ alone }) => alone)
              .map(({ part }) => part.id)
              .sort(),
          ).toEqual([...singles].sort());
          for (const { part, explains: count, withAnother } of group.suspects) {
            expect(count).toBe(failures.filter(failure => explains([part.id], failure, entries)).length);
            expect(withAnother).toBe(doubles.filter(pair => pair.includes(part.id)).length);
          }
          expect(group.suspects.map(({ part }) => part.id).sort()).toEqual(
            UNIVERSE.filter(id => failures.some(failure => explains([id], failure, entries))).sort(),
          );
          const smallest = singles.length > 0 ? singles.map(id => [id]) : doubles;
          const sorted = (sets: readonly (readonly string[])[]) =>
            sets.map(set => [...set].sort().join(' ')).sort();
          expect(sorted(group.explanations.map(parts => parts.map(({ id }) => id)))).toEqual(
            sorted(smallest),
          );
          expect(group.leaks).toBe(singles.length > 0 ? 1 : doubles.length > 0 ? 2 : null);
          seen[group.leaks === 1 ? 'one' : group.leaks === 2 ? 'two' : 'none'] += 1;

          // Ranked: no part stands before one that more explanations name.
          const worth = group.suspects.map(({ part }) => [
            singles.includes(part.id) ? 1 : 0,
            failures.filter(f => explains([part.id], f, entries)).length,
          ]);
          for (const [i, [single = 0, count = 0]] of worth.entries()) {
            const [nextSingle = 0, nextCount = 0] = worth[i + 1] ?? [];
            expect(single > nextSingle || (single === nextSingle && count >= nextCount)).toBe(true);
          }
        }
        // Failures of two groups share no part that is still under suspicion.
        for (const [one, other] of pairsOf(groups)) {
          const ids = one.suspects.map(({ part }) => part.id);
          expect(other.suspects.some(({ part }) => ids.includes(part.id))).toBe(false);
        }
      }),
      { numRuns: 3000 },
    );
    // About 110 of the rarest are usual; far fewer would mean that the law was hardly tried.
    expect(Math.min(seen.one, seen.two, seen.none)).toBeGreaterThan(40);
  });

  it('are told apart by the best swap: every explanation falls to one side or the other', () => {
    fc.assert(
      fc.property(holds, entries => {
        const standing = foldStanding(inventory, entries);
        const groups = findSuspects(standing, inventory);
        for (const group of groups) {
          const best = bestSwap(group, groups, standing, inventory);
          if (best === null) continue;
          expect(best.ifPass.length + best.ifFail.length).toBe(group.explanations.length);
          expect(Math.min(best.ifPass.length, best.ifFail.length)).toBeGreaterThan(0);
          expect(groups.some(({ suspects }) => suspects.some(({ part }) => part.id === best.in))).toBe(false);
        }
      }),
    );
  });
});
