import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays, daysBetween } from '../../src/calendar/date.ts';
import type { HoldEntry } from '../../src/generated/entry.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { theilSen } from '../../src/record/theil-sen.ts';
import { trendOf } from '../../src/record/trend.ts';
import { hold, larkhill } from './entries.ts';

const inventory = larkhill();

/** One hold a day from the first of November 2026, with these make-up flows. */
function daily(flows: readonly number[], given: Partial<HoldEntry> = {}): HoldEntry[] {
  return flows.map((flow, i) =>
    hold(`${addDays('2026-11-01', i)}T08:00:00+00:00`, 'y-piece-1', i % 2 === 0 ? 'theatre-1' : 'dental', {
      make_up: { flow_ml_min: flow, at_cmh2o: 30 },
      ...given,
    }),
  );
}

function leak(flows: readonly number[]) {
  return trendOf(foldStanding(inventory, daily(flows)), inventory, 'y-piece-1', null).series.find(
    ({ figure }) => figure === 'leak_ml_min',
  );
}

describe('trendOf', () => {
  it('gives slope and date of crossing from five points that rise', () => {
    // 100, 110, … on 1 to 5 November: above 200 first on day 11, the 12th.
    expect(leak([100, 110, 120, 130, 140])).toMatchObject({
      slopePerDay: 10,
      verdict: 'rising',
      crossesOn: '2026-11-12',
      mark: 200,
    });
  });

  it('guesses nothing from four', () => {
    expect(leak([100, 110, 120, 130])).toMatchObject({
      slopePerDay: null,
      verdict: 'too_few',
      crossesOn: null,
    });
  });

  it('names no date where it does not rise', () => {
    expect(leak([100, 100, 100, 100, 100])).toMatchObject({
      slopePerDay: 0,
      verdict: 'steady',
      crossesOn: null,
    });
    expect(leak([140, 130, 120, 110, 100])).toMatchObject({
      slopePerDay: -10,
      verdict: 'steady',
      crossesOn: null,
    });
  });

  it('names no date more than ten years off, and none that has gone by', () => {
    expect(leak([100, 100.01, 100.02, 100.03, 100.04])).toMatchObject({ verdict: 'rising', crossesOn: null });
    expect(leak([100, 150, 200, 250, 300])).toMatchObject({ verdict: 'above', crossesOn: null });
  });

  it('is not moved by one wild point', () => {
    expect(leak([100, 110, 900, 130, 140, 150, 160])?.slopePerDay).toBe(10);
  });

  it('guesses nothing from points of a single day', () => {
    const holds = ['08:00', '09:00', '10:00', '11:00', '12:00'].map((on, i) =>
      hold(on, 'y-piece-1', 'theatre-1', { make_up: { flow_ml_min: 100 + i, at_cmh2o: 30 } }),
    );
    const [series] = trendOf(foldStanding(inventory, holds), inventory, 'y-piece-1', null).series;
    expect(series).toMatchObject({ slopePerDay: null, verdict: 'too_few' });
  });

  it('brings falls to the time of the rule', () => {
    const holds = daily([1], { fall: { from_cmh2o: 30, to_cmh2o: 27, seconds: 30 } });
    const series = trendOf(foldStanding(inventory, holds), inventory, 'y-piece-1', null).series.find(
      ({ figure }) => figure === 'fall_cmh2o',
    );
    expect(series?.points[0]?.value).toBe(1);
  });

  it('keeps a leak that is only a lower bound out of the line', () => {
    const holds = hold('08:00', 'y-piece-1', 'dental', { leak: { ml_min: 120, at_least: true } });
    const trend = trendOf(foldStanding(inventory, [holds]), inventory, 'y-piece-1', null);
    expect(trend.points[0]).toMatchObject({ leakMlPerMin: 120, leakAtLeast: true });
    expect(trend.series.map(({ figure }) => figure)).toEqual(['fall_cmh2o']);
  });

  it('leaves out what was done before a date', () => {
    const trend = trendOf(foldStanding(inventory, daily([1, 2, 3])), inventory, 'y-piece-1', '2026-11-02');
    expect(trend.points.map(({ date }) => date)).toEqual(['2026-11-02', '2026-11-03']);
  });

  it('names the first date on which the line lies above the mark', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 150 }), fc.integer({ min: 1, max: 40 }), (start, step) => {
        const flows = [0, 1, 2, 3, 4].map(i => start + i * step);
        const series = leak(flows);
        if (series?.crossesOn == null) {
          expect((flows.at(-1) ?? 0) > 200).toBe(true);
          return;
        }
        const onDate = start + step * daysBetween('2026-11-01', series.crossesOn);
        expect(onDate).toBeGreaterThan(200);
        expect(onDate - step).toBeLessThanOrEqual(200);
      }),
    );
  });
});

describe('theilSen', () => {
  it('finds the very line that the points lie on', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -50, max: 50 }),
        fc.integer({ min: -50, max: 50 }),
        fc.uniqueArray(fc.integer({ min: 0, max: 99 }), { minLength: 2 }),
        (slope, intercept, xs) => {
          const line = theilSen(xs.map(x => ({ x, y: intercept + slope * x })));
          expect(line?.slope).toBeCloseTo(slope, 9);
          expect(line?.intercept).toBeCloseTo(intercept, 9);
        },
      ),
    );
  });

  it('has no line through points of one x', () => {
    expect(
      theilSen([
        { x: 1, y: 1 },
        { x: 1, y: 2 },
      ]),
    ).toBeNull();
  });
});
