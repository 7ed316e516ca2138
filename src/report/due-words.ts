/** Words that every form of the due report shares. */
import { weekdayOf } from '../calendar/open-days.ts';
import type { CalendarDate } from '../calendar/zone.ts';
import type { DueItem, DueReport, DueState, PracticeDue } from '../due/item.ts';
import type { Asset } from '../inventory/inventory.ts';
import { KIND_WORDS } from '../plan/fit.ts';
import type { StationHead } from '../record/read.ts';
import { counted } from './text.ts';

/** What a state is called on paper. */
export const STATE_WORDS: Readonly<Record<DueState, string>> = {
  overdue: 'OVERDUE',
  due: 'DUE',
  soon: 'soon',
  ok: 'in order',
  withdrawn: 'withdrawn',
};

const NOT_KNOWN = 'not known';
const { overdue, due, soon, ok, withdrawn } = STATE_WORDS;
const WORST_FIRST = [overdue, due, NOT_KNOWN, soon, ok, withdrawn];

/** What due checks of a record and what it does not. */
export const STRUCTURE_ONLY =
  'Only the structure of the record was checked here. To check the chain: holdfast record verify';

/** @example dateWords('2026-11-25') //=> 'Wed 2026-11-25' */
export function dateWords(date: CalendarDate): string {
  const weekday = weekdayOf(date);
  return `${weekday.charAt(0).toUpperCase()}${weekday.slice(1)} ${date}`;
}

/** What an item is called: its state, or that it is not known. */
export function stateWords({ state, isUseUnknown }: Pick<DueItem, 'state' | 'isUseUnknown'>): string {
  // In order as far as anything is known is not the same as in order.
  return isUseUnknown && state === 'ok' ? NOT_KNOWN : STATE_WORDS[state];
}

/** How many items stand how, in one line, worst first. @example countWords(items) //=> '2 overdue, 1 soon, 9 in order' */
export function countWords(items: readonly Pick<DueItem, 'state' | 'isUseUnknown'>[]): string {
  if (items.length === 0) return 'no checks';
  const counts = new Map<string, number>();
  for (const item of items) counts.set(stateWords(item), (counts.get(stateWords(item)) ?? 0) + 1);
  const words = WORST_FIRST.filter(word => counts.has(word)).map(
    word => `${counts.get(word)} ${word.toLowerCase()}`,
  );
  const isCalm = !counts.has(STATE_WORDS.overdue) && !counts.has(STATE_WORDS.due);
  return isCalm ? `nothing overdue or due: ${words.join(', ')}` : words.join(', ');
}

/** All practices in one line: first whether the record can be trusted, then the counts. */
export function summaryWords(practices: readonly PracticeDue[]): string {
  const words = countWords(practices.flatMap(({ items }) => items));
  if (practices.some(({ record }) => record === 'damaged')) return `RECORD DAMAGED: ${words}`;
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** The summary with its date, for where it stands alone. @example '2 overdue, 1 soon, 9 in order (Wed 2026-11-25)' */
export function summaryLine({ asOf, practices }: DueReport): string {
  return `${summaryWords(practices)} (${dateWords(asOf)})`;
}

/** The date of an item and what it means now. @example latenessWords(item) //=> '4 days late, due Sat 2026-11-21' */
export function latenessWords({ state, dueOn, daysOverdue, failedOn, used, check }: DueItem): string {
  if (failedOn !== null && state === 'overdue') return `failed ${dateWords(failedOn)}`;
  if (dueOn === null)
    return used !== null ? 'goes by use' : check.round !== null ? 'in its round' : 'no date';
  if (state === 'overdue') return `${counted(daysOverdue, 'day')} late, due ${dateWords(dueOn)}`;
  return `${state === 'ok' ? 'next' : 'due'} ${dateWords(dueOn)}`;
}

/** @example stationWords({ station: 'theatre', head: '00…', entries: 0 }) //=> 'theatre: no entries' */
export function stationWords({ station, head, entries }: StationHead): string {
  return entries === 0
    ? `${station}: no entries`
    : `${station}: ${counted(entries, 'entry', 'entries')}, last ${head}`;
}

/** What an asset is, as the trade calls it. @example assetWords(absorber) //=> 'absorber of theatre-1' */
export function assetWords(asset: Asset): string {
  switch (asset.type) {
    case 'machine':
      return asset.location === null ? 'machine' : `machine, ${asset.location}`;
    case 'absorber':
      return `absorber of ${asset.machine}`;
    case 'vaporizer':
      return `${asset.agent} vaporizer of ${asset.machine}`;
    case 'scavenging':
      return `${asset.kind === 'charcoal' ? 'charcoal canister' : 'scavenging'} of ${asset.machine}`;
    case 'circuit':
      return KIND_WORDS[asset.kind];
    case 'bag':
      return 'reservoir bag';
    case 'supply':
      return asset.kind === 'cylinder' ? 'oxygen cylinder' : `oxygen ${asset.kind}`;
  }
}
