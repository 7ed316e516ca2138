import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Chart, chartOf } from '../../src/chart/chart.ts';
import type { ChartRequest } from '../../src/chart/outcome.ts';
import { NO_RECORD } from '../../src/plan/request.ts';
import { kg } from '../../src/quantity/units.ts';
import { PAGE, sheetsOf } from '../../src/report/chart-drawing.ts';
import { renderChartHtml } from '../../src/report/chart-html.ts';
import { renderChartSvg } from '../../src/report/chart-svg.ts';
import { recordWords } from '../../src/report/chart-words.ts';
import { SAFETY_LINE } from '../../src/report/safety.ts';
import { textWidth } from '../../src/report/text-fit.ts';
import { inBrowser, NO_BROWSER } from './browser.ts';
import { exampleInventory, outOfServiceState, soundInventory } from './inventories.ts';

const AT = '2026-11-25T08:14:03+00:00';
const WIDE: ChartRequest = { fromKg: kg(0.5), toKg: kg(80), species: null, machine: null };

const EXAMPLE = readFileSync('inventory.example.yaml', 'utf8');

/** Long names, wide letters, markup, edges with many decimals, gaps, many bands: what a drawing breaks at. */
const ODD = EXAMPLE.replace('id: bain-1,', 'id: bain-with-a-name-of-as-many-as-40-letter,')
  .replace('id: y-large,', `id: y-${'w'.repeat(38)},`)
  .replaceAll(/\btheatre-1(?![\w-])/g, `theatre-${'m'.repeat(30)}`)
  .replace(
    'name: Larkhill Animal Clinic',
    'name: "Larkhill 犬猫 Clinic <b>&amp; \\"Moor\\" 😀 Wildlife Rescue of the Whole West Riding"',
  )
  .replace('weights_kg: [5, 30]', 'weights_kg: [9.3333, 11]')
  .replace('weights_kg: [3, 15]', 'weights_kg: [3, 9.123456]')
  .replace('since: 2022-11-07, bore_mm', 'since: 2022-11-07, weights_kg: [20, 60], bore_mm');

const charts: readonly (readonly [string, Chart])[] = [
  ['the example practice', chartOf(exampleInventory(), NO_RECORD, WIDE, AT)],
  [
    'a ferret',
    chartOf(exampleInventory(), NO_RECORD, { ...WIDE, fromKg: kg(0.1), toKg: kg(5), species: 'ferret' }, AT),
  ],
  ['an unlisted species', chartOf(exampleInventory(), NO_RECORD, { ...WIDE, species: 'other' }, AT)],
  ['long names, gaps and markup', chartOf(soundInventory(ODD), NO_RECORD, WIDE, AT)],
  [
    'much out of service',
    chartOf(
      exampleInventory(),
      outOfServiceState(['t-piece-1', 'coaxial-1', 'theatre-1', 'litre-a']),
      WIDE,
      AT,
    ),
  ],
  [
    'nearly everything out of service',
    chartOf(exampleInventory(), outOfServiceState([...exampleInventory().assets.keys()].slice(1)), WIDE, AT),
  ],
  ['one weight', chartOf(exampleInventory(), NO_RECORD, { ...WIDE, fromKg: kg(7), toKg: kg(7) }, AT)],
];

/** Texts that reach out of their box by more than a hair, measured as drawn. */
const MEASURE = `
  const out = [];
  for (const text of document.querySelectorAll('text[data-box]')) {
    const [x, y, width, height] = text.dataset.box.split(' ').map(Number);
    const drawn = text.getBBox();
    // The overhang of a letter such as w or j; boxes lie a millimetre inside their frames.
    const hair = 0.3;
    // The height of a line in a font is more than that of its letters: of the baseline and the letters above it.
    const size = Number(text.getAttribute('font-size'));
    const baseline = Number(text.getAttribute('y'));
    const inside = drawn.x >= x - hair && drawn.x + drawn.width <= x + width + hair
      && baseline - 0.75 * size >= y - hair && baseline + 0.22 * size <= y + height + hair;
    if (!inside) out.push([text.textContent, drawn.x - x, drawn.width - width, baseline - size - y]);
  }
  return { count: document.querySelectorAll('text[data-box]').length, out };`;

describe('the drawing', () => {
  it.each(charts)('of %s keeps every shape on its sheet and every figure in one piece', (_, chart) => {
    for (const { shapes } of sheetsOf(chart)) {
      for (const shape of shapes) {
        const { x, y, width, height } = shape.kind === 'rect' ? shape.rect : shape.box;
        expect(x).toBeGreaterThanOrEqual(8.9);
        expect(y).toBeGreaterThanOrEqual(8.9);
        expect(x + width).toBeLessThanOrEqual(PAGE.width - 8.9);
        expect(y + height).toBeLessThanOrEqual(PAGE.height - 8.9);
        if (shape.kind === 'text') {
          expect(textWidth(shape.text, shape.size, shape.bold), shape.text).toBeLessThanOrEqual(
            shape.box.width + 1e-6,
          );
        }
      }
    }
  });

  it('shows each flow of each row whole, and never a range to guess within', () => {
    const chart = chartOf(exampleInventory(), NO_RECORD, WIDE, AT);
    const texts = sheetsOf(chart).flatMap(({ shapes }) =>
      shapes.flatMap(s => (s.kind === 'text' ? [s.text] : [])),
    );
    for (const figure of ['0.7', '1.25', '5.75', '16.66', '5.55', '20 cmH2O', 'coaxial-1', '25 Nov 2026'])
      expect(texts).toContain(figure);
    expect(texts.filter(text => /^[\d.]+–[\d.]+$/.test(text))).toEqual([]);
    expect(texts).toContain(SAFETY_LINE);
    expect(texts).toContain(`inventory ${chart.inventory.blob.slice(0, 12)}, sheet 1 of 3`);
  });

  it('is large enough for two metres: 2.9 mm is what a sharp eye can just tell there, the main figures have more', () => {
    // Height of a capital or digit is about 0.72 of the size; five minutes of arc at 2 m are 2.9 mm.
    const chart = chartOf(exampleInventory(), NO_RECORD, WIDE, AT);
    for (const { shapes } of sheetsOf(chart)) {
      for (const shape of shapes) {
        if (
          shape.kind !== 'text' ||
          !/^(\d[\d.]*(–[\d.]+)?|[\d.]+ L|(t-piece|bain|coaxial|y)-\w+)$/.test(shape.text)
        )
          continue;
        expect(shape.size * 0.72, shape.text).toBeGreaterThanOrEqual(2.9);
      }
    }
  });

  it('escapes what a person wrote, and uses nothing but black, white and grey', () => {
    const svg = renderChartSvg(chartOf(soundInventory(ODD), NO_RECORD, WIDE, AT));
    expect(svg).not.toContain('<b>');
    for (const [, colour] of svg.matchAll(/fill="(#[^"]*)"/g)) expect(colour).toMatch(/^#(fff|000|e6e6e6)$/);
    expect(svg).not.toMatch(/(?:href|src)=|url\((?!#)|@import/);
  });

  it('of A3 is the same drawing enlarged', () => {
    const chart = chartOf(exampleInventory(), NO_RECORD, WIDE, AT);
    const [a4, a3] = [renderChartSvg(chart, 'a4'), renderChartSvg(chart, 'a3')];
    expect(a3.replace('width="297mm" height="1260mm"', 'width="210mm" height="891mm"')).toBe(a4);
  });

  it('has every warning on paper: what the foot has no room for stands on a last sheet, and the foot says so', () => {
    const gone = [...exampleInventory().assets.keys()];
    for (const out of [gone, gone.slice(0, 3), []]) {
      const chart = chartOf(exampleInventory(), outOfServiceState(out), WIDE, AT);
      const sheets = sheetsOf(chart).map(({ shapes }) =>
        shapes.flatMap(s => (s.kind === 'text' ? [s.text] : [])).join(' '),
      );
      const all = sheets.join(' ').replaceAll(/\s+/g, ' ');
      for (const line of recordWords(chart)) expect(all).toContain(line);
      for (const { message } of chart.findings) expect(all).toContain(message.slice(1));
      const hidden = Math.max(0, out.length - 6) + Math.max(0, chart.findings.length - 7);
      for (const sheet of sheets)
        if (hidden > 0) expect(sheet).toContain(`NOT ALL WARNINGS STAND HERE: ${hidden} MORE`);
        else expect(sheet).not.toContain('NOT ALL WARNINGS');
      if (out === gone) expect(hidden).toBeGreaterThan(0);
    }
  });

  it('lists each row on a narrow screen with its mark', () => {
    const page = renderChartHtml(chartOf(exampleInventory(), NO_RECORD, WIDE, AT));
    expect(page).toContain('<tr><th>over 2.33 to 2.8 kg</th><td>0.7</td></tr>');
    expect(page).toContain('<tr><th>over 8 to 9 kg</th><td>0.7</td><td>0.5</td><td>0.7</td></tr>');
    expect(page.match(/<h2>/g)?.length).toBeLessThan(15);
  });

  describe.skipIf(NO_BROWSER !== null)(
    `in a browser${NO_BROWSER === null ? '' : ` (skipped: ${NO_BROWSER})`}`,
    () => {
      it.each(charts)('of %s lets no text out of its box', (_, chart) => {
        const measured = inBrowser(renderChartHtml(chart), MEASURE) as { count: number; out: unknown[] };
        expect(measured.count).toBeGreaterThan(20);
        expect(measured.out).toEqual([]);
      });

      it('stays in its boxes in another, wider font', () => {
        const page = renderChartHtml(chartOf(soundInventory(ODD), NO_RECORD, WIDE, AT)).replaceAll(
          /font-family="[^"]*"/g,
          'font-family="DejaVu Sans"',
        );
        expect(inBrowser(page, MEASURE)).toMatchObject({ out: [] });
      });

      it('can find a text that is too wide: the measure itself works', () => {
        const page = renderChartHtml(chartOf(exampleInventory(), NO_RECORD, WIDE, AT)).replace(
          '>coaxial-1</text>',
          ' style="font-size:30px">coaxial-1, coaxial-1, coaxial-1</text>',
        );
        const stretched = page.replaceAll(/ textLength="[^"]*" lengthAdjust="[^"]*"/g, '');
        expect((inBrowser(stretched, MEASURE) as { out: unknown[] }).out.length).toBeGreaterThan(0);
      });

      it.each([390, 500, 760])('shows a list without sideways scrolling on a screen %i px wide', width => {
        const page = renderChartHtml(chartOf(soundInventory(ODD), NO_RECORD, WIDE, AT));
        // The browser's window is never narrower than 500 px: a frame is.
        const frame = `<!doctype html><body style="margin:0"><iframe style="border:0;width:${width}px;height:900px"></iframe>
        <script>const frame = document.querySelector('iframe'); frame.contentDocument.open(); frame.contentDocument.write(${JSON.stringify(page).replaceAll('</', '<\\/')}); frame.contentDocument.close();</script>`;
        const result = inBrowser(
          frame,
          `const d = document.querySelector('iframe').contentDocument; const w = document.querySelector('iframe').contentWindow;
         return { list: w.getComputedStyle(d.querySelector('.list')).display, sheets: w.getComputedStyle(d.querySelector('.sheets')).display,
                  spare: d.documentElement.clientWidth - d.documentElement.scrollWidth, cards: d.querySelectorAll('article').length }`,
          1060,
        );
        expect(result).toMatchObject({ list: 'block', sheets: 'none', spare: 0 });
      });
    },
  );
});
