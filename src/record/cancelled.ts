/** Which entries were cancelled by a correction. */
import type { Entry } from '../generated/entry.ts';

/**
 * The ids of entries that no longer count. A correction cannot itself be cancelled: what looks like it counts for nothing.
 *
 * @param entries - in any order: a correction holds whatever date it bears.
 */
export function cancelledIds(entries: readonly Entry[]): ReadonlySet<string> {
  const cancelled = new Set<string>();
  for (const entry of entries) if (entry.kind === 'correct') cancelled.add(entry.entry);
  if (cancelled.size > 0) {
    for (const entry of entries) if (entry.kind === 'correct') cancelled.delete(entry.id);
  }
  return cancelled;
}
