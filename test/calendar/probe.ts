/** Run as a program of its own under a zone: one line for every day, with what the calendar makes of it. */
import { addMonths, dateOfDay, dayOf } from '../../src/calendar/date.ts';
import { firstOnGridAfter, nthDate } from '../../src/calendar/interval.ts';
import { addOpenDays, type OpenDays, weekdayOf } from '../../src/calendar/open-days.ts';
import { timestampIn, todayIn } from '../../src/calendar/zone.ts';

const PRACTICE: OpenDays = {
  openDays: ['mon', 'tue', 'wed', 'thu', 'fri'],
  closedDates: ['2011-12-30', '2026-12-25'],
};

const lines = [new Intl.DateTimeFormat().resolvedOptions().timeZone];
for (let day = dayOf('1990-01-01'); day < dayOf('2040-01-01'); day++) {
  const date = dateOfDay(day);
  const noon = new Date(day * 86_400_000 + 43_200_000);
  lines.push(
    [
      date,
      weekdayOf(date),
      addMonths(date, 1),
      nthDate(date, { unit: 'years', count: 1 }, 1, PRACTICE),
      addOpenDays(date, 3, PRACTICE),
      firstOnGridAfter('1989-08-31', { unit: 'months', count: 6 }, date, PRACTICE),
      // Zones are slow to ask: every tenth day will do, and all of the year in which Apia lost a day.
      ...(day % 10 === 0 || date.startsWith('2011')
        ? [todayIn('Europe/Dublin', noon), timestampIn('Pacific/Apia', noon)]
        : []),
    ].join(' '),
  );
}
process.stdout.write(lines.join('\n'));
