/** Which entries were cancelled by a correction. */
import type { CorrectEntry, Entry } from '../generated/entry.ts';

/**
 * The ids of entries that no longer count. A correction cannot itself be cancelled: what looks like it counts for nothing.
 *
 * @param entries - in any order: a correction holds whatever date it bears.
 */
export function cancelledIds(entries: readonly Entry[]): ReadonlySet<string> {
  return cancelledBy(entries.filter(entry => entry.kind === 'correct'));
}

/** The same from the corrections alone: their own ids, and those that they name. */
export function cancelledBy(corrections: readonly Pick<CorrectEntry, 'id' | 'entry'>[]): ReadonlySet<string> {
  const cancelled = new Set(corrections.map(({ entry }) => entry));
  for (const { id } of corrections) cancelled.delete(id);
  return cancelled;
}
