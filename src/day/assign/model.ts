/**
 * The assignment of a day in the abstract: tasks at fixed times, each with options in order of preference, and resources
 * of which only so much is there at once. What a resource is (a machine, a circuit, a bag size) is not known here.
 */

/** Something that tasks use. */
export interface Resource {
  /** Resources of one group stand in for one another. */
  readonly group: string;
  /** How much of it may be in use at once. */
  readonly capacity: number;
  /** How long after a task it is still taken: the turnover. */
  readonly restMinutes: number;
}

export interface Use {
  readonly resource: Resource;
  readonly amount: number;
}

/** One way to serve a task: everything that it then uses, each resource once. */
export type Option = readonly Use[];

export interface Task {
  /** Minutes on one clock, for all tasks the same. */
  readonly start: number;
  readonly end: number;
  /** The preferred one first. */
  readonly options: readonly Option[];
}

/** The index of the option taken, for each task. */
export type Solution = readonly number[];

/** Whether two tasks take a resource at the same time, where it rests so long after each. */
export function overlap(a: Task, b: Task, restMinutes: number): boolean {
  return a.start < b.end + restMinutes && b.start < a.end + restMinutes;
}

/** Thrown where the search takes more steps than it was given: the question stays open, and nothing is claimed. */
export class StepsSpent extends Error {}

/** Steps that a search may take; shared by all the questions of one day. */
export class Steps {
  #left: number;

  constructor(most: number) {
    this.#left = most;
  }

  /** @throws StepsSpent */
  spend(steps = 1): void {
    this.#left -= steps;
    if (this.#left < 0) throw new StepsSpent('the search was given up');
  }
}
