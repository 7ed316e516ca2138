import { describe, expect, it } from 'vitest';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { displayWidth } from '../../src/problem/display-width.ts';
import { kg } from '../../src/quantity/units.ts';
import { renderPlan } from '../../src/report/plan-text.ts';
import { knowing, planFor } from '../support/plan.ts';
import { circuit, machine, practice } from '../support/practice.ts';

const PRACTICES: Readonly<Record<string, Inventory>> = {
  'the example': ensureInventory('inventory.example.yaml', () => '2026-11-25'),
  Larkhill: ensureInventory('test/scenarios/fixtures/larkhill.yaml', () => '2026-11-25'),
};
const screen = (...plan: Parameters<typeof planFor>) =>
  renderPlan(planFor(...plan), { width: 80, colour: false });
const linesOf = (text: string) => text.trimEnd().split('\n');

describe('the screen of a plan', () => {
  it.each(Object.entries(PRACTICES))(
    '%s: an ordinary case has at most 24 lines of at most 80 columns',
    (_, inventory) => {
      for (const species of ['dog', 'cat', null] as const) {
        for (const weight of [0.6, 1.2, 2, 3.4, 4.9, 5.5, 6.4, 6.8, 8.3, 9, 12, 16.6, 20, 25, 33, 45, 60]) {
          if (species === 'cat' && weight > 8) continue;
          for (const equipment of [undefined, knowing()]) {
            const lines = linesOf(screen(inventory, weight, { species }, ...(equipment ? [equipment] : [])));
            expect(lines.length, `${weight} kg ${species}\n${lines.join('\n')}`).toBeLessThanOrEqual(24);
            expect(lines.filter(line => displayWidth(line) > 80)).toEqual([]);
          }
        }
      }
    },
  );

  it('has at most two lines more at the boundary', () => {
    for (const inventory of Object.values(PRACTICES)) {
      for (const weight of [7, 7.5, 8]) {
        const lines = linesOf(screen(inventory, weight, { species: 'dog' }));
        expect(lines.length, lines.join('\n')).toBeLessThanOrEqual(26);
      }
    }
  });

  it('has the answer in its first lines, and the flow to start with before maintenance', () => {
    const lines = linesOf(screen(practice(), 20));
    const at = (pattern: RegExp) => lines.findIndex(line => pattern.test(line));
    expect(at(/^CIRCUIT +y-piece-1/)).toBe(2);
    expect(at(/^MACHINE +theatre-1/)).toBe(3);
    expect(at(/1\.5 L\/min to start +1 to 2 L\/min/)).toBe(4);
    expect(at(/600 mL\/min then +500 to 600 mL\/min/)).toBe(5);
    expect(at(/^BAG +2 L/)).toBe(7);
    expect(at(/^LEAK TEST/)).toBeGreaterThan(at(/^note/));
    expect(lines.at(-1)).toContain('does not replace');
  });

  it('shows both classes side by side at the boundary, each with its ranges', () => {
    const text = screen(practice(), 7.5);
    expect(text).toMatch(/NON-REBREATHING \(leads\) +REBREATHING \(or\)/);
    expect(text).toMatch(/CIRCUIT +bain-1 +y-piece-1/);
    expect(text).toMatch(/OXYGEN +2 L\/min to start \(1\.5–2\.25\) +700 mL\/min to start \(500–750\)/);
  });

  it('echoes the weight in kg and lb, also where nothing is given', () => {
    expect(screen(practice(), 6.8)).toContain('6.8 kg (14.99 lb)');
    expect(screen(practice(), 45, { species: 'cat' })).toContain('45 kg (99.21 lb), cat');
    expect(screen(practice(), 31, { idealWeightKg: kg(26) })).toContain('ideal 26 kg (57.32 lb)');
  });

  it('gives no figure for an implausible weight', () => {
    const text = screen(practice(), 45, { species: 'cat' });
    expect(text).toContain('No figures are given');
    expect(text).not.toMatch(/L\/min/);
  });

  it('speaks the words of the trade, not our keys', () => {
    const text = renderPlan(planFor(practice(), 7.5), { width: 80, colour: false, steps: true });
    expect(text).toContain('LEAK TEST');
    expect(text).not.toMatch(/ml_min|cmh2o\b|non_rebreathing|t_piece|leak_hold|fresh_gas/);
  });

  it('is the same without colour but for the colour', () => {
    const plan = planFor(practice(), 45, { species: 'cat' });
    const coloured = renderPlan(plan, { width: 80, colour: true });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: colours are control characters
    const escapes = /\u001b\[[0-9;]*m/g;
    expect(coloured).toMatch(escapes);
    expect(coloured.replace(escapes, '')).toBe(renderPlan(plan, { width: 80, colour: false }));
  });

  it('makes control characters from the inventory and the record visible', () => {
    const known = knowing({ outOfService: { 'bain-1': 'gone\u001b[2J' } });
    const text = renderPlan(planFor(practice(), 6, { circuit: 'bain-1' }, known), {
      width: 80,
      colour: false,
    });
    expect(text).not.toContain('\u001b');
    expect(text).toContain('gone␛[2J');
  });

  it('says why each circuit does not fit where none does', () => {
    const inventory = practice({
      machines: [machine('m', { drives: ['circle', 't_piece'] }), machine('n', { drives: ['bain'] })],
      circuits: [
        circuit('small', 't_piece', { weights_kg: [1, 2] }),
        circuit('large', 'bain', { weights_kg: [5, 9] }),
      ],
    });
    expect(screen(inventory, 4)).toMatch(
      /CIRCUIT +none fits\. Why not:\n +small is for 1 to 2 kg\n +large is for 5 to 9 kg/,
    );
    expect(screen(inventory, 6, { machine: 'm' })).toContain('large: m does not drive a Bain');
  });
});
