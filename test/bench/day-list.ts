/** A made-up practice of ten machines, and lists for a day of it: for the bench of `day`. */
import { readFileSync } from 'node:fs';

export const CASES = 40;
export const MACHINES = 10;

// Not the numbers of random.ts: the limit of the day's search was set by these very lists.
let seed = 20261125;
const random = (low: number, high: number): number => {
  seed = (seed * 1103515245 + 12345) % 2147483648;
  return low + Math.floor((seed / 2147483648) * (high - low + 1));
};

/** Starts every five minutes over so many hours; lengths, weights, agents and named machines as they come. */
export function dayList(hours: number): string {
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
export function practice(): string {
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
