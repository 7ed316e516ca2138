/** What a part of the bench has found: rows with goals, growth to be drawn, remarks. Kept as JSON; the page is made from it. */
import { readFileSync } from 'node:fs';
import type { Spread } from './measure.ts';

/** `times`: a ratio. */
export const UNITS = ['times', 'ms', 'MiB', 'entries', 'places', 'processes'] as const;
export type Unit = (typeof UNITS)[number];

export interface Row {
  /** In Markdown; a ratio with its `÷`. */
  readonly what: string;
  readonly unit: Unit;
  readonly figure: Spread;
  /** The most that it may be; null: no goal was set. */
  readonly goal: number | null;
  /** What must not be above the goal. */
  readonly judged: 'median' | 'high';
  /** What the figure is made of: `84 ms ÷ 28 ms`. */
  readonly from: string;
}

export interface Growth {
  readonly title: string;
  readonly unit: Unit;
  readonly series: readonly {
    readonly name: string;
    readonly points: readonly { readonly lines: number; readonly value: number }[];
  }[];
}

export interface Found {
  readonly rows: readonly Row[];
  readonly growth: readonly Growth[];
  readonly remarks: readonly string[];
}

/** Where and when. The load is the machine's before the whole run, over 1, 5 and 15 minutes. */
export interface Run {
  readonly at: string;
  readonly machine: string;
  readonly load: readonly number[];
  readonly commit: string;
}

export interface PartResult extends Found {
  readonly run: Run;
}

export function isMissed({ goal, judged, figure }: Row): boolean {
  return goal !== null && !(figure[judged] <= goal);
}

/** A kept result. @returns null where the part has none yet. @throws where the file holds something else */
export function readResult(file: string): PartResult | null {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    return null;
  }
  const value: unknown = JSON.parse(text);
  if (!isFound(value) || !('run' in value) || !isRun(value.run)) throw new Error(`${file} holds no result`);
  return { ...value, run: value.run };
}

export function isFound(value: unknown): value is Found {
  return (
    isObject(value) &&
    isListOf(value.rows, isRow) &&
    isListOf(value.growth, isGrowth) &&
    isListOf(value.remarks, isString)
  );
}

function isRow(value: unknown): value is Row {
  return (
    isObject(value) &&
    isString(value.what) &&
    isString(value.from) &&
    isUnit(value.unit) &&
    isObject(value.figure) &&
    [value.figure.median, value.figure.low, value.figure.high].every(isNumber) &&
    (value.goal === null || isNumber(value.goal)) &&
    (value.judged === 'median' || value.judged === 'high')
  );
}

function isGrowth(value: unknown): value is Growth {
  return isObject(value) && isString(value.title) && isUnit(value.unit) && isListOf(value.series, isSeries);
}

function isSeries(value: unknown): value is Growth['series'][number] {
  const isPoint = (point: unknown): point is { lines: number; value: number } =>
    isObject(point) && isNumber(point.lines) && isNumber(point.value);
  return isObject(value) && isString(value.name) && isListOf(value.points, isPoint);
}

function isRun(value: unknown): value is Run {
  return (
    isObject(value) &&
    [value.at, value.machine, value.commit].every(isString) &&
    isListOf(value.load, isNumber)
  );
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}

function isListOf<T>(value: unknown, isOne: (one: unknown) => one is T): value is readonly T[] {
  return Array.isArray(value) && value.every(isOne);
}

function isString(value: unknown): value is string {
  return typeof value === 'string';
}

function isNumber(value: unknown): value is number {
  return typeof value === 'number';
}

function isUnit(value: unknown): value is Unit {
  return UNITS.some(unit => unit === value);
}
