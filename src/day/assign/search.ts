/**
 * Whether all tasks can be served, and how. An exact search that closes early what cannot lead anywhere: a task takes a
 * resource from those beside it (closing), more tasks crowd into one moment than their resources serve (Hall's marriage
 * theorem, by matching), and of resources that are alike only one is tried.
 */
import { Board, type Choice, type Crowd, type Node, type Slot } from './board.ts';
import { smallestOvercrowding, unservedIn } from './crowd.ts';
import { type Solution, Steps, StepsSpent, type Task } from './model.ts';

export class Search {
  readonly #board: Board;
  #steps: Steps;

  constructor(tasks: readonly Task[], steps: Steps) {
    this.#board = new Board(tasks);
    this.#steps = steps;
  }

  get size(): number {
    return this.#board.nodes.length;
  }

  /**
   * Whether the tasks of these indices alone can all be served.
   *
   * @throws StepsSpent
   */
  isPossible(indices: ReadonlySet<number>): boolean {
    return this.#within(indices, () => this.#solve()) !== null;
  }

  /**
   * Whether so many steps suffice to see that these tasks can all be served. false may mean either.
   */
  isSeenPossible(indices: ReadonlySet<number>, mostSteps: number): boolean {
    const own = this.#steps;
    this.#steps = new Steps(mostSteps);
    try {
      return this.isPossible(indices);
    } catch (error) {
      if (error instanceof StepsSpent) return false;
      throw error;
    } finally {
      this.#steps = own;
    }
  }

  /**
   * The preferred solution: task by task in their order, each takes the first of its options with which all that come
   * after it can still be served. null where there is none.
   *
   * @throws StepsSpent
   */
  preferred(indices: ReadonlySet<number> = this.#all()): Solution | null {
    return this.#within(indices, () => {
      let solution = this.#solve();
      if (solution === null) return null;
      for (const node of this.#board.nodes) {
        if (!node.isActive) continue;
        for (const choice of node.choices) {
          if (!choice.isOpen) continue;
          const mark = this.#board.mark();
          const isPlaced = this.#take(node, choice);
          // What the last solution shows to be possible need not be searched again.
          if (isPlaced && solution[node.index] === choice.index) break;
          const found = isPlaced ? this.#solve() : null;
          if (found !== null) {
            solution = found;
            break;
          }
          this.#board.backTo(mark);
        }
      }
      return solution;
    });
  }

  /**
   * The fewest tasks of one moment that want fewer resources of one group than they are; null where no moment is crowded
   * in this way.
   */
  smallestCrowding(indices: ReadonlySet<number>): Set<number> | null {
    for (const node of this.#board.nodes) node.isActive = indices.has(node.index);
    const crowds = new Set(this.#board.nodes.flatMap(({ crowds }) => crowds));
    const nodes = smallestOvercrowding(crowds, this.#steps);
    return nodes === null ? null : new Set(nodes.map(({ index }) => index));
  }

  #all(): Set<number> {
    return new Set(this.#board.nodes.keys());
  }

  /** Asks about these tasks alone; null at once where some moment is too crowded. */
  #within(indices: ReadonlySet<number>, ask: () => Solution | null): Solution | null {
    for (const node of this.#board.nodes) node.isActive = indices.has(node.index);
    const mark = this.#board.mark();
    try {
      const crowds = new Set(this.#board.nodes.flatMap(node => node.crowds));
      return this.#areCrowdsServed(crowds) ? ask() : null;
    } finally {
      this.#board.backTo(mark);
    }
  }

  /** A solution that goes on from the board as it stands, or null; the board is left as it was. */
  #solve(): Solution | null {
    const mark = this.#board.mark();
    const isFound = this.#descend();
    const solution = isFound ? this.#board.nodes.map(({ taken }) => taken?.index ?? -1) : null;
    this.#board.backTo(mark);
    return solution;
  }

  #descend(): boolean {
    this.#steps.spend();
    const node = this.#hardest();
    if (node === null) return true;
    const tried = new Set<string>();
    for (const choice of node.choices) {
      if (!choice.isOpen) continue;
      const key = keyOf(choice);
      if (tried.has(key)) continue;
      tried.add(key);
      const mark = this.#board.mark();
      if (this.#take(node, choice) && this.#descend()) return true;
      this.#board.backTo(mark);
    }
    node.failures++;
    return false;
  }

  /** The task to place next: the one with the fewest options for the trouble that it has made; null when all are placed. */
  #hardest(): Node | null {
    let hardest: Node | null = null;
    let least = Number.POSITIVE_INFINITY;
    for (const node of this.#board.nodes) {
      if (!node.isActive || node.taken !== null) continue;
      if (node.open <= 1) return node;
      const rank = node.open / node.failures;
      if (rank < least) [hardest, least] = [node, rank];
    }
    return hardest;
  }

  /** Places a task and closes what that rules out; false where some task then has nothing left. */
  #take(node: Node, choice: Choice): boolean {
    const board = this.#board;
    for (const other of node.choices) if (other !== choice && other.isOpen) board.close(node, other);
    board.place(node, choice);
    const crowds = new Set<Crowd>(node.crowds);
    for (const { slot } of choice.uses) {
      for (const beside of node.meets) {
        if (!beside.isActive || beside.taken !== null) continue;
        if (!this.#closeFull(beside, slot)) continue;
        if (beside.open === 0) {
          beside.failures++;
          return false;
        }
        for (const crowd of beside.crowds) crowds.add(crowd);
      }
    }
    return this.#areCrowdsServed(crowds);
  }

  /** Closes the choices of a task for which a slot has no room any more; whether there were any. */
  #closeFull(node: Node, slot: Slot): boolean {
    let isChanged = false;
    const room = new Map<number, boolean>();
    for (const choice of node.bySlot.get(slot) ?? []) {
      if (!choice.isOpen) continue;
      const amount = choice.uses.find(use => use.slot === slot)?.amount ?? 0;
      let fits = room.get(amount);
      if (fits === undefined) {
        fits = this.#board.hasRoom(node, slot, amount);
        room.set(amount, fits);
      }
      if (fits) continue;
      this.#board.close(node, choice);
      isChanged = true;
    }
    return isChanged;
  }

  #areCrowdsServed(crowds: ReadonlySet<Crowd>): boolean {
    for (const crowd of crowds) {
      const unserved = unservedIn(crowd);
      if (unserved === null) continue;
      unserved.failures++;
      return false;
    }
    return true;
  }
}

/** Which resources a choice comes to; those that nobody holds go by what they are, not by which. */
function keyOf({ uses }: Choice): string {
  return uses
    .map(({ slot, amount }) => `${slot.holders.length === 0 ? `t${slot.twins}` : slot.id}:${amount}`)
    .join();
}
