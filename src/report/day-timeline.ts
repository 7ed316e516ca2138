/** The day's cases on a line of time for each machine, for a terminal. */
import { timestampIn } from '../calendar/zone.ts';
import type { Day, PlannedCase } from '../day/day.ts';
import { endOf } from '../day/day-case.ts';
import { clock, machineOf } from './day-words.ts';
import { padEnd } from './text.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const STEPS_MINUTES = [5, 10, 15, 20, 30, 60, 120];
const WIDEST_LABEL = 16;

/** The whole hours around the cases and their turnover, as instants. */
export function dayFrame(day: Day, cases: readonly PlannedCase[]): { from: number; to: number } {
  const turnoverMs = day.inventory.rules.turnoverMinutes.value * MINUTE_MS;
  const first = Math.min(...cases.map(({ dayCase }) => dayCase.start.getTime()));
  const last = Math.max(...cases.map(({ dayCase }) => endOf(dayCase).getTime() + turnoverMs));
  // Hours of the practice's clock: some zones are half an hour off.
  const minutes = Number(timestampIn(day.inventory.practice.timeZone, new Date(first)).slice(14, 16));
  const from = first - minutes * MINUTE_MS;
  return { from, to: from + Math.ceil((last - from) / HOUR_MS) * HOUR_MS };
}

/**
 * One line of hours, one for each machine: a case begins with its number, `=` is the case, `.` the turnover.
 *
 * @param numbers - the number of each planned case
 */
export function renderTimeline(day: Day, numbers: ReadonlyMap<PlannedCase, number>, width: number): string[] {
  const cases = [...numbers.keys()];
  if (cases.length === 0) return [];
  const machines = day.inventory.machines
    .map(({ id }) => id)
    .filter(id => cases.some(one => machineOf(one) === id));
  const label = Math.min(WIDEST_LABEL, Math.max(...machines.map(id => id.length)));
  const room = width - label - 1;
  const { from, to } = dayFrame(day, cases);
  const minutes = (to - from) / MINUTE_MS;
  const step = STEPS_MINUTES.find(one => Math.ceil(minutes / one) <= room) ?? Math.ceil(minutes / room);
  const column = (instant: number) => Math.round((instant - from) / MINUTE_MS / step);
  const turnoverMs = day.inventory.rules.turnoverMinutes.value * MINUTE_MS;

  const lines = [`${' '.repeat(label)} ${hours(day, from, to, step)}`.trimEnd()];
  for (const machine of machines) {
    const row = Array.from({ length: column(to) }, () => ' ');
    const fill = (a: number, b: number, sign: string) => {
      for (let i = a; i < b && i < row.length; i++) row[i] = sign;
    };
    for (const [one, number] of numbers) {
      if (machineOf(one) !== machine) continue;
      const start = column(one.dayCase.start.getTime());
      const end = Math.max(start + 1, column(endOf(one.dayCase).getTime()));
      fill(end, column(endOf(one.dayCase).getTime() + turnoverMs), '.');
      fill(start, end, '=');
      const text = String(number);
      // A number cut short would be another case's.
      if (text.length <= end - start) for (const [i, digit] of [...text].entries()) row[start + i] = digit;
    }
    lines.push(`${padEnd(shortened(machine, label), label)} ${row.join('').trimEnd()}`);
  }
  return lines;
}

function shortened(id: string, length: number): string {
  return id.length <= length ? id : `${id.slice(0, length - 1)}\u2026`;
}

/** The hours above their columns, as many as stand apart. */
function hours(day: Day, from: number, to: number, step: number): string {
  let line = '';
  for (let at = from; at < to; at += HOUR_MS) {
    const column = Math.round((at - from) / MINUTE_MS / step);
    if (column > 0 && column < line.length + 1) continue;
    line = padEnd(line, column) + clock(day, new Date(at)).slice(0, 2);
  }
  return line;
}
