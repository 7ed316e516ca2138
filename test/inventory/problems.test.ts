/**
 * Bad inventories as drop-in samples: problems/CODE.yaml or CODE-WHAT.yaml, and beside it what is printed.
 * UPDATE_SAMPLES=1 writes the .out files anew; read the difference before it is committed.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { todayIn } from '../../src/calendar/zone.ts';
import { loadInventory } from '../../src/inventory/load.ts';
import { renderProblems } from '../../src/report/problems.ts';

const FOLDER = 'test/inventory/problems';
const NOW = new Date('2026-11-25T09:00:00Z');

const samples = readdirSync(FOLDER)
  .filter(name => name.endsWith('.yaml'))
  .map(name => name.replace(/\.yaml$/, ''));

describe('bad inventories', () => {
  it('are many', () => {
    expect(samples.length).toBeGreaterThanOrEqual(40);
  });

  it.each(samples)('%s', name => {
    const loaded = loadInventory(`${FOLDER}/${name}.yaml`, zone => todayIn(zone, NOW));
    const problems = loaded.ok ? [] : loaded.problems;
    const printed = renderProblems(problems, 80);
    if (process.env.UPDATE_SAMPLES === '1') writeFileSync(`${FOLDER}/${name}.out`, printed);
    expect(problems.map(({ code }) => code)).toContain(name.split('-')[0]);
    expect(printed).toBe(readFileSync(`${FOLDER}/${name}.out`, 'utf8'));
  });
});
