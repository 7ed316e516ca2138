/**
 * Comparing computed figures with limits that a person wrote.
 *
 * 6.8 × 250 must count as 1700 whatever the last binary digit says: otherwise a mark that fits exactly would be
 * passed over. A billionth of the larger number is far below anything a flowmeter, gauge or scale can show.
 */
const RELATIVE_TOLERANCE = 1e-9;

/** Whether `a` is at or above `b`, to within a billionth. @example isAtLeast(0.1 + 0.2, 0.3) //=> true */
export function isAtLeast(a: number, b: number): boolean {
  return a >= b - RELATIVE_TOLERANCE * Math.max(Math.abs(a), Math.abs(b));
}

/** Whether `a` is above `b` by more than a billionth. @example isAbove(0.1 + 0.2, 0.3) //=> false */
export function isAbove(a: number, b: number): boolean {
  return !isAtLeast(b, a);
}

/** Rounds to `step` without leaving binary dust. @example roundTo(612.0499999, 0.1) //=> 612 */
export function roundTo(value: number, step: 1 | 0.1 | 0.01 | 0.001): number {
  const perUnit = Math.round(1 / step);
  return Math.round(value * perUnit * (1 + Number.EPSILON)) / perUnit;
}
