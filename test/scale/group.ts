/** A made-up group of practices with three years of entries each, and what an engine must be told of their inventories. */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { addDays } from '../../src/calendar/date.ts';
import { endOfDayIn } from '../../src/calendar/day-end.ts';
import { isOpen } from '../../src/calendar/open-days.ts';
import { timestampIn } from '../../src/calendar/zone.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { lineText } from '../../src/record/line-text.ts';
import { wornBy } from '../../src/record/standing.ts';

export const TODAY = '2026-11-25';
const FIRST_MS = Date.parse('2023-11-27T08:00:00Z');
const LAST_MS = Date.parse('2026-11-25T07:00:00Z');
const FIRST_DAY = '2019-01-01';
const LAST_DAY = '2030-12-31';
const ZONES = ['Europe/Dublin', 'America/New_York', 'Australia/Sydney', 'Pacific/Apia', 'UTC'] as const;
const WEEKS = ['[mon, tue, wed, thu, fri]', '[mon, tue, wed, thu, fri, sat]', '[tue, thu, sun]'] as const;
const AGENTS = [undefined, 'isoflurane', 'sevoflurane'] as const;

/** Numbers that look random and are the same at every run. */
function numbers(seed: number): (below: number) => number {
  let state = seed;
  return below => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) & 0x7fff_ffff;
    return Math.floor((state / 0x8000_0000) * below);
  };
}

/** Writes a practice's inventory and a record of so many lines. */
export function writePractice(folder: string, index: number, lines: number): Inventory {
  mkdirSync(folder, { recursive: true });
  const file = path.join(folder, 'inventory.yaml');
  writeFileSync(file, inventoryText(index));
  const inventory = ensureInventory(file, () => TODAY);
  writeEntries(path.join(folder, 'record'), inventory, { random: numbers(index + 1), lines });
  return inventory;
}

function inventoryText(index: number): string {
  const n = (index % 4) + 1;
  return `format: 1
practice:
  name: Larkhill branch ${index}
  time_zone: ${ZONES[index % ZONES.length]}
  open_days: ${WEEKS[index % WEEKS.length]}
  closed_dates: [2026-11-24, 2026-12-25]
machines:
  - { id: m-1, since: 2022-02-06, flowmeter: { max_ml_min: 8000, marks: [{ up_to_ml_min: 8000, step_ml_min: 250 }] }, drives: [circle, bain], pressure_gauge: true, absorber: { id: m-1-absorber, absorbent_g: 1200 }, vaporizers: [{ id: m-1-iso, agent: isoflurane }, { id: m-1-sevo, agent: sevoflurane }], scavenging: { id: m-1-charcoal, kind: charcoal, limit_gain_g: 50 }, oxygen: [e-1] }
circuits:
  - { id: bain-1, kind: bain, since: 2023-01-13, weights_kg: [2, 12], pressure_gauge: true }
  - { id: y-1, kind: circle_y, since: 2022-11-07, bore_mm: 22 }
bags:
  - { size_ml: 1000, count: 3 }
oxygen_supplies:
  - { id: e-1, kind: cylinder, since: 2023-10-01, capacity_l: 660, full_psi: 1900, reserve_psi: 200 }
checks:
  - { id: leak-hold, of: circuit, every: { open_days: ${n} }, done_by: hold }
  - { id: inner-tube, of: bain, every: { open_days: ${n} }, counted_from: calendar, starting: 2024-01-01 }
  - { id: absorbent-change, of: absorber, every: { days: ${20 + n} }, after: { hours_in_use: ${4 * n} } }
  - { id: canister-hours, of: charcoal, after: { hours_in_use: ${6 * n} } }
  - { id: vaporizer-service, of: vaporizer, every: { months: ${6 * n} }, after: { hours_in_use: 30 } }
  - { id: high-pressure, of: cylinder, every: { weeks: ${n} }, done_by: supply_hold }
  - { id: gauge, of: cylinder, every: { days: ${n} }, done_by: reading }
  - { id: badge, of: m-1, every: { months: ${n} }, counted_from: calendar, starting: 2024-01-31 }
  - { id: inspection, of: machine, every: { years: ${n} }, counted_from: calendar, starting: 2024-02-29 }
  - { id: ready, of: machine, round: before_case }
`;
}

function writeEntries(
  dir: string,
  inventory: Inventory,
  { random, lines }: { random: (below: number) => number; lines: number },
): void {
  const { timeZone } = inventory.practice;
  const files = new Map<string, string[]>();
  const counts = new Map<string, number>();
  const ids: string[] = [];
  for (let i = 0; i < lines; i++) {
    const ms = FIRST_MS + ((LAST_MS - FIRST_MS) * i) / lines;
    const at = timestampIn(timeZone, new Date(ms));
    const station = random(3) === 0 ? 'prep' : 'theatre';
    const id = `entry-${String(i).padStart(6, '0')}`;
    const back = random(8) === 0 ? random(12) * 40_000_000 : 0;
    const instant = timestampIn(timeZone, new Date(ms - back));
    const on = random(6) === 0 ? instant.slice(0, 10) : instant;
    const content =
      i > 10 && random(30) === 0
        ? { kind: 'correct', entry: ids[i - 1 - random(10)], because: 'typed for the wrong one' }
        : contentOf(inventory, random);
    const n = (counts.get(station) ?? 0) + 1;
    counts.set(station, n);
    ids.push(id);
    const { kind, ...rest } = content;
    const binding = { n, inventory: 'a'.repeat(40), tool: '0.1.0', prev: '0'.repeat(64) };
    const line = lineText({ v: 1, id, at, station, kind, by: 'M. Quill', on, ...rest, ...binding });
    const file = path.join(dir, station, `${at.slice(0, 4)}.jsonl`);
    files.set(file, [...(files.get(file) ?? []), line]);
  }
  for (const [file, own] of files) {
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, own.map(line => `${line}\n`).join(''));
  }
}

function contentOf({ checks }: Inventory, random: (below: number) => number): Record<string, unknown> {
  const pick = <T>(list: readonly T[]): T | undefined => list[random(list.length)];
  const result = random(8) === 0 ? 'fail' : 'pass';
  const check = pick(checks.filter(({ doneBy }) => doneBy === 'sign_off'));
  const asset = pick(check?.assets ?? []);
  const circuit = pick(['bain-1', 'y-1']);
  switch (random(10)) {
    case 0:
    case 1:
    case 2:
      return { kind: 'sign_off', asset, check: check?.id, result };
    case 3:
    case 4:
      return {
        kind: 'hold',
        circuit,
        machine: 'm-1',
        taut: { steady: result === 'pass', seconds: 10 },
        pop_off: random(5) === 0 ? 'shut' : 'open',
        rule: { pressure_cmh2o: 30, seconds: 10, drop_cmh2o: 0, make_up_ml_min: 200 },
        result,
        reason: result === 'pass' ? 'held' : 'went_slack',
      };
    case 5:
    case 6: {
      const agent = pick(AGENTS);
      const said = agent === undefined ? {} : { agent, setting_percent: 2 };
      return { kind: 'usage', machine: 'm-1', circuit, minutes: 15 + random(90), flow_ml_min: 1000, ...said };
    }
    case 7:
      return random(2) === 0
        ? { kind: 'reading', asset: 'e-1', psi: 600 + random(1200), new: random(5) === 0 }
        : { kind: 'reading', asset: 'm-1-charcoal', g: 800, new: random(4) === 0 };
    case 8:
      return {
        kind: 'supply_hold',
        supply: 'e-1',
        from_psi: 1500,
        to_psi: 1400,
        minutes: 5,
        rule: { fall_psi: 100, minutes: 5 },
        result,
      };
    default:
      return random(3) === 0
        ? { kind: 'withdraw', asset, because: 'cracked' }
        : { kind: 'return', asset: asset ?? 'bain-1' };
  }
}

export type Row = Readonly<Record<string, string | number | boolean | null>>;

/** The rows that due.sql asks for beside the entries. */
export function tablesOf(practice: string, inventory: Inventory): Record<'items' | 'worn' | 'days', Row[]> {
  const items = inventory.checks.flatMap(check =>
    check.assets.map(asset => {
      const owned = inventory.assets.get(asset);
      return {
        practice,
        asset,
        check_id: check.id,
        done_by: check.doneBy,
        since: owned?.since ?? null,
        every_unit: check.every?.unit ?? null,
        every_count: check.every?.count ?? null,
        counted_from: check.countedFrom,
        starting: check.starting,
        hours_limit: check.after.hoursInUse,
        needs_fresh: owned?.type === 'scavenging' && owned.kind === 'charcoal',
        by_new: check.after.gainG !== null,
      };
    }),
  );
  const worn = inventory.machines.flatMap(machine =>
    inventory.circuits.flatMap(circuit =>
      AGENTS.flatMap(agent =>
        wornBy(inventory, { machine: machine.id, circuit: circuit.id, agent }).map(asset => ({
          practice,
          machine: machine.id,
          circuit: circuit.id,
          agent: agent ?? '',
          asset,
        })),
      ),
    ),
  );
  const days: Row[] = [];
  let openNumber = 0;
  for (let day = FIRST_DAY; day <= LAST_DAY; day = addDays(day, 1)) {
    const open = isOpen(day, inventory.practice);
    if (open) openNumber += 1;
    const ends = endOfDayIn(inventory.practice.timeZone, day);
    days.push({ practice, day, is_open: open, open_number: openNumber, ends_at_ms: ends });
  }
  return { items, worn, days };
}
