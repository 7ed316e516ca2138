/** Intervals and month ends beside published intervals and agreed rules. */
import { describe, it } from 'vitest';
import { addDays, addMonths } from '../../src/calendar/date.ts';
import { firstOnGridAfter, nthDate } from '../../src/calendar/interval.ts';
import { itemOf } from '../due/helpers.ts';
import { check } from './check.ts';

const DAILY = { openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'], closedDates: [] } as const;
const AGREED = {
  id: 'Dates',
  source: 'agreed rule of the project: month ends clamp',
  how: 'practice',
} as const;

const dateAfter = (date: string, unit: 'months' | 'years', count: number) =>
  nthDate(date, { unit, count }, 1, DAILY);

describe('dates', () => {
  it('31 January and one month is the last of February', () => {
    const figure = (year: number) => `31 January ${year} and one month`;
    check({ ...AGREED, figure: figure(2026), ours: addMonths('2026-01-31', 1), theirs: '2026-02-28' });
    check({ ...AGREED, figure: figure(2028), ours: addMonths('2028-01-31', 1), theirs: '2028-02-29' });
  });

  it('29 February and one year is 28 February', () => {
    const ours = dateAfter('2028-02-29', 'years', 1);
    check({ ...AGREED, figure: '29 February 2028 and one year', ours, theirs: '2029-02-28' });
  });

  it('due on the day is due, the day after is overdue', () => {
    const on = (asOf: string) => itemOf('theatre-1-iso', 'vaporizer-service', [], { asOf });
    const { dueOn } = on('2026-11-25');
    if (dueOn === null) throw new Error('the vaporizer comes round by the calendar');
    const row = { ...AGREED, source: 'agreed rule of the project' };
    check({ ...row, figure: 'on the day itself', ours: on(dueOn).state, theirs: 'due' });
    check({ ...row, figure: 'the day after', ours: on(addDays(dueOn, 1)).state, theirs: 'overdue' });
    check({
      ...row,
      figure: 'the day after, days overdue',
      ours: on(addDays(dueOn, 1)).daysOverdue,
      theirs: 1,
    });
  });

  it('vaporizer output yearly', () => {
    const ours = dateAfter('2026-05-20', 'years', 1);
    const source = 'UC Davis; UConn: intervals seen in policies';
    check({
      id: 'Dates',
      figure: 'yearly from 20 May 2026',
      ours,
      theirs: '2027-05-20',
      source,
      how: 'seen',
    });
  });

  it.each([
    [5, '2029-02-28'],
    [10, '2034-02-28'],
    [12, '2036-02-29'],
  ])('cylinder requalification after %i years', (years, theirs) => {
    // From 29 February, where a rule that went by days would drift.
    const ours = dateAfter('2024-02-29', 'years', years);
    const source = '49 CFR 180.209: intervals seen in policies';
    check({ id: 'Dates', figure: `${years} years from 29 February 2024`, ours, theirs, source, how: 'seen' });
  });

  it.each([
    ['2026-01-31', '2026-07-31'],
    ['2026-07-31', '2027-01-31'],
  ])('exposure monitoring twice a year from 31 January: after %s on %s', (done, theirs) => {
    const ours = firstOnGridAfter('2026-01-31', { unit: 'months', count: 6 }, done, DAILY);
    const figure = `twice a year from 31 January 2026, after ${done}`;
    check({ id: 'Dates', figure, ours, theirs, source: 'OSHA, quoted', how: 'quoted' });
  });

  it('absorbent by calendar after 30 days', () => {
    check({
      id: 'A3',
      figure: '30 days from 10 February 2026',
      ours: addDays('2026-02-10', 30),
      theirs: '2026-03-12',
      source: 'Thomas & Lerche, Anesthesia and Analgesia for Veterinary Technicians',
      how: 'memory',
    });
  });
});
