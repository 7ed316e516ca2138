/** due.sql in a real engine says what `due` says, of a group of 50 practices × 3 years. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { afterAll, describe, expect, it } from 'vitest';
import { practiceDue } from '../../src/due/practice-due.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { scanRecord } from '../../src/record/scan/scan.ts';
import { type Row, TODAY, tablesOf, writePractice } from './group.ts';

const PRACTICES = 50;
/** About one entry a day and practice, cut down from what a practice writes to keep the test short. */
const LINES = 1000;
const AS_OF = [TODAY, '2025-03-31'] as const;

const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-scale-'));
afterAll(() => rmSync(folder, { recursive: true }));

describe('due.sql', () => {
  it(`agrees with due on every item of ${PRACTICES} practices`, async () => {
    const inventories = Array.from({ length: PRACTICES }, (_, index): [string, Inventory] => {
      const name = `p${String(index).padStart(2, '0')}`;
      return [name, writePractice(path.join(folder, name), index, LINES)];
    });
    for (const asOf of AS_OF) {
      const ours = inventories.flatMap(([name, inventory]) => rowsOfDue(name, inventory, asOf));
      expect(ours.length).toBe(PRACTICES * 12);
      const states = new Set(ours.map(({ state }) => state));
      expect(states).toEqual(new Set(['overdue', 'due', 'later', 'withdrawn']));
      expect(await rowsOfEngine(inventories, asOf)).toEqual(ours);
    }
  });
});

function rowsOfDue(practice: string, inventory: Inventory, asOf: string): Row[] {
  const scan = scanRecord(path.join(folder, practice, 'record'), { inventory, today: TODAY, asOf });
  expect(scan.damage).toEqual([]);
  const { items } = practiceDue({
    inventory,
    record: {
      folder: 'record',
      state: 'read',
      damage: [],
      stations: [],
      standing: scan.standing,
      future: scan.future,
    },
    today: TODAY,
    asOf,
    soonDays: 7,
    filter: { assets: [], checks: [], states: [] },
  });
  return items
    .map(item => ({
      practice,
      asset: item.asset.id,
      check_id: item.check.id,
      last_done_on: item.lastDoneOn,
      failed_on: item.failedOn,
      due_on: item.dueOn,
      hours: item.used?.hoursInUse?.value?.toFixed(6) ?? null,
      state: item.state === 'soon' || item.state === 'ok' ? 'later' : item.state,
    }))
    .sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

const key = ({ practice, asset, check_id }: Row) => `${practice} ${asset} ${check_id}`;

async function rowsOfEngine(
  inventories: readonly (readonly [string, Inventory])[],
  asOf: string,
): Promise<Row[]> {
  const tables = inventories.map(([name, inventory]) => tablesOf(name, inventory));
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  try {
    const setUp = readFileSync('test/scale/tables.sql', 'utf8')
      .replaceAll('$GROUP', folder)
      .replaceAll('$AS_OF', asOf);
    for (const name of ['items', 'worn', 'days'] as const) {
      const rows = tables.flatMap(table => table[name]);
      writeFileSync(path.join(folder, `${name}.jsonl`), rows.map(row => `${JSON.stringify(row)}\n`).join(''));
    }
    await connection.run(setUp);
    const read = await connection.runAndReadAll(readFileSync('test/scale/due.sql', 'utf8'));
    return (read.getRowObjectsJson() as Row[])
      .map(row => ({ ...row, hours: typeof row.hours === 'number' ? row.hours.toFixed(6) : null }))
      .sort((a, b) => (key(a) < key(b) ? -1 : 1));
  } finally {
    connection.closeSync();
  }
}
