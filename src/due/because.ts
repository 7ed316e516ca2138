/** Why an item stands as it does, in the words of the trade. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Every } from '../inventory/inventory.ts';
import { formatNumber } from '../quantity/format.ts';
import { type GainUnknown, gainUnknownEntry, gainUnknownWords } from '../record/gain.ts';
import type { DueItem } from './item.ts';
import type { Count } from './use.ts';

/** What the words are made from. */
export type Facts = Omit<DueItem, 'because' | 'isUseUnknown'> & {
  readonly withdrawn: { readonly date: CalendarDate; readonly because: string } | null;
};

/**
 * @example because({ … }) //=> '30 days after it was last done on 2026-10-22'
 */
export function because(facts: Facts): string {
  const { withdrawn, failedOn, state, limit } = facts;
  if (withdrawn !== null) return `out of service since ${withdrawn.date}: ${withdrawn.because}`;
  const reasons: string[] = [];
  if (failedOn !== null) reasons.push(`failed on ${failedOn} and not passed since`);
  // Where the date is older than the failure, it had been late before it failed.
  const before = failedOn !== null && limit === 'interval' ? 'it was due before that, ' : '';
  reasons.push(...limitWords(facts).map(words => `${before}${words}`));
  const isReached = state === 'overdue' || state === 'due';
  // Only the earliest limit is shown once one is reached; until then, how far the others are.
  if (!isReached && limit !== null) reasons.push(...soFar(facts));
  return reasons.join('; ');
}

function limitWords(facts: Facts): string[] {
  const { limit, used, check, failedOn } = facts;
  switch (limit) {
    case 'failed':
      return [];
    case 'hours_in_use':
      return used?.hoursInUse ? [reachedWords(used.hoursInUse, ' h', 'in use')] : [];
    case 'gain_g':
      return used?.gainG
        ? [`${used.gainG.unknown === null ? '' : 'at least '}${reachedWords(used.gainG, ' g', 'gained')}`]
        : [];
    case 'interval':
      return [intervalReason(facts)];
    case null: {
      if (failedOn !== null) return [];
      const words = soFar(facts);
      if (words.length > 0) return words;
      const round =
        check.round === null ? [] : [`no date of its own, done in the round ${roundWords(check.round)}`];
      return [...round, ...doneWords(facts)];
    }
  }
}

function intervalReason(facts: Facts): string {
  const { asset, check, lastDoneOn } = facts;
  const { every, countedFrom, starting } = check;
  if (every === null) return '';
  const length = intervalWords(every);
  const done = doneWords(facts);
  if (countedFrom === 'calendar') {
    const grid = `every ${every.count === 1 ? length.slice(2) : length} from ${starting}`;
    return [grid, ...done].join('; ');
  }
  if (lastDoneOn !== null) return `${length} after it was ${done.join()}`;
  return [...done, `${length} after it came into service on ${asset.since}`].join('; ');
}

/** When it was last done; nothing where a failure was told already and there was never a pass. */
function doneWords({ lastDoneOn, failedOn }: Facts): string[] {
  if (lastDoneOn !== null) return [`last done on ${lastDoneOn}`];
  return failedOn === null ? ['never done'] : [];
}

function reachedWords({ value, limit, from, reachedOn }: Count, unit: string, what: string): string {
  const since = from === null ? '' : ` since ${from}`;
  return `${figure(value)}${unit} ${what}${since}; the limit of ${figure(limit)}${unit} was reached on ${reachedOn}`;
}

/** How far the counts are, and what is not known. */
function soFar({ used, asset }: Facts): string[] {
  if (used === null) return [];
  const words: string[] = [];
  const { hoursInUse, gainG } = used;
  if (hoursInUse !== null && hoursInUse.value !== null) {
    words.push(`${figure(hoursInUse.value)} of ${figure(hoursInUse.limit)} h in use`);
  }
  if (gainG !== null && gainG.value !== null)
    words.push(`${figure(gainG.value)} of ${figure(gainG.limit)} g gained`);
  for (const { what, why } of unknownUse(used, asset.id)) words.push(`${what} not known: ${why}`);
  return words;
}

/** A count that a check goes by and that is not known. */
interface UnknownUse {
  readonly what: string;
  readonly why: string;
  readonly remedy: string;
}

/**
 * The counts that are not known, in words.
 *
 * @example unknownUse(used, 'charcoal-1')[0]?.what //=> 'grams gained'
 */
export function unknownUse(
  { hoursInUse, gainG }: NonNullable<DueItem['used']>,
  assetId: string,
): UnknownUse[] {
  const never = { why: 'never_weighed_in' } as const;
  const found: UnknownUse[] = [];
  const add = (what: string, unknown: GainUnknown) =>
    found.push({ what, why: gainUnknownWords(unknown), remedy: remedyOf(assetId, unknown) });
  const isGainUnknown = gainG !== null && gainG.value === null;
  const areHoursUnknown = hoursInUse !== null && hoursInUse.value === null;
  if (isGainUnknown && areHoursUnknown && gainG.unknown?.why === 'never_weighed_in') {
    add('grams gained and hours in use', never);
    return found;
  }
  if (isGainUnknown) {
    const { atLeastG, limit } = gainG;
    const known = atLeastG > 0 ? `, at least ${figure(atLeastG)} of ${figure(limit)} g,` : '';
    add(`grams gained${known}`, gainG.unknown ?? never);
  }
  if (areHoursUnknown) add('hours in use', never);
  return found;
}

function remedyOf(id: string, unknown: GainUnknown): string {
  if (unknown.why === 'never_weighed_in')
    return `enter a fresh one with: holdfast reading ${id} WEIGHT --new`;
  return `weigh it: ${gainUnknownEntry(id, unknown)}`;
}

/** @example intervalWords({ unit: 'open_days', count: 1 }) //=> '1 open day' */
function intervalWords({ unit, count }: Every): string {
  const noun = { days: 'day', weeks: 'week', months: 'month', years: 'year', open_days: 'open day' }[unit];
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

function roundWords(round: NonNullable<DueItem['check']['round']>): string {
  return {
    opening: 'at opening',
    before_case: 'before every case',
    closing: 'at closing',
    weekly: 'of the week',
  }[round];
}

function figure(value: number | null): string {
  return value === null ? '?' : formatNumber(value);
}
