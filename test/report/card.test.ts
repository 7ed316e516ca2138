/** The printed card: what stands on it, and in a real browser that no text runs over an edge or into another. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { loadInventory } from '../../src/inventory/load.ts';
import { type Plan, planCase } from '../../src/plan/plan.ts';
import { NO_RECORD, type PlanRequest, requestFor } from '../../src/plan/request.ts';
import { kg, ml } from '../../src/quantity/units.ts';
import { renderCard } from '../../src/report/card/card.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-card-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const loaded = loadInventory('inventory.example.yaml', () => '2026-11-25');
if (!loaded.ok) throw new Error('the example inventory has problems');
const { inventory } = loaded;

function planned({ weightKg = kg(6.8), ...wishes }: Partial<PlanRequest>): { plan: Plan; card: string } {
  const full = requestFor(weightKg, wishes);
  const plan = planCase(inventory, NO_RECORD, full, '2026-11-25T08:14:03+00:00');
  const pair = plan.main?.choice.pair;
  if (!pair) throw new Error('no pair');
  return { plan, card: renderCard(plan, pair, 'html') };
}

const CASES: readonly [string, Partial<PlanRequest>][] = [
  ['a Bain', { species: 'dog', caseRef: 'L-1041' }],
  ['a T-piece', { weightKg: kg(2.4), species: 'cat' }],
  ['a coaxial circle', { weightKg: kg(22) }],
  ['a circle with Y-piece', { weightKg: kg(45) }],
  ['both classes, and much to caution', { weightKg: kg(7.5), adapterMl: ml(90), bagMl: ml(500) }],
  ['a case reference of the longest sort', { caseRef: 'W'.repeat(80) }],
  ['a case reference that would be markup', { caseRef: '<script>alert(1)</script> & "x"' }],
];

describe('the card', () => {
  it('says weight, pair, flow, bag, every step of the leak test with its box, cautions and the safety line', () => {
    const { plan, card } = planned({ species: 'dog' });
    const words = card.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
    for (const part of [
      '6.8 kg (14.99 lb), dog',
      'bain-1',
      'theatre-1',
      '1.75 L/min throughout',
      '1 L',
      'calculation aid',
    ]) {
      expect(words).toContain(part);
    }
    const boxes = card.match(/<rect x="6"/g) ?? [];
    // What the test does not prove is told, but nothing to tick.
    expect(boxes).toHaveLength((plan.steps?.hold.length ?? -1) - 1);
    expect(words).toContain('This does not prove');
    expect(words).toContain('close to 7 kg');
    expect(words).toContain(inventory.blob.slice(0, 12));
  });

  it('keeps text from being read as markup', () => {
    const { card } = planned({ caseRef: '<script>alert(1)</script>' });
    expect(card).not.toContain('<script');
    expect(card).toContain('&lt;script&gt;');
  });

  it('loads nothing from anywhere', () => {
    const { card } = planned({});
    expect(card.replace('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:|url\(|@import/);
  });
});

const CHROMIUM = ['chromium', 'chromium-browser', 'google-chrome'].find(
  name => spawnSync(name, ['--version']).status === 0,
);

/** Looks in the browser at every text: inside the sheet, and on no other text. */
const MEASURE = `<script>
  const svg = document.querySelector('svg');
  const sheet = svg.viewBox.baseVal;
  const texts = [...svg.querySelectorAll('text')].map(node => {
    const box = node.getBBox();
    const matrix = node.getCTM().multiply(svg.getCTM().inverse());
    const at = (x, y) => { const p = svg.createSVGPoint(); p.x = x; p.y = y; return p.matrixTransform(node.getCTM()).matrixTransform(svg.getCTM().inverse()); };
    const a = at(box.x, box.y), b = at(box.x + box.width, box.y + box.height);
    return { text: node.textContent, left: a.x, top: a.y, right: b.x, bottom: b.y };
  });
  const over = texts.filter(t => t.left < 1 || t.top < 1 || t.right > sheet.width - 1 || t.bottom > sheet.height - 1);
  const onto = texts.flatMap((t, i) => texts.slice(i + 1).filter(u =>
    t.left < u.right - 0.3 && u.left < t.right - 0.3 && t.top < u.bottom - 0.9 && u.top < t.bottom - 0.9).map(u => [t.text, u.text]));
  document.title = JSON.stringify({ count: texts.length, over: over.map(t => t.text), onto });
</script>`;

function measured(name: string, card: string): { count: number; over: string[]; onto: string[][] } {
  const file = path.join(folder, `${name.replace(/\W+/g, '-')}.html`);
  writeFileSync(file, card.replace('</html>', `${MEASURE}</html>`));
  const flags = [
    '--headless',
    '--no-sandbox',
    '--disable-gpu',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    `--user-data-dir=${path.join(folder, 'profile')}`,
  ];
  const { stdout } = spawnSync(CHROMIUM ?? '', [...flags, '--dump-dom', `file://${file}`], {
    encoding: 'utf8',
  });
  const title = /<title>(\{.*?\})<\/title>/s.exec(stdout)?.[1] ?? '';
  return JSON.parse(title.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&'));
}

describe.skipIf(CHROMIUM === undefined)('the card in a browser', () => {
  it.each(CASES)('%s: no text over the edge, none on another', (name, request) => {
    const { count, over, onto } = measured(name, planned(request).card);
    expect(count).toBeGreaterThan(10);
    expect(over).toEqual([]);
    expect(onto).toEqual([]);
  });
});
