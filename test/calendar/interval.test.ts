import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '../../src/calendar/date.ts';
import { daysInInterval, firstOnGridAfter, type Interval, nthDate } from '../../src/calendar/interval.ts';
import type { OpenDays } from '../../src/calendar/open-days.ts';
import { someDate, someInterval, somePractice } from './arbitraries.ts';
import { walk, walkMonths, walkOpenDays } from './naive.ts';

const WEEK: OpenDays = { openDays: ['mon', 'tue', 'wed', 'thu', 'fri'], closedDates: [] };

/** The n-th date by walking there from the anchor. */
function walked(
  anchor: string,
  { unit, count }: Interval,
  n: number,
  { openDays, closedDates }: OpenDays,
): string {
  switch (unit) {
    case 'days':
      return walk(anchor, n * count);
    case 'weeks':
      return walk(anchor, n * count * 7);
    case 'months':
      return walkMonths(anchor, n * count);
    case 'years':
      return walkMonths(anchor, n * count * 12);
    case 'open_days':
      return walkOpenDays(anchor, n * count, openDays, closedDates);
  }
}

describe('nthDate', () => {
  it('equals a walk from the anchor', () => {
    fc.assert(
      fc.property(
        someDate,
        someInterval,
        fc.integer({ min: 0, max: 8 }),
        somePractice,
        (anchor, interval, n, practice) => {
          expect(nthDate(anchor, interval, n, practice)).toBe(walked(anchor, interval, n, practice));
        },
      ),
      { numRuns: 60 },
    );
  });

  it('rises with n', () => {
    fc.assert(
      fc.property(
        someDate,
        someInterval,
        fc.integer({ min: 0, max: 20 }),
        somePractice,
        (anchor, interval, n, practice) => {
          expect(nthDate(anchor, interval, n + 1, practice) > nthDate(anchor, interval, n, practice)).toBe(
            true,
          );
        },
      ),
    );
  });

  it('comes back to the 31st after a short month, which a chain would not', () => {
    const monthly: Interval = { unit: 'months', count: 1 };
    expect([1, 2, 3, 4].map(n => nthDate('2026-01-31', monthly, n, WEEK))).toEqual([
      '2026-02-28',
      '2026-03-31',
      '2026-04-30',
      '2026-05-31',
    ]);
  });

  it('comes back to 29 February in the next leap year', () => {
    const yearly: Interval = { unit: 'years', count: 1 };
    expect([1, 2, 3, 4].map(n => nthDate('2024-02-29', yearly, n, WEEK))).toEqual([
      '2025-02-28',
      '2026-02-28',
      '2027-02-28',
      '2028-02-29',
    ]);
  });

  it('counts 53 weeks from the first to the last Thursday of a year that has them', () => {
    // 2026 begins and ends on a Thursday: ISO weeks 1 to 53.
    expect(nthDate('2026-01-01', { unit: 'weeks', count: 1 }, 52, WEEK)).toBe('2026-12-31');
    expect(nthDate('2026-01-01', { unit: 'weeks', count: 53 }, 1, WEEK)).toBe('2027-01-07');
  });

  it('is not moved by the days on which clocks change', () => {
    const daily: Interval = { unit: 'days', count: 1 };
    for (const day of ['2026-03-08', '2026-03-29', '2026-10-25', '2026-11-01', '2026-04-24', '2026-10-30']) {
      expect(nthDate(addDays(day, -1), daily, 1, WEEK)).toBe(day);
      expect(nthDate(day, daily, 1, WEEK)).toBe(walk(day, 1));
      expect(nthDate(day, { unit: 'months', count: 1 }, 1, WEEK)).toBe(walkMonths(day, 1));
    }
  });
});

describe('firstOnGridAfter', () => {
  it('is the first date of the grid after the day, found by going through the grid', () => {
    fc.assert(
      fc.property(
        someDate,
        someInterval,
        fc.integer({ min: -400, max: 2500 }),
        somePractice,
        (anchor, interval, days, practice) => {
          const after = addDays(anchor, days);
          let n = 0;
          while (nthDate(anchor, interval, n, practice) <= after) n++;
          expect(firstOnGridAfter(anchor, interval, after, practice)).toBe(
            nthDate(anchor, interval, n, practice),
          );
        },
      ),
    );
  });

  it('lies after the day, and a day on the grid leads to the next', () => {
    fc.assert(
      fc.property(
        someDate,
        someInterval,
        fc.integer({ min: 0, max: 30 }),
        somePractice,
        (anchor, interval, n, practice) => {
          const onGrid = nthDate(anchor, interval, n, practice);
          expect(firstOnGridAfter(anchor, interval, onGrid, practice)).toBe(
            nthDate(anchor, interval, n + 1, practice),
          );
          expect(firstOnGridAfter(anchor, interval, addDays(onGrid, -1), practice)).toBe(onGrid);
        },
      ),
    );
  });

  it('is the anchor for every day before it', () => {
    expect(firstOnGridAfter('2026-01-31', { unit: 'months', count: 6 }, '2019-05-05', WEEK)).toBe(
      '2026-01-31',
    );
  });
});

describe('daysInInterval', () => {
  it.each([
    [{ unit: 'days', count: 7 }, 7],
    [{ unit: 'weeks', count: 1 }, 7],
    [{ unit: 'months', count: 1 }, 30],
    [{ unit: 'years', count: 1 }, 365],
    [{ unit: 'open_days', count: 5 }, 7],
  ] as const)('%o is about %i days', (interval, days) => {
    expect(daysInInterval(interval, WEEK)).toBe(days);
  });
});
