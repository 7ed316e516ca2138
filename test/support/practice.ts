/** Small made-up practices, written as YAML and read through the real loader, so that what a test plans with could exist. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { todayIn } from '../../src/calendar/zone.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { loadInventory } from '../../src/inventory/load.ts';

type Entry = Readonly<Record<string, unknown>>;

/** What a test changes about the practice. Entries are the keys of the file, as a person writes them. */
export interface PracticeParts {
  readonly rules?: Entry;
  readonly machines?: readonly Entry[];
  readonly circuits?: readonly Entry[];
  /** Sizes in mL, three of each; or whole entries. */
  readonly bags?: readonly (number | Entry)[];
  readonly supplies?: readonly Entry[];
  readonly checks?: readonly Entry[];
}

/** Marks every 100 mL/min up to 1 L/min, then every 250 up to 8. */
const FINE_MARKS = [
  { up_to_ml_min: 1000, step_ml_min: 100 },
  { up_to_ml_min: 8000, step_ml_min: 250 },
];

/** A machine that drives everything, with fine marks and a pipeline. @example machine('m2', { drives: ['circle'] }) */
export function machine(id: string, changes: Entry = {}): Entry {
  return {
    id,
    since: '2023-02-06',
    flowmeter: { max_ml_min: 8000, marks: FINE_MARKS },
    drives: ['circle', 't_piece', 'bain'],
    pressure_gauge: true,
    oxygen: ['wall'],
    ...changes,
  };
}

/** A flowmeter with the same marks all the way. */
export function flowmeter(max: number, step: number): Entry {
  return { max_ml_min: max, marks: [{ up_to_ml_min: max, step_ml_min: step }] };
}

/** @example circuit('bain-1', 'bain', { weights_kg: [2, 12] }) */
export function circuit(id: string, kind: string, changes: Entry = {}): Entry {
  return { id, kind, since: '2025-01-13', ...changes };
}

/** The usual practice of the tests: one machine, a T-piece to 5 kg, a Bain from 2 to 12 kg, a circle for any weight. */
const USUAL = {
  machines: [machine('theatre-1')],
  circuits: [
    circuit('t-piece-1', 't_piece', { weights_kg: [0.5, 5] }),
    circuit('bain-1', 'bain', { weights_kg: [2, 12], pressure_gauge: true }),
    circuit('y-piece-1', 'circle_y'),
  ],
  bags: [500, 1000, 2000, 3000],
  supplies: [{ id: 'wall', kind: 'pipeline' }],
} as const;

/** The text of an inventory: the usual practice with what the test changes. One key or entry a line, rules one key a line. */
export function practiceText(parts: PracticeParts = {}): string {
  const { rules, machines, circuits, bags, supplies, checks } = { ...USUAL, ...parts };
  const list = (name: string, entries: readonly Entry[]) =>
    entries.length === 0
      ? `${name}: []`
      : `${name}:\n${entries.map(entry => `  - ${JSON.stringify(entry)}`).join('\n')}`;
  return [
    'format: 1',
    'practice: { name: Larkhill Animal Clinic, time_zone: Europe/Dublin, open_days: [mon, tue, wed, thu, fri] }',
    ...(rules === undefined ? [] : [`rules: ${JSON.stringify(rules, null, 1)}`]),
    list('machines', machines),
    list('circuits', circuits),
    list(
      'bags',
      bags.map(bag => (typeof bag === 'number' ? { size_ml: bag, count: 3 } : bag)),
    ),
    list('oxygen_supplies', supplies),
    ...(checks === undefined ? [] : [list('checks', checks)]),
    '',
  ].join('\n');
}

/** Reads a text through the loader. @throws Error with all problems where it is not in order. */
export function loadText(text: string): Inventory {
  const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-practice-'));
  try {
    const file = path.join(folder, 'inventory.yaml');
    writeFileSync(file, text);
    const loaded = loadInventory(file, zone => todayIn(zone, new Date('2026-11-25T08:14:03Z')));
    if (loaded.ok) return loaded.inventory;
    throw new Error(loaded.problems.map(({ line, message }) => `line ${line}: ${message}`).join('\n'));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** @example practice({ bags: [] }).bags //=> [] */
export function practice(parts: PracticeParts = {}): Inventory {
  return loadText(practiceText(parts));
}
