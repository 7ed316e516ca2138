/** Small random inventories, validated and loaded as any other: written as JSON, which is YAML. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { CIRCUIT_KINDS, type Inventory } from '../../src/inventory/inventory.ts';
import { loadInventory } from '../../src/inventory/load.ts';
import { type EquipmentState, NO_RECORD } from '../../src/plan/request.ts';

const TODAY = () => '2026-11-25';

/** Loads a document as an inventory; null where it is not valid. */
function inventoryFrom(document: unknown): Inventory | null {
  const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-chart-'));
  try {
    const file = path.join(folder, 'inventory.yaml');
    writeFileSync(file, typeof document === 'string' ? document : JSON.stringify(document, null, 1));
    const loaded = loadInventory(file, TODAY);
    return loaded.ok ? loaded.inventory : null;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** @throws Error where it is not valid */
export function soundInventory(document: unknown): Inventory {
  const inventory = inventoryFrom(document);
  if (inventory === null) throw new Error('the inventory of the test is not valid');
  return inventory;
}

export function exampleInventory(file = 'inventory.example.yaml'): Inventory {
  const loaded = loadInventory(file, TODAY);
  if (!loaded.ok) throw new Error(`${file} is not valid`);
  return loaded.inventory;
}

/** Everything in service but these. */
export function outOfServiceState(assets: readonly string[]): EquipmentState {
  return { ...NO_RECORD, record: 'read', outOfService: id => (assets.includes(id) ? 'withdrawn' : null) };
}

// Round figures collide often, odd ones give edges that no binary number meets.
const weight = fc.oneof(
  fc.integer({ min: 1, max: 40 }),
  fc.integer({ min: 10, max: 400 }).map(tenths => tenths / 10),
  fc.integer({ min: 500, max: 40_000 }).map(grams => grams / 1000),
);
const range = (value: fc.Arbitrary<number>) =>
  fc.tuple(value, value).map(([a, b]) => (a < b ? [a, b] : [b, a + 1]) as [number, number]);
const perKg = fc.record({
  induction: range(fc.integer({ min: 5, max: 400 })),
  maintenance: range(fc.integer({ min: 5, max: 400 })),
  recovery: range(fc.integer({ min: 5, max: 400 })),
});

const rules = fc.record(
  {
    boundary: fc
      .record({
        ends: range(weight),
        between: fc.constantFrom('non_rebreathing', 'rebreathing'),
      })
      .map(({ ends: [below, above], between }) => ({
        non_rebreathing_below_kg: below,
        rebreathing_above_kg: above,
        between,
      })),
    fresh_gas_flow: fc.record(
      {
        minimum_ml_min: fc.integer({ min: 100, max: 2000 }),
        rebreathing_ml_kg_min: perKg,
        non_rebreathing_ml_kg_min: perKg,
      },
      { requiredKeys: [] },
    ),
    circle_never_below_kg: weight,
    reservoir_bag: fc.record({
      tidal_volumes: fc.integer({ min: 3, max: 8 }),
      size_at_ml_kg: fc.integer({ min: 10, max: 20 }),
    }),
  },
  { requiredKeys: [] },
);

const marks = fc
  .array(
    fc.record({
      step: fc.constantFrom(50, 100, 200, 250, 300, 500, 700),
      count: fc.integer({ min: 1, max: 12 }),
    }),
    {
      minLength: 1,
      maxLength: 3,
    },
  )
  .map(stretches => {
    let upTo = 0;
    return stretches.map(({ step, count }) => {
      upTo += step * count;
      return { up_to_ml_min: upTo, step_ml_min: step };
    });
  });

const DRIVES = ['circle', 't_piece', 'bain'] as const;

const machine = fc.record({
  marks,
  drives: fc.subarray([...DRIVES], { minLength: 1 }),
  pressure_gauge: fc.boolean(),
  oxygen: fc.subarray(['wall', 'box'], { minLength: 1 }),
});

const circuit = fc.record({
  kind: fc.constantFrom(...CIRCUIT_KINDS),
  weights_kg: fc.option(range(weight), { nil: undefined }),
});

/** The document of an inventory; now and then it is refused, for example when no machine drives a circuit. */
const documents = fc
  .record({
    rules,
    machines: fc.array(machine, { minLength: 1, maxLength: 3 }),
    circuits: fc.array(circuit, { minLength: 1, maxLength: 5 }),
    bags: fc.uniqueArray(fc.constantFrom(250, 500, 1000, 2000, 3000), { minLength: 1 }),
    boxMax: fc.integer({ min: 500, max: 6000 }),
  })
  .map(({ rules, machines, circuits, bags, boxMax }) => ({
    format: 1,
    practice: { name: 'Larkhill Animal Clinic', time_zone: 'Europe/Dublin', open_days: ['mon'] },
    rules,
    machines: machines.map(({ marks, oxygen, ...rest }, i) => ({
      id: `machine-${i}`,
      since: '2024-01-15',
      ...rest,
      oxygen,
      flowmeter: { max_ml_min: marks.at(-1)?.up_to_ml_min, marks },
    })),
    circuits: circuits.map((rest, i) => ({ id: `circuit-${i}`, since: '2024-01-15', ...rest })),
    bags: bags.map(size_ml => ({ size_ml, count: 1 + (size_ml % 3 === 0 ? 1 : 0) })),
    oxygen_supplies: [
      { id: 'wall', kind: 'pipeline' },
      { id: 'box', kind: 'concentrator', since: '2024-01-15', max_ml_min: boxMax },
    ],
    checks: [],
  }));

let refusedInARow = 0;

/** Sound inventories only. @throws Error where none is found for long, which would be a search without end */
export const inventories: fc.Arbitrary<Inventory> = documents
  .map(inventoryFrom)
  .filter((inventory): inventory is Inventory => {
    refusedInARow = inventory === null ? refusedInARow + 1 : 0;
    if (refusedInARow > 200) throw new Error('no inventory of the test is valid');
    return inventory !== null;
  });
