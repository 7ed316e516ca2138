/** Narrowing the items to what was asked for, and counting them. */
import type { Counts, DueItem, DueState } from './item.ts';

/** What a report is narrowed to; an empty list narrows nothing. */
export interface DueFilter {
  readonly assets: readonly string[];
  readonly checks: readonly string[];
  readonly states: readonly DueState[];
}

/** The items that every list of the filter lets through, in their order. */
export function filterItems(items: readonly DueItem[], { assets, checks, states }: DueFilter): DueItem[] {
  const lets = (list: readonly string[], word: string) => list.length === 0 || list.includes(word);
  return items.filter(
    item => lets(assets, item.asset.id) && lets(checks, item.check.id) && lets(states, item.state),
  );
}

/** How many items stand in each state. @example countStates([]) //=> { overdue: 0, due: 0, soon: 0, ok: 0, withdrawn: 0 } */
export function countStates(items: readonly Pick<DueItem, 'state'>[]): Counts {
  const counts = { overdue: 0, due: 0, soon: 0, ok: 0, withdrawn: 0 };
  for (const { state } of items) counts[state]++;
  return counts;
}
