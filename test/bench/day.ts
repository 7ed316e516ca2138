/** How long a day of 40 cases on 10 machines takes: from the list's text to the plan, and as a whole command. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { todayIn } from '../../src/calendar/zone.ts';
import { type Day, planDay } from '../../src/day/day.ts';
import { readDayList } from '../../src/day/list/list.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { Source } from '../../src/inventory/source.ts';
import { NO_RECORD } from '../../src/plan/request.ts';
import { CASES, dayList, MACHINES, practice } from './day-list.ts';
import type { Effort } from './effort.ts';
import { bareStart, holdfast, interleave, spreadOf } from './measure.ts';
import type { Found, Row } from './result.ts';
import { ratioRow } from './rows.ts';

const LISTS = 20;
const MOST_MS = 2000;
const DATE = '2026-11-27';
/** Hours over which the cases begin. */
const DAYS = [
  ['a quiet day', 14],
  ['a full day', 10],
  ['a day too full', 7],
] as const;

export async function measure(home: string, { rounds, isQuick }: Effort): Promise<Found> {
  const file = path.join(home, 'inventory.yaml');
  writeFileSync(file, practice());
  const inventory = ensureInventory(file, zone => todayIn(zone, new Date('2026-11-25T09:00:00Z')));
  const bare = bareStart();
  const commands = [];
  const rows: Row[] = [];
  const remarks: string[] = [];
  for (const [name, hours] of DAYS) {
    const lists = Array.from({ length: isQuick ? 3 : LISTS }, () => dayList(hours));
    const timed = lists.map(list => timedDay(list, inventory));
    rows.push({
      what: `${name}, CPU time of ${lists.length} lists, the slowest judged`,
      unit: 'ms',
      figure: spreadOf(timed.map(({ ms }) => ms)),
      goal: MOST_MS,
      judged: 'high',
      from: 'in process',
    });
    remarks.push(`On ${name}: ${outcome(timed.map(({ day }) => day))}.`);
    const csv = path.join(home, `${hours}.csv`);
    const most = Math.max(...timed.map(({ ms }) => ms));
    writeFileSync(csv, lists[timed.findIndex(({ ms }) => ms === most)] ?? '');
    commands.push({ name, day: holdfast('day', csv, '--date', DATE, '--inventory', file) });
  }
  await interleave(rounds(7), [bare, ...commands.map(({ day }) => day)]);
  rows.push(
    ...commands.map(({ name, day }) =>
      ratioRow(`\`day\`, ${name}, its slowest list ÷ \`node -e 0\``, day, bare),
    ),
  );
  return { rows, growth: [], remarks: [`Lists of ${CASES} cases on ${MACHINES} machines.`, ...remarks] };
}

function timedDay(text: string, inventory: Inventory): { ms: number; day: Day } {
  // CPU time, because a list is one run and cannot be had as a median.
  const before = process.cpuUsage().user;
  const read = readDayList('csv', { source: new Source('day.csv', text), inventory, date: DATE });
  if (!read.ok) throw new Error(read.problems.map(({ message }) => message).join('; '));
  const day = planDay({
    inventory,
    date: DATE,
    isPast: false,
    at: '',
    cases: read.cases,
    equipmentFor: () => NO_RECORD,
  });
  return { ms: (process.cpuUsage().user - before) / 1000, day };
}

function outcome(days: readonly Day[]): string {
  const cases = days.flatMap(day => day.cases);
  const clashes = days.flatMap(day => day.clashes);
  const of = (wanted: string) => cases.filter(({ state }) => state === wanted).length;
  const proved = clashes.filter(({ isSmallest }) => isSmallest).length;
  return `${of('planned')} cases planned, ${of('set_aside')} set aside, ${of('undecided')} not decided; ${clashes.length} clashes, ${proved} of them proved smallest`;
}
