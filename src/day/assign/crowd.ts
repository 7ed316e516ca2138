/** Tasks that crowd into one moment: whether the resources of each group suffice for them (Hall's marriage theorem). */
import type { Crowd, Node, Slot } from './board.ts';
import type { Steps } from './model.ts';

/** A task of the crowd for which nothing is left once the others are served, group by group; null where all can be served. */
export function unservedIn({ nodes, groups }: Crowd): Node | null {
  const active = nodes.filter(({ isActive }) => isActive);
  if (active.length < 2) return null;
  for (const group of groups) {
    const served = new Map<Slot, Node[]>();
    const holdersOf = (slot: Slot): Node[] => {
      const holders = served.get(slot) ?? [];
      if (holders.length === 0) served.set(slot, holders);
      return holders;
    };
    const serve = (node: Node, seen: Set<Slot>): boolean => {
      const slots = node.byGroup.get(group) ?? [];
      // Most often something is free, and nobody need give way.
      for (const slot of slots) {
        if ((node.openBySlot.get(slot) ?? 0) === 0 || seen.has(slot)) continue;
        const holders = holdersOf(slot);
        if (holders.length >= slot.resource.capacity) continue;
        holders.push(node);
        return true;
      }
      for (const slot of slots) {
        if ((node.openBySlot.get(slot) ?? 0) === 0 || seen.has(slot)) continue;
        seen.add(slot);
        const holders = holdersOf(slot);
        for (const [i, holder] of holders.entries()) {
          if (!serve(holder, seen)) continue;
          holders[i] = node;
          return true;
        }
      }
      return false;
    };
    for (const node of active) if (!serve(node, new Set())) return node;
  }
  return null;
}

/**
 * The smallest set of tasks, over all the crowds, that want fewer resources of one group than they are; null where no
 * crowd holds such a set.
 *
 * @throws StepsSpent
 */
export function smallestOvercrowding(crowds: Iterable<Crowd>, steps: Steps): Node[] | null {
  const scenes = [...crowds].flatMap(({ nodes, groups }) => {
    const active = nodes.filter(({ isActive }) => isActive);
    return groups.map(group => active.map(node => ({ node, slots: node.byGroup.get(group) ?? [] })));
  });
  const largest = Math.max(0, ...scenes.map(wants => wants.length));
  for (let size = 1; size <= largest; size++) {
    for (const wants of scenes) {
      const found = wants.length < size ? null : overcrowding(wants, size, steps);
      if (found !== null) return found;
    }
  }
  return null;
}

interface Want {
  readonly node: Node;
  readonly slots: readonly Slot[];
}

/**
 * So many tasks that want fewer resources than they are. Goes over what the wants of some tasks come to together, as long
 * as it is less than they are.
 */
function overcrowding(wants: readonly Want[], size: number, steps: Steps): Node[] | null {
  const seen = new Set<string>();
  const visit = (from: number, wanted: ReadonlySet<Slot>): Node[] | null => {
    steps.spend();
    const content = wants.filter(({ slots }) => slots.every(slot => wanted.has(slot)));
    if (content.length >= size) return content.slice(0, size).map(({ node }) => node);
    for (const [i, { slots }] of wants.entries()) {
      if (i < from) continue;
      const more = new Set([...wanted, ...slots]);
      if (more.size === wanted.size || capacityOf(more) >= size) continue;
      const key = [...more]
        .map(({ id }) => id)
        .sort((a, b) => a - b)
        .join();
      if (seen.has(key)) continue;
      seen.add(key);
      const found = visit(i + 1, more);
      if (found !== null) return found;
    }
    return null;
  };
  return visit(0, new Set());
}

function capacityOf(slots: ReadonlySet<Slot>): number {
  let capacity = 0;
  for (const { resource } of slots) capacity += resource.capacity;
  return capacity;
}
