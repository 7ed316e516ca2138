/**
 * The calendar done the slow way on purpose: by walking one day at a time, with the rules of the Gregorian calendar written
 * out and nothing shared with src/calendar.
 */
export interface NaiveDate {
  year: number;
  month: number;
  day: number;
}

const NAMES = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];

function isLeap(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

export function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeap(year) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

function tomorrow({ year, month, day }: NaiveDate): NaiveDate {
  if (day < daysInMonth(year, month)) return { year, month, day: day + 1 };
  return month < 12 ? { year, month: month + 1, day: 1 } : { year: year + 1, month: 1, day: 1 };
}

function read(text: string): NaiveDate {
  const [year = 0, month = 0, day = 0] = text.split('-').map(Number);
  return { year, month, day };
}

export function write({ year, month, day }: NaiveDate): string {
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
}

/** Walks from Monday 1 January 1900. */
export function naiveWeekday(text: string): string {
  let days = 0;
  for (let at = read('1900-01-01'); write(at) !== text; at = tomorrow(at)) days++;
  return NAMES[days % 7] ?? '';
}

/** So many days on, one at a time. */
export function walk(text: string, days: number): string {
  let at = read(text);
  for (let i = 0; i < days; i++) at = tomorrow(at);
  return write(at);
}

/** The day of the month of the anchor in a later month, or that month's last: found by walking there. */
export function walkMonths(text: string, months: number): string {
  const anchor = read(text);
  let at = anchor;
  for (let left = months; left > 0; ) {
    const next = tomorrow(at);
    if (next.month !== at.month) left--;
    at = next;
  }
  if (months === 0) return text;
  while (at.day < anchor.day && tomorrow(at).month === at.month) at = tomorrow(at);
  return write(at);
}

/** The n-th open day after a date. The weekday is carried along from one look-up. */
export function walkOpenDays(
  text: string,
  count: number,
  openDays: readonly string[],
  closed: readonly string[],
): string {
  let weekday = NAMES.indexOf(naiveWeekday(text));
  let at = read(text);
  for (let left = count; left > 0; ) {
    at = tomorrow(at);
    weekday = (weekday + 1) % 7;
    if (openDays.includes(NAMES[weekday] ?? '') && !closed.includes(write(at))) left--;
  }
  return write(at);
}
