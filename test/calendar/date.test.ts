import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  addMonths,
  dateOfDay,
  dayOf,
  daysBetween,
  monthsBetween,
  parseDate,
} from '../../src/calendar/date.ts';
import { someDate } from './arbitraries.ts';
import { walk, walkMonths } from './naive.ts';

describe('parseDate', () => {
  it.each(['2026-11-25', '2024-02-29', '2000-02-29', '0001-01-01', '9999-12-31'])('takes %s', text => {
    expect(parseDate(text)).toBe(text);
  });

  it.each([
    '2026-02-29',
    '1900-02-29',
    '2026-13-01',
    '2026-00-10',
    '2026-04-31',
    '2026-01-00',
    '26-01-01',
    '2026-1-1',
    '20260101',
    '2026-01-01T00:00:00Z',
    ' 2026-01-01',
    '2026-01-01\n',
    '',
    'today',
    '-2026-01-01',
    '+12026-01-01',
    '２０２６-01-01',
  ])('refuses %j', text => {
    expect(parseDate(text)).toBeNull();
  });
});

describe('the count of days', () => {
  it('goes both ways for every day of 400 years', () => {
    const first = dayOf('1800-01-01');
    for (let day = first; day < first + 146_097; day++) {
      if (dayOf(dateOfDay(day)) !== day) expect.fail(dateOfDay(day));
    }
    expect(dateOfDay(first + 146_097)).toBe('2200-01-01');
  });

  it('throws for what is no date, and for dates that would not sort as texts', () => {
    expect(() => dayOf('tomorrow')).toThrow(RangeError);
    expect(() => addDays('9999-12-31', 1)).toThrow(RangeError);
    expect(() => addMonths('9999-12-31', 1)).toThrow(RangeError);
  });

  it('keeps the years before 100', () => {
    expect(addDays('0099-12-31', 1)).toBe('0100-01-01');
    expect(addMonths('0050-01-31', 1)).toBe('0050-02-28');
  });
});

describe('addDays', () => {
  it('equals a walk, one day at a time', () => {
    fc.assert(
      fc.property(someDate, fc.integer({ min: 0, max: 1500 }), (date, days) => {
        expect(addDays(date, days)).toBe(walk(date, days));
        expect(addDays(addDays(date, days), -days)).toBe(date);
        expect(daysBetween(date, addDays(date, days))).toBe(days);
      }),
    );
  });
});

describe('addMonths', () => {
  it('equals a walk to the month and the day', () => {
    fc.assert(
      fc.property(someDate, fc.integer({ min: 0, max: 48 }), (date, months) => {
        expect(addMonths(date, months)).toBe(walkMonths(date, months));
        expect(monthsBetween(date, addMonths(date, months))).toBe(months);
      }),
    );
  });

  it.each([
    ['2026-01-31', 1, '2026-02-28'],
    ['2024-01-31', 1, '2024-02-29'],
    ['2024-02-29', 12, '2025-02-28'],
    ['2024-02-29', 48, '2028-02-29'],
    ['2026-12-31', 2, '2027-02-28'],
    ['2026-03-31', -1, '2026-02-28'],
    ['2026-01-15', -13, '2024-12-15'],
  ])('%s and %i months is %s', (date, months, expected) => {
    expect(addMonths(date, months)).toBe(expected);
  });
});
