/** How long a day of 40 cases on 10 machines takes, from the list's text to the plan. Figures, not a test. */
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { todayIn } from '../../src/calendar/zone.ts';
import { planDay } from '../../src/day/day.ts';
import { readDayList } from '../../src/day/list/list.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { Source } from '../../src/inventory/source.ts';
import { NO_RECORD } from '../../src/plan/request.ts';

const LISTS = 20;
const CASES = 40;
const MACHINES = 10;

let seed = 20261125;
const random = (low: number, high: number): number => {
  seed = (seed * 1103515245 + 12345) % 2147483648;
  return low + Math.floor((seed / 2147483648) * (high - low + 1));
};

const folder = process.argv[2] ?? '.';
const file = path.join(folder, 'inventory.yaml');
writeFileSync(file, practice());
const inventory = ensureInventory(file, zone => todayIn(zone, new Date('2026-11-25T09:00:00Z')));

for (const [name, hours] of [
  ['a quiet day', 14],
  ['a full day', 10],
  ['a day too full', 7],
] as const) {
  const times: number[] = [];
  const found = { planned: 0, setAside: 0, clashes: 0, proved: 0, undecided: 0 };
  for (let i = 0; i < LISTS; i++) {
    const text = list(hours);
    const before = process.cpuUsage().user;
    const read = readDayList('csv', { source: new Source('day.csv', text), inventory, date: '2026-11-27' });
    if (!read.ok) throw new Error(read.problems.map(({ message }) => message).join('; '));
    const day = planDay({
      inventory,
      date: '2026-11-27',
      isPast: false,
      at: '',
      cases: read.cases,
      equipmentFor: () => NO_RECORD,
    });
    times.push((process.cpuUsage().user - before) / 1000);
    found.planned += day.cases.filter(({ state }) => state === 'planned').length;
    found.setAside += day.cases.filter(({ state }) => state === 'set_aside').length;
    found.undecided += day.cases.filter(({ state }) => state === 'undecided').length;
    found.clashes += day.clashes.length;
    found.proved += day.clashes.filter(({ isSmallest }) => isSmallest).length;
  }
  times.sort((a, b) => a - b);
  const median = times[Math.floor(times.length / 2)] ?? 0;
  console.log(
    `${name}: ${LISTS} lists of ${CASES} cases on ${MACHINES} machines, CPU ms a list: median ${median.toFixed(0)}, most ${(times.at(-1) ?? 0).toFixed(0)}`,
  );
  console.log(
    `  planned ${found.planned}, set aside ${found.setAside}, not decided ${found.undecided}; clashes ${found.clashes}, of which proved smallest ${found.proved}`,
  );
}

/** Starts every five minutes over so many hours; lengths, weights, agents and named machines as they come. */
function list(hours: number): string {
  const rows = Array.from({ length: CASES }, (_, i) => {
    const start = 7 * 60 + 5 * random(0, hours * 12);
    const cat = random(0, 1) === 1;
    const weight = cat ? random(25, 70) / 10 : random(30, 450) / 10;
    const agent = ['isoflurane', 'sevoflurane', ''][random(0, 2)];
    const clock = `${String(Math.floor(start / 60)).padStart(2, '0')}:${String(start % 60).padStart(2, '0')}`;
    return `C-${i},${cat ? 'cat' : 'dog'},${weight}kg,${clock},${5 * random(4, 24)},${agent},${agent === '' ? '' : 2}`;
  });
  return `ref,species,weight,start,minutes,agent,setting\n${rows.join('\n')}\n`;
}

/** Ten machines that are not alike and sixteen circuits, in the shape of the example. */
function practice(): string {
  const start = readFileSync('inventory.example.yaml', 'utf8').split('\nmachines:')[0];
  const machines = Array.from({ length: MACHINES }, (_, i) => {
    const drives = ['[circle, t_piece, bain]', '[circle, bain]', '[circle]'][i % 3];
    const vaporizers = [
      `{ id: m${i}-iso, agent: isoflurane }`,
      ...(i % 2 === 0 ? [`{ id: m${i}-sevo, agent: sevoflurane }`] : []),
    ];
    return `  - { id: m${i}, since: 2024-01-01, flowmeter: { max_ml_min: ${i % 4 === 3 ? 4000 : 8000}, marks: [{ up_to_ml_min: 4000, step_ml_min: 100 }] }, drives: ${drives}, pressure_gauge: true, absorber: { id: m${i}-absorber, absorbent_g: 1000 }, vaporizers: [${vaporizers.join(', ')}], scavenging: { id: m${i}-scavenging, kind: active, air_break: true }, oxygen: [wall] }`;
  });
  const circuits = Array.from({ length: 16 }, (_, i) => {
    const [kind, weights] = (
      [
        ['t_piece', '[0.5, 5]'],
        ['bain', '[2, 12]'],
        ['circle_y', '[3, 20]'],
        ['circle_y', '[8, 60]'],
      ] as const
    )[i % 4] ?? ['bain', '[2, 12]'];
    return `  - { id: c${i}, kind: ${kind}, since: 2024-01-01, weights_kg: ${weights} }`;
  });
  const bags = [500, 1000, 2000, 3000].map(size => `  - { size_ml: ${size}, count: 6 }`);
  return `${start}\nmachines:\n${machines.join('\n')}\ncircuits:\n${circuits.join('\n')}\nbags:\n${bags.join('\n')}\noxygen_supplies:\n  - { id: wall, kind: pipeline }\n`;
}
