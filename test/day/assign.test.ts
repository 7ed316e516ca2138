import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { smallestClash, smallestHittingSet } from '../../src/day/assign/clash.ts';
import { type Resource, Steps, type Task } from '../../src/day/assign/model.ts';
import { Search } from '../../src/day/assign/search.ts';
import { isSound, preferredByForce, smallestClashByForce } from './brute-force.ts';

const REST = 2;

/** A small practice: machines and circuits of which there is one each, and a supply that several machines share. */
const practices = fc.record({
  machines: fc.integer({ min: 1, max: 3 }),
  circuits: fc.integer({ min: 1, max: 3 }),
  supply: fc.integer({ min: 2, max: 6 }),
  bags: fc.integer({ min: 1, max: 2 }),
  tasks: fc.array(
    fc.record({
      start: fc.integer({ min: 0, max: 12 }),
      minutes: fc.integer({ min: 1, max: 6 }),
      fits: fc.array(fc.boolean(), { minLength: 9, maxLength: 9 }),
      flow: fc.integer({ min: 1, max: 4 }),
      larger: fc.boolean(),
    }),
    { minLength: 1, maxLength: 5 },
  ),
});

type PracticeDraft = (typeof practices)['generate'] extends (...args: never[]) => { value: infer T }
  ? T
  : never;

function equipmentTasks({ machines, circuits, supply, tasks }: PracticeDraft): Task[] {
  const one = (group: string): Resource => ({ group, capacity: 1, restMinutes: REST });
  const allMachines = Array.from({ length: machines }, () => one('machine'));
  const allCircuits = Array.from({ length: circuits }, () => one('circuit'));
  const shared: Resource = { group: 'supply', capacity: supply, restMinutes: 0 };
  return tasks.map(({ start, minutes, fits, flow }) => ({
    start,
    end: start + minutes,
    options: allCircuits.flatMap((circuit, c) =>
      allMachines.flatMap((machine, m) => {
        if (!fits[c * 3 + m]) return [];
        // The last machine has a supply of its own.
        const oxygen = m === 2 ? [] : [{ resource: shared, amount: flow }];
        return [[{ resource: circuit, amount: 1 }, { resource: machine, amount: 1 }, ...oxygen]];
      }),
    ),
  }));
}

function bagTasks({ bags, tasks }: PracticeDraft): Task[] {
  const sizes = [bags, 1].map((capacity): Resource => ({ group: 'bag', capacity, restMinutes: REST }));
  return tasks.map(({ start, minutes, larger }) => ({
    start,
    end: start + minutes,
    options: sizes.slice(larger ? 1 : 0).map(resource => [{ resource, amount: 1 }]),
  }));
}

const plenty = () => new Steps(1_000_000);

describe('Search', () => {
  for (const [name, tasksOf] of [
    ['machines, circuits and a shared supply', equipmentTasks],
    ['bags of which there are several', bagTasks],
  ] as const) {
    it(`gives the preferred way or none, as trying everything does: ${name}`, () => {
      fc.assert(
        fc.property(practices, practice => {
          const tasks = tasksOf(practice);
          const found = new Search(tasks, plenty()).preferred();
          expect(found).toEqual(preferredByForce(tasks));
          if (found !== null) expect(isSound(tasks, found)).toBe(true);
        }),
        { numRuns: 2000 },
      );
    });

    it(`names a clash as small as trying everything finds, of which no task can be left out: ${name}`, () => {
      fc.assert(
        fc.property(practices, practice => {
          const tasks = tasksOf(practice);
          const smallest = smallestClashByForce(tasks);
          fc.pre(smallest !== null);
          const search = new Search(tasks, plenty());
          const clash = smallestClash(search, new Set(tasks.keys()), plenty());
          expect(clash.isSmallest).toBe(true);
          expect(clash.tasks.length).toBe(smallest);
          expect(preferredByForce(clash.tasks.flatMap(i => tasks[i] ?? []))).toBeNull();
        }),
        { numRuns: 500 },
      );
    });
  }

  it('answers for some of the tasks as if there were no others', () => {
    fc.assert(
      fc.property(practices, fc.integer({ min: 0, max: 31 }), (practice, bits) => {
        const tasks = equipmentTasks(practice);
        const some = [...tasks.keys()].filter(i => (bits >> i) & 1);
        const isPossible = new Search(tasks, plenty()).isPossible(new Set(some));
        expect(isPossible).toBe(preferredByForce(some.flatMap(i => tasks[i] ?? [])) !== null);
      }),
    );
  });

  it('gives up aloud when its steps are spent', () => {
    const machine: Resource = { group: 'machine', capacity: 1, restMinutes: 0 };
    const task = (start: number): Task => ({
      start,
      end: start + 1,
      options: [[{ resource: machine, amount: 1 }]],
    });
    expect(() => new Search([task(0), task(1), task(2)], new Steps(2)).preferred()).toThrow('given up');
  });
});

describe('smallestHittingSet', () => {
  it('has a member in each set, and as few as there can be', () => {
    expect([...smallestHittingSet([[1, 2], [2, 3], [3, 4], [4]], plenty())].sort()).toEqual([2, 4]);
    expect(smallestHittingSet([], plenty()).size).toBe(0);
  });
});
