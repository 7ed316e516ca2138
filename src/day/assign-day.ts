/**
 * The cases of a day → who gets what. Circuits and machines go together and are assigned as pairs; bags are assigned by
 * themselves, because no pair needs a bag of its own: what is best for each of the two is best for both.
 */
import type { BagSize, Inventory } from '../inventory/inventory.ts';
import type { EquipmentState } from '../plan/request.ts';
import { type Clash, smallestClash } from './assign/clash.ts';
import { type Option, type Resource, type Solution, Steps, type Task } from './assign/model.ts';
import { Search } from './assign/search.ts';
import type { Candidates } from './candidates.ts';
import { type DayCase, startMinute } from './day-case.ts';

/** A case that can be served by something, with what may serve it. */
export interface Entrant {
  readonly dayCase: DayCase;
  readonly candidates: Candidates;
}

/** The resources of a practice, by what they are. */
export class Stock {
  readonly #resources = new Map<string, Resource>();
  readonly #inventory: Inventory;
  readonly #equipment: EquipmentState;
  readonly #more: string | null;

  /** @param more - the key of one thing of which there is one more than the practice has: for a "what if" */
  constructor(inventory: Inventory, equipment: EquipmentState, more: string | null = null) {
    this.#inventory = inventory;
    this.#equipment = equipment;
    this.#more = more;
  }

  item(group: 'machine' | 'circuit', id: string): Resource {
    return this.#one(`${group} ${id}`, group, 1, this.#inventory.rules.turnoverMinutes.value);
  }

  bag(sizeMl: number): Resource {
    const size = this.#inventory.bags.find(bag => bag.sizeMl === sizeMl);
    const count = size === undefined ? 0 : bagsInService(size, this.#equipment).length;
    return this.#one(`bag ${sizeMl}`, 'bag', count, this.#inventory.rules.turnoverMinutes.value);
  }

  supply(id: string, mostMlPerMin: number): Resource {
    return this.#one(`supply ${id}`, 'supply', mostMlPerMin, 0);
  }

  #one(key: string, group: string, count: number, restMinutes: number): Resource {
    const capacity = count + (key === this.#more ? 1 : 0);
    const resource = this.#resources.get(key) ?? { group, capacity, restMinutes };
    this.#resources.set(key, resource);
    return resource;
  }
}

/** The single bags of a size that are in service: their ids, or their numbers where they have none. */
export function bagsInService({ count, ids }: BagSize, equipment: EquipmentState): (string | number)[] {
  if (ids.length === 0) return Array.from({ length: count }, (_, i) => i + 1);
  return ids.filter(id => equipment.outOfService(id) === null);
}

export type Part = 'pairs' | 'bags';

/** One of the two searches, over the cases that take part in it. */
class PartSearch {
  readonly part: Part;
  readonly #search: Search;
  /** The place of each case among the tasks; cases without a bag take no part in the bags. */
  readonly #taskOf = new Map<number, number>();
  readonly #caseOf: number[] = [];

  constructor(part: Part, entrants: readonly Entrant[], stock: Stock, steps: Steps) {
    this.part = part;
    const tasks: Task[] = [];
    for (const [i, entrant] of entrants.entries()) {
      const options = part === 'pairs' ? pairOptions(entrant, stock) : bagOptions(entrant, stock);
      if (part === 'bags' && options.length === 0) continue;
      this.#taskOf.set(i, tasks.length);
      this.#caseOf.push(i);
      const start = startMinute(entrant.dayCase);
      tasks.push({ start, end: start + entrant.dayCase.minutes, options });
    }
    this.#search = new Search(tasks, steps);
  }

  isPossible(cases: ReadonlySet<number>): boolean {
    return this.#search.isPossible(this.#tasks(cases));
  }

  /** By case; cases that take no part are left out. */
  preferred(cases: ReadonlySet<number>): Map<number, number> | null {
    const solution: Solution | null = this.#search.preferred(this.#tasks(cases));
    if (solution === null) return null;
    return new Map(
      [...cases].flatMap(i => {
        const task = this.#taskOf.get(i);
        return task === undefined ? [] : [[i, solution[task] ?? 0] as const];
      }),
    );
  }

  smallestClash(cases: ReadonlySet<number>, steps: Steps): Clash {
    const clash = smallestClash(this.#search, this.#tasks(cases), steps);
    return { ...clash, tasks: clash.tasks.flatMap(task => this.#caseOf[task] ?? []) };
  }

  #tasks(cases: ReadonlySet<number>): Set<number> {
    return new Set([...cases].flatMap(i => this.#taskOf.get(i) ?? []));
  }
}

function pairOptions({ candidates }: Entrant, stock: Stock): Option[] {
  return candidates.pairs.map(({ pair, draws }) => [
    { resource: stock.item('circuit', pair.circuit.id), amount: 1 },
    { resource: stock.item('machine', pair.machine.id), amount: 1 },
    ...(draws === null
      ? []
      : [{ resource: stock.supply(draws.supply.id, draws.supply.maxMlPerMin), amount: draws.flowMlPerMin }]),
  ]);
}

function bagOptions({ candidates }: Entrant, stock: Stock): Option[] {
  return candidates.bagSizes.map(sizeMl => [{ resource: stock.bag(sizeMl), amount: 1 }]);
}

/** Both searches over the same cases. */
function searchesFor(entrants: readonly Entrant[], stock: Stock, steps: Steps): PartSearch[] {
  return (['pairs', 'bags'] as const).map(part => new PartSearch(part, entrants, stock, steps));
}

/** Whether all of these cases can be served. @throws StepsSpent */
export function canAllBeServed(entrants: readonly Entrant[], stock: Stock, steps: Steps): boolean {
  const all = new Set(entrants.keys());
  return searchesFor(entrants, stock, steps).every(search => search.isPossible(all));
}

export interface Assignment {
  /** The cases that are served. */
  readonly served: ReadonlySet<number>;
  /** The index of the pair and of the bag size of each case served. */
  readonly pairs: ReadonlyMap<number, number>;
  readonly bags: ReadonlyMap<number, number>;
  readonly clashes: readonly DayClash[];
}

export interface DayClash extends Clash {
  readonly part: Part;
  /** The case that is set aside for this clash: its last. */
  readonly setAside: number;
}

/** Steps for all proofs of a day that no clash is smaller. */
const PROOF_STEPS = 10_000;

/**
 * Assigns what can be assigned. As long as not all cases can be served, the smallest clash is named and its last case set
 * aside; what was set aside and still finds room in the end is taken in again, in the order of time.
 *
 * @throws StepsSpent where the search does not come to an end
 */
export function assignDay(entrants: readonly Entrant[], stock: Stock, steps: Steps): Assignment {
  const searches = searchesFor(entrants, stock, steps);
  const proof = new Steps(PROOF_STEPS);
  const served = new Set(entrants.keys());
  const clashes: DayClash[] = [];
  for (;;) {
    const found = searches
      .filter(search => !search.isPossible(served))
      .map(search => ({ ...search.smallestClash(served, proof), part: search.part }))
      .sort((a, b) => a.tasks.length - b.tasks.length)[0];
    const last = found?.tasks.at(-1);
    if (found === undefined || last === undefined) break;
    clashes.push({ ...found, setAside: last });
    served.delete(last);
  }
  for (const { setAside } of [...clashes].sort((a, b) => a.setAside - b.setAside)) {
    served.add(setAside);
    if (!searches.every(search => search.isPossible(served))) served.delete(setAside);
  }
  const inOrder = new Set([...served].sort((a, b) => a - b));
  const [pairs, bags] = searches.map(search => search.preferred(inOrder) ?? new Map<number, number>());
  return { served: inOrder, pairs: pairs ?? new Map(), bags: bags ?? new Map(), clashes };
}
