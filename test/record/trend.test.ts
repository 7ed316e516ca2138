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

describe('the points and series of a circuit', () => {
  const trendOfHolds = (holds: HoldEntry[], since: string | null = null) =>
    trendOf(foldStanding(inventory, holds), inventory, 'y-piece-1', since);

  it('are its holds with every machine, in the order in which they were done, and of no other circuit', () => {
    const holds = [
      hold('2026-11-03T08:00:00+00:00', 'y-piece-1', 'theatre-1'),
      hold('2026-11-01T08:00:00+00:00', 'bain-1', 'dental'),
      hold('2026-11-04T08:00:00+00:00', 'y-piece-1', 'dental'),
      hold('2026-11-05T08:00:00+00:00', 'y-piece-1', 'theatre-1'),
    ];
    expect(trendOfHolds(holds).points.map(({ date, machine }) => `${date} ${machine}`)).toEqual([
      '2026-11-03 theatre-1',
      '2026-11-04 dental',
      '2026-11-05 theatre-1',
    ]);
  });

  it('carry what was read', () => {
    const fell = hold('2026-11-03T08:00:00+00:00', 'y-piece-1', 'theatre-1', {
      fall: { from_cmh2o: 32, to_cmh2o: 29, seconds: 15 },
      leak: { ml_min: 96, at_least: false },
      result: 'fail',
      reason: 'fell',
    });
    const { fall: _, ...taut } = hold('2026-11-04T08:00:00+00:00', 'y-piece-1', 'dental', {
      taut: { steady: true, seconds: 45 },
    });
    const made = hold('2026-11-05T08:00:00+00:00', 'y-piece-1', 'dental', {
      make_up: { flow_ml_min: 110, at_cmh2o: 30 },
      leak: { ml_min: 300, at_least: true },
    });
    const [first, second, third] = trendOfHolds([fell, taut, made]).points;
    expect(first).toEqual({
      entry: fell.id,
      on: fell.on,
      date: '2026-11-03',
      machine: 'theatre-1',
      result: 'fail',
      reason: 'fell',
      fallCmH2O: 3,
      seconds: 15,
      leakMlPerMin: 96,
      leakAtLeast: false,
    });
    expect(second).toMatchObject({ fallCmH2O: null, seconds: 45, leakMlPerMin: null, leakAtLeast: false });
    // The make-up flow was measured: what the fall let estimate no longer counts.
    expect(third).toMatchObject({ leakMlPerMin: 110, leakAtLeast: false });
  });

  it('make one series per figure that was measured, against the mark of the rule', () => {
    const holds = [
      hold('2026-11-03T08:00:00+00:00', 'y-piece-1', 'theatre-1', {
        fall: { from_cmh2o: 30, to_cmh2o: 24, seconds: 20 },
        leak: { ml_min: 96, at_least: false },
      }),
      hold('2026-11-04T08:00:00+00:00', 'y-piece-1', 'theatre-1', {
        fall: { from_cmh2o: 30, to_cmh2o: 24, seconds: 20 },
        leak: { ml_min: 90, at_least: true },
        result: 'fail',
      }),
    ];
    expect(trendOfHolds(holds).series).toEqual([
      {
        figure: 'leak_ml_min',
        points: [{ date: '2026-11-03', value: 96, result: 'pass' }],
        mark: 200,
        slopePerDay: null,
        crossesOn: null,
        verdict: 'too_few',
      },
      {
        figure: 'fall_cmh2o',
        // 6 cmH2O in 20 s are 3 in the rule's 10 s.
        points: [
          { date: '2026-11-03', value: 3, result: 'pass' },
          { date: '2026-11-04', value: 3, result: 'fail' },
        ],
        mark: 0,
        slopePerDay: null,
        crossesOn: null,
        verdict: 'too_few',
      },
    ]);
    expect(trendOfHolds([]).series).toEqual([]);
  });

  it('begin on the date that is asked, that day included', () => {
    expect(trendOfHolds(daily([1, 2, 3]), '2026-11-03').points.map(({ date }) => date)).toEqual([
      '2026-11-03',
    ]);
    expect(trendOfHolds(daily([1, 2, 3]), '2026-11-04').points).toEqual([]);
  });

  it('have no mark, and so no series, where the circuit has left the inventory', () => {
    const old = daily([1, 2]).map(entry => ({ ...entry, circuit: 'y-piece-9' }));
    const trend = trendOf(foldStanding(inventory, old), inventory, 'y-piece-9', null);
    expect(trend).toMatchObject({ circuit: 'y-piece-9', series: [] });
    expect(trend.points).toHaveLength(2);
  });

  it('stand above from the mark on, not at it', () => {
    expect(leak([200, 200, 200, 200, 200])).toMatchObject({ verdict: 'steady', crossesOn: null });
    expect(leak([200.1, 200.1, 200.1, 200.1, 200.1])).toMatchObject({ verdict: 'above' });
    // Ends on the mark and rises: above on the next day.
    expect(leak([160, 170, 180, 190, 200])).toMatchObject({ verdict: 'rising', crossesOn: '2026-11-06' });
  });

  it('name a date up to ten years off and none beyond', () => {
    // 100 mL/min to go at a slope of 100 / 3653 a day lie just within; a little less does not.
    const slow = (perDay: number) => leak([0, 1, 2, 3, 4].map(i => 100 + i * perDay));
    expect(slow(100 / 3650)?.crossesOn).toBe(addDays('2026-11-01', 3651));
    expect(slow(100 / 3656.5)?.crossesOn).toBe(addDays('2026-11-01', 3657));
    expect(slow(100 / 3657.5)?.crossesOn).toBeNull();
  });

  it('draw the line through the last thousand points alone', () => {
    const day = (i: number, flow: number) =>
      hold(`${addDays('2020-01-01', i)}T08:00:00+00:00`, 'y-piece-1', 'theatre-1', {
        make_up: { flow_ml_min: flow, at_cmh2o: 30 },
      });
    const early = Array.from({ length: 1000 }, (_, i) => day(i, 190));
    const late = Array.from({ length: 1000 }, (_, i) => day(1000 + i, 50 + i * 0.01));
    const series = trendOfHolds([...early, ...late]).series.find(({ figure }) => figure === 'leak_ml_min');
    expect(series?.points).toHaveLength(2000);
    expect(series?.slopePerDay).toBeCloseTo(0.01, 9);
    expect(series?.verdict).toBe('rising');
  });
});

describe('theilSen', () => {
  it('takes the median of the slopes, and the median of what is left', () => {
    expect(
      theilSen([
        { x: 0, y: 0 },
        { x: 1, y: 2 },
        { x: 2, y: 90 },
        { x: 3, y: 6 },
      ]),
    ).toEqual({ slope: 2, intercept: 0 });
    // Slopes 1, 2 and 3: the middle one. What is left over it: 0, −1 and 0.
    expect(
      theilSen([
        { x: 0, y: 0 },
        { x: 1, y: 1 },
        { x: 2, y: 4 },
      ]),
    ).toEqual({ slope: 2, intercept: 0 });
    // Two points: the line through them.
    expect(
      theilSen([
        { x: 0, y: 10 },
        { x: 2, y: 20 },
      ]),
    ).toEqual({ slope: 5, intercept: 10 });
    expect(
      theilSen([
        { x: 0, y: 0 },
        { x: 0, y: 4 },
        { x: 2, y: 10 },
      ]),
      // Slopes 5 and 3: 4. Left: 0, 4 and 2.
    ).toEqual({ slope: 4, intercept: 2 });
    expect(theilSen([])).toBeNull();
  });

  it('leaves out pairs of one x, not the points', () => {
    const line = theilSen([
      { x: 0, y: 1 },
      { x: 0, y: 3 },
      { x: 1, y: 2 },
      { x: 1, y: 4 },
    ]);
    // Slopes 1, 3, −1 and 1.
    expect(line).toEqual({ slope: 1, intercept: 2 });
  });

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
