/** Picking entries out of the record. Pure. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';

export const KINDS = [
  'hold',
  'supply_hold',
  'sign_off',
  'reading',
  'withdraw',
  'return',
  'usage',
  'correct',
  'compliance',
] as const;
type Kind = (typeof KINDS)[number];

export interface EntryFilter {
  /** null: all. */
  readonly asset: string | null;
  readonly since: CalendarDate | null;
  readonly kind: Kind | null;
}

/**
 * The entries that a filter lets through, in their order. A correction belongs to the assets of what it cancels.
 *
 * @example filterEntries(entries, { asset: 'bain-1', since: null, kind: 'hold' })
 */
export function filterEntries(entries: readonly Entry[], { asset, since, kind }: EntryFilter): Entry[] {
  const byId = new Map(asset === null ? [] : entries.map(entry => [entry.id, entry]));
  return entries.filter(entry => {
    if (since !== null && entry.on.slice(0, 10) < since) return false;
    if (kind !== null && entry.kind !== kind) return false;
    if (asset === null) return true;
    const meant = entry.kind === 'correct' ? byId.get(entry.entry) : entry;
    return meant !== undefined && assetsOf(meant).includes(asset);
  });
}

/** The ids that an entry speaks of. @example assetsOf(hold) //=> ['bain-1', 'theatre-1'] */
export function assetsOf(entry: Entry): string[] {
  switch (entry.kind) {
    case 'hold':
      return [entry.circuit, entry.machine, ...(entry.bag?.id === undefined ? [] : [entry.bag.id])];
    case 'usage':
    case 'compliance':
      return [entry.circuit, entry.machine];
    case 'supply_hold':
      return [entry.supply];
    case 'sign_off':
    case 'reading':
    case 'withdraw':
    case 'return':
      return [entry.asset];
    case 'correct':
      return [];
  }
}
