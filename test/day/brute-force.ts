/** Assignment by trying everything, minute by minute: slow, and simple enough to be believed. */
import type { Option, Resource, Task } from '../../src/day/assign/model.ts';

/** Every way to serve the tasks, the preferred first: the order of reading an odometer whose first wheel is the slowest. */
function* allWays(tasks: readonly Task[]): Generator<number[]> {
  const [first, ...rest] = tasks;
  if (first === undefined) {
    yield [];
    return;
  }
  for (const index of first.options.keys()) for (const others of allWays(rest)) yield [index, ...others];
}

/** Whether no resource is used beyond its capacity in any minute. */
export function isSound(tasks: readonly Task[], way: readonly number[]): boolean {
  const last = Math.max(0, ...tasks.map(({ end }) => end));
  for (let minute = 0; minute <= last; minute++) {
    const used = new Map<Resource, number>();
    for (const [i, task] of tasks.entries()) {
      const option: Option = task.options[way[i] ?? -1] ?? [];
      for (const { resource, amount } of option) {
        if (minute < task.start || minute >= task.end + resource.restMinutes) continue;
        used.set(resource, (used.get(resource) ?? 0) + amount);
      }
    }
    for (const [resource, amount] of used) if (amount > resource.capacity) return false;
  }
  return true;
}

export function preferredByForce(tasks: readonly Task[]): number[] | null {
  for (const way of allWays(tasks)) if (isSound(tasks, way)) return way;
  return null;
}

/** How many tasks the smallest set has that cannot all be served; null where all can. */
export function smallestClashByForce(tasks: readonly Task[]): number | null {
  let smallest: number | null = null;
  for (let bits = 1; bits < 2 ** tasks.length; bits++) {
    const some = tasks.filter((_, i) => (bits >> i) & 1);
    if ((smallest === null || some.length < smallest) && preferredByForce(some) === null)
      smallest = some.length;
  }
  return smallest;
}
