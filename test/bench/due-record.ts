/** A made-up practice of 200 asset–check pairs, and a record of it of any length: for benchmarks. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { lineHash } from '../../src/record/chain.ts';
import { lineText } from '../../src/record/line-text.ts';
import { LineFile } from './line-file.ts';
import { numbers } from './random.ts';

const MACHINES = 8;
const CIRCUITS = 32;
const STATIONS = ['front-desk', 'prep', 'theatre', 'ward'] as const;
/** Years of the record: 2021 to 2026. */
const FIRST_MS = Date.parse('2021-01-04T07:00:00Z');
const LAST_MS = Date.parse('2026-11-24T18:00:00Z');
const INVENTORY = '0123456789abcdef0123456789abcdef01234567';

/** 200 pairs: 96 of circuits, 104 of machines and their parts. */
function benchInventory(): string {
  const start = readFileSync('inventory.example.yaml', 'utf8').split('\nmachines:')[0];
  const machines = Array.from(
    { length: MACHINES },
    (_, i) =>
      `  - { id: m${i}, since: 2020-01-06, flowmeter: { max_ml_min: 8000, marks: [{ up_to_ml_min: 8000, step_ml_min: 250 }] }, drives: [circle, t_piece, bain], pressure_gauge: true, absorber: { id: m${i}-absorber, absorbent_g: 1000 }, vaporizers: [{ id: m${i}-iso, agent: isoflurane }], scavenging: { id: m${i}-charcoal, kind: charcoal, limit_gain_g: 50 }, oxygen: [e-${i}] }`,
  );
  const circuits = Array.from(
    { length: CIRCUITS },
    (_, i) =>
      `  - { id: c${i}, kind: ${i % 2 === 0 ? 'bain' : 'circle_y'}, since: 2020-01-06, weights_kg: [2, 40] }`,
  );
  const supplies = Array.from(
    { length: MACHINES },
    (_, i) =>
      `  - { id: e-${i}, kind: cylinder, since: 2020-01-06, capacity_l: 660, full_psi: 1900, reserve_psi: 200 }`,
  );
  const checks = [
    '{ id: leak-hold, of: circuit, every: { open_days: 1 }, done_by: hold }',
    '{ id: look-over, of: circuit, every: { open_days: 1 } }',
    '{ id: deep-clean, of: circuit, every: { weeks: 1 } }',
    '{ id: absorbent-change, of: absorber, every: { days: 30 }, after: { hours_in_use: 8 } }',
    '{ id: canister-change, of: charcoal, after: { gain_g: 50, hours_in_use: 12 } }',
    '{ id: vaporizer-service, of: vaporizer, every: { years: 1 } }',
    '{ id: vaporizer-level, of: vaporizer, every: { open_days: 1 } }',
    '{ id: high-pressure, of: cylinder, every: { weeks: 1 }, done_by: supply_hold }',
    '{ id: gauge, of: cylinder, every: { open_days: 1 }, done_by: reading }',
    '{ id: opening, of: machine, every: { open_days: 1 } }',
    '{ id: closing, of: machine, every: { open_days: 1 } }',
    '{ id: pop-off, of: machine, every: { open_days: 1 } }',
    '{ id: scavenging, of: machine, every: { open_days: 1 } }',
    '{ id: suction, of: machine, every: { open_days: 1 } }',
    '{ id: service, of: machine, every: { years: 1 }, after: { hours_in_use: 1000 } }',
    '{ id: spare-bag, of: machine, every: { weeks: 1 } }',
  ];
  return `${start}\nmachines:\n${machines.join('\n')}\ncircuits:\n${circuits.join('\n')}\nbags:\n  - { size_ml: 1000, count: 3 }\n  - { size_ml: 2000, count: 3 }\noxygen_supplies:\n${supplies.join('\n')}\nchecks:\n${checks.map(check => `  - ${check}`).join('\n')}\n`;
}

/**
 * Writes a record, chained and in the store's own words: four stations, six years; of 1000 entries about 600 sign-offs, 150
 * holds, 150 uses, 90 readings; 1 in 20,000 a correction, 1 in 200 entered days later, 1 in 50 with a note that has quotes.
 */
function writeBenchRecord(dir: string, lines: number): void {
  const random = numbers(20261125);
  const pick = <T>(list: readonly T[]): T => list[random(list.length)] ?? (list[0] as T);
  const files = new Map<string, LineFile>();
  const heads = new Map<string, { prev: string; n: number }>();
  const recent: string[] = [];
  const step = (LAST_MS - FIRST_MS) / lines;
  for (let i = 0; i < lines; i++) {
    const ms = FIRST_MS + i * step;
    const at = `${new Date(ms).toISOString().slice(0, 19)}+00:00`;
    const station = pick(STATIONS);
    const id = `${at.slice(0, 10).replaceAll('-', '')}-${at.slice(11, 19).replaceAll(':', '')}${String(i % 1000).padStart(3, '0')}-${String(random(1e6)).padStart(6, '0')}`;
    const late = random(200) === 0 ? new Date(ms - (1 + random(9)) * 86_400_000).toISOString() : null;
    const on = late === null ? at : random(2) === 0 ? late.slice(0, 10) : `${late.slice(0, 19)}+00:00`;
    const note = random(50) === 0 ? { note: 'said "geprüft", in a hurry' } : {};
    const head = heads.get(station) ?? { prev: '0'.repeat(64), n: 0 };
    const isCorrection = i > 1000 && random(20_000) === 0;
    const content = isCorrection
      ? { kind: 'correct', entry: pick(recent), because: 'typed for the wrong one' }
      : contentOf(random, i / lines);
    const { kind, ...rest } = content;
    const binding = { n: head.n + 1, inventory: INVENTORY, tool: '0.1.0', prev: head.prev };
    const by = pick(['M. Quill', 'A. Byrne', 'R. Okafor']);
    const line = lineText({ v: 1, id, at, station, kind, by, on, ...note, ...rest, ...binding });
    heads.set(station, { prev: lineHash(Buffer.from(line)), n: head.n + 1 });
    recent[i % 500] = id;
    const name = path.join(dir, station, `${at.slice(0, 4)}.jsonl`);
    const file = files.get(name) ?? new LineFile(name);
    files.set(name, file);
    file.write(line);
  }
  for (const file of files.values()) file.close();
}

function contentOf(
  random: (below: number) => number,
  progress: number,
): Record<string, unknown> & { kind: string } {
  const m = `m${random(MACHINES)}`;
  const c = `c${random(CIRCUITS)}`;
  const e = `e-${m.slice(1)}`;
  const result = random(100) === 0 ? 'fail' : 'pass';
  const kind = random(1000);
  if (kind < 600) {
    const [asset, check] = [
      [c, 'look-over'],
      [c, 'look-over'],
      [c, 'deep-clean'],
      [`${m}-iso`, 'vaporizer-level'],
      [m, 'opening'],
      [m, 'closing'],
      [m, 'pop-off'],
      [m, 'scavenging'],
      [m, 'suction'],
      [m, 'spare-bag'],
    ][random(10)] ?? ['', ''];
    return { kind: 'sign_off', asset, check, result };
  }
  if (kind < 750)
    return {
      kind: 'hold',
      circuit: c,
      machine: m,
      fall: { from_cmh2o: 30, to_cmh2o: result === 'pass' ? 30 : 22, seconds: 10 },
      pop_off: 'open',
      rule: { pressure_cmh2o: 30, seconds: 10, drop_cmh2o: 0, make_up_ml_min: 200 },
      result,
      reason: result === 'pass' ? 'held' : 'fell',
    };
  if (kind < 900)
    return {
      kind: 'usage',
      machine: m,
      circuit: c,
      minutes: 20 + random(100),
      flow_ml_min: 1000,
      agent: 'isoflurane',
      setting_percent: 2,
    };
  if (kind < 970) return { kind: 'reading', asset: e, psi: 600 + random(1200), new: random(10) === 0 };
  if (kind < 980)
    return { kind: 'reading', asset: `${m}-charcoal`, g: 800 + random(50), new: random(5) === 0 };
  if (kind < 990)
    return { kind: 'sign_off', asset: `${m}-absorber`, check: 'absorbent-change', result: 'pass' };
  if (kind < 996)
    return {
      kind: 'supply_hold',
      supply: e,
      from_psi: 1500,
      to_psi: 1480,
      minutes: 5,
      rule: { fall_psi: 100, minutes: 5 },
      result: 'pass',
    };
  if (kind < 998)
    return { kind: 'sign_off', asset: random(2) === 0 ? m : `${m}-iso`, check: 'service', result: 'pass' };
  // What is withdrawn comes back, as far as the last weeks allow.
  return kind < 999 && progress < 0.9
    ? { kind: 'withdraw', asset: c, because: 'a split hose' }
    : { kind: 'return', asset: c };
}

/** The practice and its record in a folder. */
export function writeBenchPractice(folder: string, lines: number): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(path.join(folder, 'inventory.yaml'), benchInventory());
  writeBenchRecord(path.join(folder, 'record'), lines);
}
