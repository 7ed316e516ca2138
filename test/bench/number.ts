/** Figures of the page. */
import type { Unit } from './result.ts';

/**
 * About three significant digits, and the unit where it is none of `÷`.
 * @example quantity(0.1428, 'times') //=> '0.143'
 * @example quantity(1234.5, 'ms') //=> '1,235 ms'
 */
export function quantity(value: number, unit: Unit): string {
  return unit === 'times' ? figure(value, unit) : `${figure(value, unit)} ${unit}`;
}

export function figure(value: number, unit: Unit): string {
  if (unit === 'entries' || unit === 'places' || unit === 'processes') return count(value);
  const digits = value >= 100 ? 0 : value >= 10 ? 1 : value >= 1 ? 2 : 3;
  return value.toLocaleString('en', { minimumFractionDigits: digits, maximumFractionDigits: digits });
}

/** @example count(10000) //=> '10,000' */
export function count(value: number): string {
  return value.toLocaleString('en');
}
