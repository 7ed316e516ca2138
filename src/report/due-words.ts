/** Words that every form of the due report shares. */
import { weekdayOf } from '../calendar/open-days.ts';
import type { CalendarDate } from '../calendar/zone.ts';
import { type Counts, DUE_STATES, type DueItem, type DueState, type PracticeDue } from '../due/item.ts';
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

/** What due checks of a record and what it does not. */
export const STRUCTURE_ONLY =
  'Only the structure of the record was checked here. To check the chain: holdfast record verify';

/** @example dateWords('2026-11-25') //=> 'Wed 2026-11-25' */
export function dateWords(date: CalendarDate): string {
  const weekday = weekdayOf(date);
  return `${weekday.charAt(0).toUpperCase()}${weekday.slice(1)} ${date}`;
}

/** The counts in one line, worst first. @example countWords({ overdue: 2, due: 0, soon: 1, ok: 9, withdrawn: 0 }) //=> '2 overdue, 1 soon, 9 in order' */
export function countWords(counts: Counts): string {
  const words = DUE_STATES.filter(state => counts[state] > 0).map(
    state => `${counts[state]} ${STATE_WORDS[state].toLowerCase()}`,
  );
  if (words.length === 0) return 'no checks';
  return counts.overdue + counts.due === 0 ? `nothing overdue: ${words.join(', ')}` : words.join(', ');
}

/** The counts of all practices together. */
export function totalCounts(practices: readonly Pick<PracticeDue, 'counts'>[]): Counts {
  const total = { overdue: 0, due: 0, soon: 0, ok: 0, withdrawn: 0 };
  for (const { counts } of practices) for (const state of DUE_STATES) total[state] += counts[state];
  return total;
}

/**
 * The one line that says it all; `--quiet` prints nothing else.
 *
 * @example '2 overdue, 1 soon, 9 in order (Wed 2026-11-25)'
 */
export function summaryLine({
  asOf,
  practices,
}: {
  asOf: CalendarDate;
  practices: readonly PracticeDue[];
}): string {
  const damaged = practices.some(({ record }) => record === 'damaged') ? 'RECORD DAMAGED: ' : '';
  const words = countWords(totalCounts(practices));
  return `${damaged}${damaged === '' ? words.charAt(0).toUpperCase() + words.slice(1) : words} (${dateWords(asOf)})`;
}

/** @example latenessWords(item) //=> '4 days late, due Sat 2026-11-21' */
export function latenessWords({ state, dueOn, daysOverdue, failedOn }: DueItem): string {
  if (dueOn === null) return '';
  if (state === 'overdue') {
    if (failedOn === dueOn) return '';
    return `${counted(daysOverdue, 'day')} late, due ${dateWords(dueOn)}`;
  }
  return `due ${dateWords(dueOn)}`;
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
