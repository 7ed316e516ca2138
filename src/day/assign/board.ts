/**
 * The board on which a search moves: which options of each task are still open, and who holds which resource. Every move
 * is written on a trail, so that it can be taken back.
 */
import { groupBy } from '../../due/group.ts';
import { type Option, overlap, type Resource, type Task } from './model.ts';

/** A resource with those who hold it. */
export interface Slot {
  readonly id: number;
  readonly resource: Resource;
  /** Slots with one number can be exchanged for one another without changing anything. */
  twins: number;
  readonly holders: { readonly node: Node; readonly amount: number }[];
}

export interface Choice {
  readonly index: number;
  readonly uses: readonly { readonly slot: Slot; readonly amount: number }[];
  isOpen: boolean;
}

/** A task on the board. */
export interface Node {
  readonly index: number;
  readonly task: Task;
  readonly choices: readonly Choice[];
  readonly bySlot: ReadonlyMap<Slot, readonly Choice[]>;
  readonly byGroup: ReadonlyMap<string, readonly Slot[]>;
  /** Open choices in all, and for each slot. */
  open: number;
  readonly openBySlot: Map<Slot, number>;
  taken: Choice | null;
  /** Whether the task counts in the question at hand. */
  isActive: boolean;
  /** How often this task was the one that had nothing left: the hard ones are looked at first. */
  failures: number;
  /** The others that it overlaps in time. */
  readonly meets: Node[];
  readonly crowds: Crowd[];
}

/** Tasks that all take place at one moment, so that no two of them can share a resource that rests as long as this. */
export interface Crowd {
  readonly nodes: readonly Node[];
  /** The groups of which each of them takes exactly one resource, whichever way it is served. */
  readonly groups: readonly string[];
}

export class Board {
  readonly nodes: readonly Node[];
  readonly slots: readonly Slot[];
  /** Choices that were closed and tasks that were placed since the beginning, the last one at the end. */
  readonly #trail: ({ closed: Choice; node: Node } | { placed: Node })[] = [];

  constructor(tasks: readonly Task[]) {
    const slots = new Map<Resource, Slot>();
    for (const { resource } of tasks.flatMap(({ options }) => options.flat())) {
      if (!slots.has(resource))
        slots.set(resource, { id: slots.size, resource, twins: slots.size, holders: [] });
    }
    this.slots = [...slots.values()];
    this.nodes = tasks.map((task, index) => nodeOf(task, index, slots));
    findTwins(this.slots, this.nodes);
    const rests = [...new Set(this.slots.map(({ resource }) => resource.restMinutes))];
    const longest = Math.max(0, ...rests);
    for (const node of this.nodes) {
      node.meets.push(
        ...this.nodes.filter(other => other !== node && overlap(node.task, other.task, longest)),
      );
    }
    for (const crowd of rests.flatMap(rest => crowdsOf(this.nodes, rest))) {
      for (const node of crowd.nodes) node.crowds.push(crowd);
    }
  }

  /** A mark to go back to. */
  mark(): number {
    return this.#trail.length;
  }

  backTo(mark: number): void {
    while (this.#trail.length > mark) {
      const move = this.#trail.pop();
      if (move === undefined) return;
      if ('closed' in move) {
        move.closed.isOpen = true;
        count(move.node, move.closed, 1);
      } else {
        for (const { slot } of move.placed.taken?.uses ?? []) slot.holders.pop();
        move.placed.taken = null;
      }
    }
  }

  close(node: Node, choice: Choice): void {
    choice.isOpen = false;
    count(node, choice, -1);
    this.#trail.push({ closed: choice, node });
  }

  place(node: Node, choice: Choice): void {
    node.taken = choice;
    for (const { slot, amount } of choice.uses) slot.holders.push({ node, amount });
    this.#trail.push({ placed: node });
  }

  /** Whether a task can take so much more of a slot beside those who hold it. */
  hasRoom(node: Node, slot: Slot, amount: number): boolean {
    const { capacity, restMinutes } = slot.resource;
    const beside = slot.holders.filter(holder => overlap(node.task, holder.node.task, restMinutes));
    const { start } = node.task;
    // Most is in use at the beginning of this task or of one that begins within it.
    return [start, ...beside.map(({ node: { task } }) => task.start)].every(moment => {
      if (moment < start) return true;
      let used = amount;
      for (const holder of beside) {
        const { task } = holder.node;
        if (task.start <= moment && moment < task.end + restMinutes) used += holder.amount;
      }
      return used <= capacity;
    });
  }
}

function nodeOf(task: Task, index: number, slots: ReadonlyMap<Resource, Slot>): Node {
  const choices = task.options.map((option, i) => choiceOf(option, i, slots));
  const bySlot = new Map<Slot, Choice[]>();
  for (const choice of choices) {
    for (const { slot } of choice.uses) {
      const list = bySlot.get(slot);
      if (list === undefined) bySlot.set(slot, [choice]);
      else list.push(choice);
    }
  }
  return {
    index,
    task,
    choices,
    bySlot,
    byGroup: groupBy([...bySlot.keys()], ({ resource }) => resource.group),
    open: choices.filter(({ isOpen }) => isOpen).length,
    openBySlot: new Map(
      [...bySlot].map(([slot, list]) => [slot, list.filter(({ isOpen }) => isOpen).length]),
    ),
    taken: null,
    isActive: true,
    failures: 1,
    meets: [],
    crowds: [],
  };
}

function choiceOf(option: Option, index: number, slots: ReadonlyMap<Resource, Slot>): Choice {
  const uses = option.flatMap(({ resource, amount }) => {
    const slot = slots.get(resource);
    return slot === undefined ? [] : [{ slot, amount }];
  });
  // What asks for more than there is fits at no time.
  return { index, uses, isOpen: uses.every(({ slot, amount }) => amount <= slot.resource.capacity) };
}

function count(node: Node, choice: Choice, step: 1 | -1): void {
  node.open += step;
  for (const { slot } of choice.uses) node.openBySlot.set(slot, (node.openBySlot.get(slot) ?? 0) + step);
}

/**
 * Finds slots that are twins: of one group, as large, and in every task's options at the same company. Only one of several
 * twins that nobody holds need ever be tried.
 */
function findTwins(slots: readonly Slot[], nodes: readonly Node[]): void {
  const first = new Map<string, number>();
  for (const slot of slots) {
    const { group, capacity, restMinutes } = slot.resource;
    const company = nodes.map(({ bySlot }) =>
      (bySlot.get(slot) ?? [])
        .map(({ uses }) =>
          uses
            .map(use => (use.slot === slot ? `*${use.amount}` : `${use.slot.id}:${use.amount}`))
            .sort()
            .join(),
        )
        .sort()
        .join(';'),
    );
    const key = [group, capacity, restMinutes, ...company].join('|');
    slot.twins = first.get(key) ?? slot.id;
    first.set(key, slot.twins);
  }
}

/** The crowds at the beginning of each task; one that is part of another says nothing new. */
function crowdsOf(nodes: readonly Node[], restMinutes: number): Crowd[] {
  const crowds = nodes.map(({ task: { start } }) =>
    nodes.filter(({ task }) => task.start <= start && start < task.end + restMinutes),
  );
  const isPart = (a: readonly Node[], b: readonly Node[]) => a.every(node => b.includes(node));
  return crowds
    .filter((crowd, i) => {
      return !crowds.some(
        (other, j) => i !== j && isPart(crowd, other) && (other.length > crowd.length || j < i),
      );
    })
    .filter(crowd => crowd.length > 1)
    .map(crowd => ({ nodes: crowd, groups: groupsOf(crowd, restMinutes) }));
}

/** The groups of which every choice of every task takes exactly one whole resource that rests as long as the crowd says. */
function groupsOf(nodes: readonly Node[], restMinutes: number): string[] {
  const first = nodes[0];
  if (first === undefined) return [];
  const groups = new Set([...first.bySlot.keys()].map(({ resource }) => resource.group));
  return [...groups].filter(group =>
    nodes.every(({ choices, bySlot }) => {
      let uses = 0;
      for (const [{ resource }, list] of bySlot) {
        if (resource.group !== group) continue;
        if (resource.restMinutes !== restMinutes) return false;
        uses += list.length;
      }
      return uses === choices.length;
    }),
  );
}
