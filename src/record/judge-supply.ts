/** The judgement of the high-pressure side: a cylinder shut, and its gauge watched. Pure. */
import type { Cylinder } from '../inventory/inventory.ts';
import { type Problem, problem } from '../problem/problem.ts';
import { isAbove, isAtLeast } from '../quantity/compare.ts';
import { formatGauge, formatNumber } from '../quantity/format.ts';
import { type Minutes, type Psi, psi } from '../quantity/units.ts';
import { highestReadingPsi } from './reading-limits.ts';

export interface SupplySeen {
  readonly fromPsi: Psi;
  readonly toPsi: Psi;
  readonly minutes: Minutes;
}

export interface SupplyMark {
  /** The fall must be less. */
  readonly fallPsi: Psi;
  readonly minutes: Minutes;
}

export type SupplyJudgement =
  | { readonly outcome: 'refused'; readonly problems: readonly Problem[] }
  | { readonly outcome: 'pass' | 'fail'; readonly because: string };

/**
 * Judges a high-pressure test. Passes when the gauge fell by less than the mark over at least the rule's time.
 *
 * @example judgeSupplyHold({ fromPsi: 1500, toPsi: 1450, minutes: 5 }, { fallPsi: 100, minutes: 5 }, cylinder).outcome //=> 'pass'
 */
export function judgeSupplyHold(seen: SupplySeen, mark: SupplyMark, cylinder: Cylinder): SupplyJudgement {
  const problems = [...refusals(seen, mark, cylinder)];
  if (problems.length > 0) return { outcome: 'refused', problems };
  const shown = (value: number) => formatGauge(psi(value), cylinder.gaugeUnit);
  const fall = seen.fromPsi - seen.toPsi;
  const told = `the gauge fell by ${shown(fall)} in ${formatNumber(seen.minutes)} min`;
  if (isAtLeast(fall, mark.fallPsi))
    return { outcome: 'fail', because: `${told}; it must fall by less than ${shown(mark.fallPsi)}` };
  if (!isAtLeast(seen.minutes, mark.minutes)) {
    const message = `${formatNumber(seen.minutes)} min are too short to pass: the gauge is watched for ${formatNumber(mark.minutes)} min`;
    return {
      outcome: 'refused',
      problems: [
        problem('hold_too_short', message, `watch it for ${formatNumber(mark.minutes)} min or longer`),
      ],
    };
  }
  return { outcome: 'pass', because: told };
}

function* refusals(
  { fromPsi, toPsi }: SupplySeen,
  { fallPsi }: SupplyMark,
  cylinder: Cylinder,
): Generator<Problem> {
  const shown = (value: Psi) => formatGauge(value, cylinder.gaugeUnit);
  const highest = highestReadingPsi(cylinder);
  const high = [fromPsi, toPsi].find(value => isAbove(value, highest));
  if (high !== undefined) {
    const message = `${shown(high)} is above ${shown(highest)}, more than ${cylinder.id} can ever hold`;
    yield problem('reading_out_of_range', message, 'read the gauge again, and mind the unit');
  }
  if (isAbove(toPsi, fromPsi)) {
    const message = `the gauge rose from ${shown(fromPsi)} to ${shown(toPsi)}`;
    yield problem(
      'hold_pressure_rose',
      message,
      'is the cylinder shut? Open it, shut it again, and then read',
    );
  }
  if (!isAtLeast(fromPsi, fallPsi)) {
    // From below the mark no leak, however large, could make it fall by as much as the mark.
    const message = `the gauge began at ${shown(fromPsi)}, from where it cannot fall by ${shown(fallPsi)}: nothing would be shown`;
    yield problem(
      'hold_supply_empty',
      message,
      'open the cylinder until the gauge is up, shut it, and read again',
    );
  }
}
