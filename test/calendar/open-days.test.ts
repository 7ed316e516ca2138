import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '../../src/calendar/date.ts';
import {
  addOpenDays,
  isOpen,
  type OpenDays,
  openDaysBetween,
  weekdayOf,
} from '../../src/calendar/open-days.ts';
import { someDate, somePractice } from './arbitraries.ts';
import { naiveWeekday, walkOpenDays } from './naive.ts';

const LARKHILL: OpenDays = {
  openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat'],
  closedDates: ['2026-12-25', '2026-12-26'],
};

describe('weekdayOf', () => {
  it('equals a count from Monday 1 January 1900', () => {
    fc.assert(
      fc.property(someDate, date => {
        expect(weekdayOf(date)).toBe(naiveWeekday(date));
      }),
      { numRuns: 50 },
    );
  });

  it('goes on before 1970', () => {
    expect(weekdayOf('1969-12-31')).toBe('wed');
    expect(weekdayOf('1969-12-25')).toBe('thu');
  });
});

describe('addOpenDays', () => {
  it('passes over Sunday and over the closed dates', () => {
    expect(addOpenDays('2026-11-28', 1, LARKHILL)).toBe('2026-11-30');
    expect(addOpenDays('2026-12-24', 1, LARKHILL)).toBe('2026-12-28');
    expect(addOpenDays('2026-12-24', 0, LARKHILL)).toBe('2026-12-24');
  });

  it('equals a walk', () => {
    fc.assert(
      fc.property(someDate, fc.integer({ min: 0, max: 60 }), somePractice, (date, count, practice) => {
        const found = addOpenDays(date, count, practice);
        expect(found).toBe(walkOpenDays(date, count, practice.openDays, practice.closedDates));
        expect(openDaysBetween(date, found, practice)).toBe(count);
      }),
      { numRuns: 60 },
    );
  });

  it('ends on an open day', () => {
    fc.assert(
      fc.property(someDate, fc.integer({ min: 1, max: 30 }), somePractice, (date, count, practice) => {
        const found = addOpenDays(date, count, practice);
        expect(isOpen(found, practice)).toBe(true);
        expect(openDaysBetween(date, addDays(found, -1), practice)).toBe(count - 1);
      }),
    );
  });

  it('refuses a practice that never opens, rather than walk for ever', () => {
    expect(() => addOpenDays('2026-11-28', 1, { openDays: [], closedDates: [] })).toThrow(RangeError);
  });
});

describe('openDaysBetween', () => {
  it('is 0 when the second date is not later', () => {
    expect(openDaysBetween('2026-11-28', '2026-11-28', LARKHILL)).toBe(0);
    expect(openDaysBetween('2026-11-28', '2026-11-02', LARKHILL)).toBe(0);
  });
});
