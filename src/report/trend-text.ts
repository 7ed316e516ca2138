/** A circuit's holds over time, drawn in the terminal. */
import { dayOf } from '../calendar/date.ts';
import { formatNumber } from '../quantity/format.ts';
import type { Series, Trend } from '../record/trend.ts';
import type { RecordState } from './record-damaged.ts';
import { safeJson } from './safe-text.ts';
import { moment } from './suspect-words.ts';
import { counted, padStart, wrap } from './text.ts';

const ROWS = 10;
const LATEST = 10;

/** One chart for each figure that was measured, what the line says, and the latest holds. */
export function renderTrend(trend: Trend, width: number): string {
  const { circuit, points, series } = trend;
  if (points.length === 0) return `${circuit}: no leak test in the record.\n`;
  const passed = points.filter(({ result }) => result === 'pass').length;
  const first = points[0]?.date;
  const last = points.at(-1)?.date;
  const parts = [
    wrap(
      `${circuit}: ${counted(points.length, 'leak test')} from ${first} to ${last}, ${passed} passed, ${points.length - passed} failed.`,
      width,
    ),
    ...series.map(one => [wrap(verdictWords(one), width, '', '  '), '', ...chart(one, width)].join('\n')),
    latest(trend, width),
  ];
  return `${parts.join('\n\n')}\n`;
}

const FIGURES = {
  leak_ml_min: { name: 'Leak', unit: 'mL/min' },
  fall_cmh2o: { name: 'Fall', unit: 'cmH2O' },
} as const;

/** @example verdictWords(series) //=> 'Leak: rises by 10 mL/min a day; would pass the mark of 200 mL/min on 2026-11-12.' */
function verdictWords({ figure, points, mark, slopePerDay, crossesOn, verdict }: Series): string {
  const { name, unit } = FIGURES[figure];
  const ofMark = `the mark of ${formatNumber(mark)} ${unit}`;
  switch (verdict) {
    case 'too_few':
      return `${name}: ${counted(points.length, 'measurement')}; a trend needs five, and more than one day.`;
    case 'above':
      return `${name}: the line is above ${ofMark} already.`;
    case 'steady':
      return `${name}: does not rise.`;
    case 'rising': {
      const slope = `rises by ${formatNumber(slopePerDay ?? 0, 3)} ${unit} a day`;
      return crossesOn === null
        ? `${name}: ${slope}; ${ofMark} is more than ten years off.`
        : `${name}: ${slope}; would pass ${ofMark} on ${crossesOn}, if it goes on so.`;
    }
  }
}

/** `o` passed, `x` failed; the mark is a line of dashes. Time runs to the right, in days. */
function chart({ figure, points, mark }: Series, width: number): string[] {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return [];
  const highest = Math.max(mark, ...points.map(({ value }) => value)) || 1;
  const labels = [highest, highest / 2, 0].map(value => formatNumber(value, 1));
  const gutter = Math.max(...labels.map(label => label.length)) + 1;
  const columns = Math.max(10, Math.min(width, 100) - gutter - 2);
  const days = dayOf(last.date) - dayOf(first.date) || 1;
  const grid = Array.from({ length: ROWS + 1 }, () => Array.from({ length: columns }, () => ' '));
  const rowOf = (value: number) => ROWS - Math.round((Math.max(0, value) / highest) * ROWS);
  grid[rowOf(mark)]?.fill('-');
  for (const { date, value, result } of points) {
    const column = Math.round(((dayOf(date) - dayOf(first.date)) / days) * (columns - 1));
    const row = grid[rowOf(value)];
    // A failure is never hidden behind a pass in the same place.
    if (row !== undefined && row[column] !== 'x') row[column] = result === 'fail' ? 'x' : 'o';
  }
  const lines = grid.map((row, i) => {
    const label = i === 0 ? labels[0] : i === ROWS / 2 ? labels[1] : i === ROWS ? labels[2] : '';
    return `${padStart(label ?? '', gutter)}|${row.join('')}`.trimEnd();
  });
  const dates = `${first.date}${last.date.padStart(Math.max(11, columns - 10))}`;
  return [
    `${FIGURES[figure].unit}   o passed, x failed, --- mark`,
    ...lines,
    `${' '.repeat(gutter + 1)}${dates}`,
  ];
}

function latest({ points }: Trend, width: number): string {
  const rows = points.slice(-LATEST).map(({ on, machine, result, fallCmH2O, leakMlPerMin, leakAtLeast }) => {
    const leak =
      leakMlPerMin === null
        ? null
        : `leak ${leakAtLeast ? 'at least ' : ''}${formatNumber(leakMlPerMin, 1)} mL/min`;
    const fall = fallCmH2O === null ? null : `fall ${formatNumber(fallCmH2O)} cmH2O`;
    const words = [`${result === 'pass' ? 'PASS' : 'FAIL'} on ${machine}`, fall, leak].filter(
      part => part !== null,
    );
    return wrap(words.join(', '), width, `${moment(on)}  `, ' '.repeat(18));
  });
  return [points.length > LATEST ? `The latest ${LATEST}:` : 'All of them:', ...rows].join('\n');
}

/** `holdfast.trend/1`: every hold, and each figure's line. */
export function renderTrendJson({ circuit, points, series }: Trend, record: RecordState): string {
  const document = {
    format: 'holdfast.trend/1',
    record,
    circuit,
    holds: points.map(point => ({
      entry: point.entry,
      on: point.on,
      machine: point.machine,
      result: point.result,
      reason: point.reason,
      fall_cmh2o: point.fallCmH2O,
      seconds: point.seconds,
      leak_ml_min: point.leakMlPerMin,
      leak_at_least: point.leakAtLeast,
    })),
    series: series.map(({ figure, points: measured, mark, slopePerDay, crossesOn, verdict }) => ({
      figure,
      count: measured.length,
      mark,
      slope_per_day: slopePerDay,
      crosses_on: crossesOn,
      verdict,
    })),
  };
  return `${safeJson(document)}\n`;
}
