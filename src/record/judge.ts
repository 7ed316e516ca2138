/**
 * The judgement of a leak test: one pure function for a circuit on a machine, in the order in which the outcomes are
 * decided. What cannot be judged is refused and never written.
 */
import type { HoldEntry } from '../generated/entry.ts';
import { type Problem, problem } from '../problem/problem.ts';
import { isAbove, isAtLeast } from '../quantity/compare.ts';
import { formatNumber } from '../quantity/format.ts';
import type { CmH2O, MlPerMin, Seconds } from '../quantity/units.ts';

/** What was seen at a hold: by gauge, by the taut bag, by the flow that made up for the leak, or gauge and flow together. */
export interface HoldSeen {
  readonly fall?:
    | { readonly fromCmH2O: CmH2O; readonly toCmH2O: CmH2O; readonly seconds: Seconds }
    | undefined;
  readonly taut?: { readonly steady: boolean; readonly seconds: Seconds } | undefined;
  readonly makeUp?: { readonly flowMlPerMin: MlPerMin; readonly atCmH2O: CmH2O } | undefined;
  /** undefined: not said. */
  readonly popOff: HoldEntry['pop_off'] | undefined;
}

/** What a pair is judged by. */
export interface HoldMark {
  readonly pressureCmH2O: CmH2O;
  /** For a pair without a gauge, the time that the taut bag is watched. */
  readonly seconds: Seconds;
  readonly dropCmH2O: CmH2O;
  readonly makeUpMlPerMin: MlPerMin;
  /** Whether a gauge shows this pair's pressure. */
  readonly gauge: boolean;
}

export type Judgement =
  | { readonly outcome: 'refused'; readonly problems: readonly Problem[] }
  | { readonly outcome: 'pass' | 'fail'; readonly reason: HoldEntry['reason']; readonly because: string };

/** Above this no circuit of a small animal is ever held: a slip of the pen, or another unit. */
const HIGHEST_CMH2O = 60;

/**
 * Judges a leak test.
 *
 * @example judgeHold({ fall: { fromCmH2O: 30, toCmH2O: 30, seconds: 10 }, popOff: 'open' }, mark)
 *   //=> { outcome: 'pass', reason: 'held', because: '30 cmH2O held for 10 s with no fall' }
 */
export function judgeHold(seen: HoldSeen, mark: HoldMark): Judgement {
  const problems = REFUSALS.flatMap(rule => rule(seen, mark) ?? []);
  if (problems.length > 0) return { outcome: 'refused', problems };
  const fail = failure(seen, mark);
  if (fail !== null) return { outcome: 'fail', ...fail };
  const short = tooShort(seen, mark);
  if (short !== null) return { outcome: 'refused', problems: [short] };
  return { outcome: 'pass', ...success(seen) };
}

type RefusalRule = (seen: HoldSeen, mark: HoldMark) => Problem | null;

const REFUSALS: readonly RefusalRule[] = [
  function readingTooHigh({ fall, makeUp }) {
    const readings = [fall?.fromCmH2O, fall?.toCmH2O, makeUp?.atCmH2O];
    const high = readings.find(reading => reading !== undefined && isAbove(reading, HIGHEST_CMH2O));
    if (high === undefined) return null;
    const message = `${pressure(high)} is above ${HIGHEST_CMH2O} cmH2O, more than any circuit is held at`;
    return problem(
      'hold_pressure_too_high',
      message,
      'read the gauge again, and mind the unit: a bare number is cmH2O',
    );
  },
  function pressureRose({ fall }) {
    if (fall === undefined || !isAbove(fall.toCmH2O, fall.fromCmH2O)) return null;
    const message = `the pressure rose from ${pressure(fall.fromCmH2O)} to ${pressure(fall.toCmH2O)}`;
    return problem('hold_pressure_rose', message, 'is the flow still on? Shut it and hold again');
  },
  function noGauge({ fall, makeUp }, { gauge }) {
    if (gauge || (fall === undefined && makeUp === undefined)) return null;
    const message =
      "a gauge reading was given, and the inventory knows no gauge that shows this pair's pressure";
    const remedy =
      'watch the taut bag: --steady or --slack with --seconds; or add pressure_gauge: true to the circuit';
    return problem('hold_without_gauge', message, remedy);
  },
  function makeUpPressureLow({ makeUp }, { pressureCmH2O }) {
    if (makeUp === undefined || isAtLeast(makeUp.atCmH2O, pressureCmH2O)) return null;
    const message = `the make-up flow was measured at ${pressure(makeUp.atCmH2O)}, below the ${pressure(pressureCmH2O)} that the practice holds at`;
    return problem(
      'make_up_pressure_low',
      message,
      `measure it at ${pressure(pressureCmH2O)} or above: a leak is less at less pressure`,
    );
  },
  function popOffUnanswered({ popOff }) {
    if (popOff !== undefined) return null;
    const remedy =
      'open it with the end still blocked, see the pressure fall to zero, and add --pop-off open; or --pop-off shut, --pop-off stuck';
    return problem('pop_off_unanswered', 'nothing is said of the pop-off', remedy);
  },
];

interface Verdict {
  reason: HoldEntry['reason'];
  because: string;
}

function failure({ fall, taut, makeUp, popOff }: HoldSeen, mark: HoldMark): Verdict | null {
  if (fall !== undefined && !isAtLeast(fall.fromCmH2O, mark.pressureCmH2O)) {
    const because = `the pressure could not be reached: ${pressure(fall.fromCmH2O)} of ${pressure(mark.pressureCmH2O)}`;
    return { reason: 'pressure_not_reached', because };
  }
  if (makeUp !== undefined && isAbove(makeUp.flowMlPerMin, mark.makeUpMlPerMin)) {
    const because = `${flow(makeUp.flowMlPerMin)} were needed to keep ${pressure(makeUp.atCmH2O)}, more than ${flow(mark.makeUpMlPerMin)}`;
    return { reason: 'make_up_above', because };
  }
  if (makeUp === undefined && fall !== undefined && isAbove(fall.fromCmH2O - fall.toCmH2O, mark.dropCmH2O)) {
    const allowed = mark.dropCmH2O === 0 ? 'no fall' : `a fall of ${pressure(mark.dropCmH2O)}`;
    const because = `the pressure fell from ${formatNumber(fall.fromCmH2O)} to ${pressure(fall.toCmH2O)} in ${formatNumber(fall.seconds)} s, and ${allowed} passes; measure the make-up flow, it decides`;
    return { reason: 'fell', because };
  }
  if (taut !== undefined && !taut.steady) {
    return { reason: 'went_slack', because: `the bag went slack within ${formatNumber(taut.seconds)} s` };
  }
  if (popOff === 'stuck') {
    return { reason: 'pop_off_stuck', because: 'the pop-off was opened and the pressure did not fall' };
  }
  return null;
}

/** A short time proves a leak, but never that there is none. A make-up flow needs no time. */
function tooShort({ fall, taut, makeUp }: HoldSeen, mark: HoldMark): Problem | null {
  const watched = taut?.seconds ?? fall?.seconds;
  if (makeUp !== undefined || watched === undefined || isAtLeast(watched, mark.seconds)) return null;
  const message = `${formatNumber(watched)} s are too short to pass: this pair is watched for ${formatNumber(mark.seconds)} s`;
  return problem('hold_too_short', message, `hold again for ${formatNumber(mark.seconds)} s or longer`);
}

function success({ fall, taut, makeUp }: HoldSeen): Verdict {
  if (makeUp !== undefined) {
    return {
      reason: 'make_up_within',
      because: `${flow(makeUp.flowMlPerMin)} kept ${pressure(makeUp.atCmH2O)}`,
    };
  }
  if (fall !== undefined) {
    const drop = fall.fromCmH2O - fall.toCmH2O;
    const how = drop === 0 ? 'no fall' : `a fall of ${pressure(drop)}`;
    return {
      reason: 'held',
      because: `${pressure(fall.fromCmH2O)} held for ${formatNumber(fall.seconds)} s with ${how}`,
    };
  }
  return { reason: 'held', because: `the bag stayed taut for ${formatNumber(taut?.seconds ?? 0)} s` };
}

function pressure(value: number): string {
  return `${formatNumber(value)} cmH2O`;
}

/** To the hundredth: a flow just above the mark must not read as the mark. */
function flow(value: MlPerMin): string {
  return value >= 1000 ? `${formatNumber(value / 1000, 3)} L/min` : `${formatNumber(value)} mL/min`;
}
