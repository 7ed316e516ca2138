/** What a command hands to the store: an entry without the keys that the store itself writes. */
import type { Entry } from '../generated/entry.ts';

/** Keys that the store writes. `on` may be given; without it the entry was done when it was entered. */
type WrittenByStore = 'v' | 'id' | 'at' | 'on' | 'station' | 'n' | 'tool' | 'prev';

type DraftOf<E> = E extends unknown ? Omit<E, WrittenByStore> & { readonly on?: string | undefined } : never;

/**
 * An entry before it is written. Its keys are written in the order in which they stand here, after `on` and before
 * `inventory`. `on` is a calendar date, or an instant with any offset; it is written with the practice's.
 *
 * @example { kind: 'withdraw', by: 'A. Byrne', asset: 'bain-1', because: 'cracked', inventory: blob }
 */
export type EntryDraft = DraftOf<Entry>;
