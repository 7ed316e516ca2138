/** What a charcoal canister has caught since it was new, and whether that is known. Pure; plan, stock and due go by it. */
import { liquidG, liquidMl } from '../inventory/agent-properties.ts';
import { isAbove } from '../quantity/compare.ts';
import { formatNumber } from '../quantity/format.ts';
import { type Grams, grams, ml } from '../quantity/units.ts';
import type { Moment, SeenReading, SeenUse, Use } from './standing-types.ts';

/** Why the gain is not known. */
export type GainUnknown =
  | { readonly why: 'never_weighed_in' }
  /** Uses since the last weighing that do not say agent and setting. */
  | { readonly why: 'uses_unsaid'; readonly uses: number }
  /** The last weighing was below the one when it was new, so that one of the two is wrong. */
  | { readonly why: 'lighter'; readonly g: Grams; readonly freshG: Grams };

export interface KnownGain {
  /** Grams gained; null: not known. */
  readonly gainG: Grams | null;
  /** The scale up to the last weighing, an estimate from the uses after it; null: not known. */
  readonly gainBy: 'scale' | 'estimate' | 'scale_and_estimate' | null;
  /** The part of the gain that is known; below the whole where some uses do not say what they took. */
  readonly gainAtLeastG: Grams;
  /** null: it is known. */
  readonly gainUnknown: GainUnknown | null;
}

export interface Gain extends KnownGain {
  /** When it was weighed in; null: it never was. */
  readonly from: Moment | null;
  /** What was known to be gained after each weighing and use that counts; never falling. */
  readonly steps: readonly { readonly done: Moment; readonly g: number }[];
}

/**
 * What was gained since the last weighing that was marked new: the greatest that the scale showed over it, and after the last
 * weighing the agent that later uses let through. Nothing is guessed: not before a canister was marked new, not where a use
 * does not say agent and setting, and not after a weighing below the one when it was new. Such a weighing counts for nothing
 * until the canister is weighed again.
 *
 * @param readings - of the canister, in order
 * @param uses - of the canister, in order
 * @example gainSince([fresh800g, weighed812g], []).gainG //=> 12
 */
export function gainSince(readings: readonly SeenReading[], uses: readonly SeenUse[]): Gain {
  const weighed = readings.filter(hasGrams);
  const newest = weighed.findLastIndex(({ isNew }) => isNew);
  const [fresh, ...later] = newest === -1 ? [] : weighed.slice(newest);
  if (fresh === undefined) {
    const gainUnknown = { why: 'never_weighed_in' } as const;
    return { gainG: null, gainBy: null, gainAtLeastG: grams(0), gainUnknown, from: null, steps: [] };
  }
  const isLighter = ({ g }: { g: Grams }) => isAbove(fresh.g, g);
  const believed = later.filter(reading => !isLighter(reading));
  const lastOrder = (believed.at(-1) ?? fresh).done.order;
  const after = uses.filter(({ done }) => done.order > lastOrder);
  const steps: { done: Moment; g: number }[] = [];
  let most = 0;
  for (const { done, g } of believed) {
    // The greatest so far: what charcoal has taken up does not leave it because the scale once read less.
    most = Math.max(most, g - fresh.g);
    steps.push({ done, g: most });
  }
  for (const use of after) {
    // A use that does not say agent and setting adds what is known of it: nothing.
    most += caughtG(use) ?? 0;
    steps.push({ done: use.done, g: most });
  }
  const gainUnknown = unknownOf(later.at(-1), fresh.g, isLighter, after);
  const gainBy = after.length === 0 ? 'scale' : believed.length === 0 ? 'estimate' : 'scale_and_estimate';
  return {
    gainG: gainUnknown === null ? grams(most) : null,
    gainBy: gainUnknown === null ? gainBy : null,
    gainAtLeastG: grams(most),
    gainUnknown,
    from: fresh.done,
    steps,
  };
}

function unknownOf(
  last: { g: Grams } | undefined,
  freshG: Grams,
  isLighter: (reading: { g: Grams }) => boolean,
  after: readonly SeenUse[],
): GainUnknown | null {
  // Weighing again answers for the uses too, so that it is said alone.
  if (last !== undefined && isLighter(last)) return { why: 'lighter', g: last.g, freshG };
  const uses = after.filter(use => caughtG(use) === null).length;
  return uses === 0 ? null : { why: 'uses_unsaid', uses };
}

/** Why, in words. @example gainUnknownWords({ why: 'never_weighed_in' }) //=> 'no fresh one was ever weighed in' */
export function gainUnknownWords(unknown: GainUnknown): string {
  switch (unknown.why) {
    case 'never_weighed_in':
      return 'no fresh one was ever weighed in';
    case 'uses_unsaid': {
      const { uses } = unknown;
      const [cases, does] = uses === 1 ? ['case', 'does'] : ['cases', 'do'];
      return `${uses} ${cases} since it was last weighed ${does} not say agent and setting`;
    }
    case 'lighter':
      return `it is lighter (${formatNumber(unknown.g)} g) than when it was new (${formatNumber(unknown.freshG)} g)`;
  }
}

/** What to enter so that it is known. @example gainUnknownEntry('charcoal-1', { why: 'never_weighed_in' }) //=> 'holdfast reading charcoal-1 GRAMS --new' */
export function gainUnknownEntry(id: string, { why }: GainUnknown): string {
  const weigh = `holdfast reading ${id} GRAMS`;
  switch (why) {
    case 'never_weighed_in':
      return `${weigh} --new`;
    case 'uses_unsaid':
      return weigh;
    case 'lighter':
      return `${weigh}, with --new if it is a fresh one`;
  }
}

/** The same with why, where the command does not say it. */
export function gainUnknownTold(id: string, unknown: GainUnknown): string {
  const entry = gainUnknownEntry(id, unknown);
  return unknown.why === 'never_weighed_in' ? entry : `${entry} (${gainUnknownWords(unknown)})`;
}

/**
 * The agent that a use let through, all of it caught; null where the entry does not say agent and setting.
 *
 * @example caughtG({ agent: 'isoflurane', settingPercent: percent(2), flowMlPerMin: mlPerMin(1000), minutes: minutes(60) }) //=> 9.20…
 */
export function caughtG({
  agent,
  settingPercent,
  flowMlPerMin,
  minutes,
}: Pick<Use, 'agent' | 'settingPercent' | 'flowMlPerMin' | 'minutes'>): Grams | null {
  if (settingPercent === 0) return grams(0);
  if (agent === null || settingPercent === null) return null;
  return liquidG(agent, liquidMl(agent, ml(flowMlPerMin * minutes * (settingPercent / 100))));
}

function hasGrams<R extends SeenReading>(reading: R): reading is R & { g: Grams } {
  return reading.g !== null;
}
