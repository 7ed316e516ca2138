/** The inventory commands and explain. UPDATE_SAMPLES=1 writes commands.txt anew; read the difference. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import { todayIn } from '../../src/calendar/zone.ts';
import { CIRCUIT_KINDS } from '../../src/inventory/inventory.ts';
import { understandInventory } from '../../src/inventory/load.ts';
import { RULE_SETS } from '../../src/inventory/rule-sets.ts';
import { Source } from '../../src/inventory/source.ts';
import { renderStarter } from '../../src/inventory/starter.ts';
import { playScenario } from '../support/scenario.ts';

const SCENARIO = 'test/inventory/commands.txt';
const NOW = new Date('2026-11-25T09:00:00Z');

describe('the inventory commands', () => {
  it('print what the scenario says, tables within 80 columns', async () => {
    const played = await playScenario(readFileSync(SCENARIO, 'utf8'));
    if (process.env.UPDATE_SAMPLES === '1') writeFileSync(SCENARIO, played.text);
    expect(played.text).toBe(readFileSync(SCENARIO, 'utf8'));
    const tables = played.commands.filter(({ command }) => /inventory list|explain/.test(command));
    const lines = tables.flatMap(({ out }) => out.split('\n'));
    expect(lines.filter(line => stringWidth(line) > 80)).toEqual([]);
  });

  it('cut no line of a table in a narrow terminal', async () => {
    const { commands } = await playScenario(
      '@ copy ../../../inventory.example.yaml inventory.yaml\n@ width 60\n$ holdfast inventory list\n',
    );
    const lines = commands.flatMap(({ out }) => out.split('\n'));
    expect(lines.length).toBeGreaterThan(50);
    expect(lines.filter(line => stringWidth(line) > 60)).toEqual([]);
  });
});

describe('renderStarter', () => {
  it.each(RULE_SETS)('with the rules $name passes the check and has them with their sources', ruleSet => {
    const circuits = [...CIRCUIT_KINDS, 'bain'] as const;
    const wishes = { name: 'A "name": # 動物', timeZone: 'Europe/Dublin', machines: ['theatre-1', 'dental'] };
    const text = renderStarter({ ...wishes, circuits, ruleSet, today: '2026-11-25' });
    const read = { source: new Source('new.yaml', text), bytes: Buffer.from(text) };
    const understood = understandInventory(read, zone => todayIn(zone, NOW));
    if (!understood.ok) expect(understood.problems).toEqual([]);
    else {
      const { practice, rules } = understood.inventory;
      expect(practice.name).toBe('A "name": # 動物');
      const { minimumMlPerMin } = rules.freshGasFlow;
      if (ruleSet.name !== 'holds-1993') expect(minimumMlPerMin.source).toMatch(/noted “.*20(18|20)/);
      expect(rules.leakHold.circle_y.pressureCmH2O).toMatchObject({ value: 30 });
    }
  });
});

describe('inventory new', () => {
  it('leaves nothing behind that it could not finish', async () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-new-'));
    try {
      const { commands } = await playScenario(
        `$ holdfast inventory new ${folder}/a.yaml --time-zone Nowhere\n$ holdfast inventory new ${folder}/a.yaml --machine oxygen-1 --time-zone UTC\n`,
      );
      expect(commands.map(({ exitCode }) => exitCode)).toEqual([2, 2]);
      expect(readdirSync(folder)).toEqual([]);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
