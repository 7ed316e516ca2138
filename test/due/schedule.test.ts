import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '../../src/calendar/date.ts';
import { nthDate } from '../../src/calendar/interval.ts';
import { nextDate, type Schedule } from '../../src/due/schedule.ts';
import { someDate, someInterval, somePractice } from '../calendar/arbitraries.ts';

const PRACTICE = { name: 'Larkhill Animal Clinic', timeZone: 'Europe/Dublin' };

const somewhere = somePractice.map(openDays => ({ ...PRACTICE, ...openDays }));
const lastDone = someInterval.map((every): Schedule => ({ every, countedFrom: 'last_done', starting: null }));

/** A calendar schedule with a pass so many days after the beginning of its grid. */
const calendar = fc
  .tuple(someInterval, someDate)
  .map(([every, starting]) => ({ every, countedFrom: 'calendar' as const, starting }));

describe('nextDate', () => {
  it('lies after what it is counted from', () => {
    fc.assert(
      fc.property(fc.oneof(lastDone, calendar), someDate, somewhere, (schedule, base, practice) => {
        const next = nextDate(schedule, base, null, practice);
        expect(next !== null && next > base).toBe(true);
        expect(nextDate(schedule, null, base, practice)).toBe(next);
      }),
    );
  });

  it('counts from the last pass, and only without one from the day of coming into service', () => {
    fc.assert(
      fc.property(
        fc.oneof(lastDone, calendar),
        someDate,
        someDate,
        somewhere,
        (schedule, pass, since, practice) => {
          expect(nextDate(schedule, pass, since, practice)).toBe(nextDate(schedule, pass, null, practice));
        },
      ),
    );
  });

  it('never brings two dates into one period of a calendar check, however early it is done', () => {
    const early = fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(
        calendar,
        early,
        fc.integer({ min: 0, max: 12 }),
        somewhere,
        (schedule, offsets, n, practice) => {
          const from = nthDate(schedule.starting, schedule.every, n, practice);
          const until = nthDate(schedule.starting, schedule.every, n + 1, practice);
          const passes = offsets.map(days => addDays(from, days)).filter(day => day < until);
          const next = passes.map(pass => nextDate(schedule, pass, null, practice));
          // Every pass within [from, until) leads to the same date, which opens the next period.
          for (const date of next) expect(date).toBe(until);
        },
      ),
    );
  });

  it('moves on with every later pass, never back', () => {
    fc.assert(
      fc.property(
        fc.oneof(lastDone, calendar),
        someDate,
        fc.integer({ min: 1, max: 500 }),
        somewhere,
        (schedule, pass, days, practice) => {
          const [one, other] = [pass, addDays(pass, days)].map(
            date => nextDate(schedule, date, null, practice) ?? '',
          );
          expect((other ?? '') >= (one ?? '')).toBe(true);
        },
      ),
    );
  });

  it('is the first date of the grid where nothing says since when the asset is in service', () => {
    const practice = { ...PRACTICE, openDays: ['mon'] as const, closedDates: [] };
    const schedule: Schedule = {
      every: { unit: 'months', count: 6 },
      countedFrom: 'calendar',
      starting: '2026-01-31',
    };
    expect(nextDate(schedule, null, null, practice)).toBe('2026-01-31');
    expect(nextDate(schedule, null, '2026-01-31', practice)).toBe('2026-07-31');
  });

  it('is null without an interval, and where there is nothing to count from', () => {
    const practice = { ...PRACTICE, openDays: ['mon'] as const, closedDates: [] };
    expect(
      nextDate({ every: null, countedFrom: 'last_done', starting: null }, '2026-01-31', null, practice),
    ).toBeNull();
    const monthly: Schedule = {
      every: { unit: 'months', count: 1 },
      countedFrom: 'last_done',
      starting: null,
    };
    expect(nextDate(monthly, null, null, practice)).toBeNull();
  });
});
