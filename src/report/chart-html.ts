/**
 * A chart as one page that works offline: the drawn sheets to print, and the same bands as a list for a narrow screen.
 */
import type { Band, BandService } from '../chart/bands.ts';
import type { Chart } from '../chart/chart.ts';
import { describeSpan, isFinerThanGrams } from '../chart/span.ts';
import { CLASS_WORDS, KIND_WORDS } from '../plan/fit.ts';
import { escapeXml, PAPER_MM, type Paper, sheetElements, titleOf } from './chart-svg.ts';
import {
  bagFormula,
  bagWords,
  dateWords,
  emptyWords,
  formulaWords,
  holdWords,
  inLitres,
  isThroughout,
  litresRange,
  PHASE_WORDS,
  recordWords,
  speciesWords,
  whyNotWords,
} from './chart-words.ts';
import { SAFETY_LINE } from './safety.ts';

export function renderChartHtml(chart: Chart, paper: Paper = 'a4'): string {
  const [width, height] = PAPER_MM[paper];
  return `<!doctype html>
<!-- holdfast.chart/1 -->
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeXml(titleOf(chart))}</title>
<style>
@page { size: ${width}mm ${height}mm; margin: 0 }
${STYLE}</style>
</head>
<body>
<div class="sheets">
${sheetElements(chart).join('')}</div>
<main class="list">
${listOf(chart)}</main>
</body>
</html>
`;
}

const STYLE = `body { margin: 0; background: #fff; color: #000; font: 16px/1.4 Arial, Helvetica, "Liberation Sans", "DejaVu Sans", sans-serif }
.sheet { display: block; width: 100%; max-width: 1000px; margin: 0 auto }
.list { display: none; padding: 12px; overflow-wrap: anywhere }
.list h1 { font-size: 1.3em; margin: 0 }
.list article { border: 2px solid #000; margin: 12px 0; padding: 8px 10px }
.list .tint { background: #eee }
.list .none { border-style: dashed }
.list h2 { font-size: 1.25em; margin: 0 0 4px }
.list h3 { font-size: 1em; margin: 8px 0 2px }
.list p { margin: 2px 0 }
.list dl { display: grid; grid-template-columns: max-content 1fr; gap: 0 10px; margin: 4px 0 }
.list dd { margin: 0; font-weight: bold }
.list summary { padding: 6px 0 }
.list .safety { border: 2px solid #000; padding: 6px; font-weight: bold }
@media screen and (max-width: 760px) { .sheets { display: none } .list { display: block } }
@media print { .sheet { width: 100vw; height: 100vh; max-width: none; break-after: page } .sheet:last-child { break-after: auto } .list { display: none } }
`;

function listOf(chart: Chart): string {
  const { inventory, at, bands, findings } = chart;
  const paragraphs = (lines: readonly string[]) => lines.map(line => `<p>${escapeXml(line)}</p>\n`).join('');
  const found =
    findings.length === 0
      ? ''
      : `<h3>What stands out</h3>\n<ul>\n${findings.map(({ message }) => `<li>${escapeXml(message)}</li>\n`).join('')}</ul>\n`;
  return (
    `<h1>${escapeXml(inventory.practice.name)}</h1>\n` +
    `<p>${dateWords(at)}, inventory ${inventory.blob.slice(0, 12)}, ${escapeXml(speciesWords(chart))}</p>\n` +
    paragraphs(recordWords(chart)) +
    bands
      .filter(({ span }) => !isFinerThanGrams(span))
      .map(band => card(band, chart))
      .join('') +
    found +
    `<p>Bag: ${escapeXml(bagFormula(chart))}.</p>\n` +
    `<p>Leak test with no patient attached; open the pop-off after every test. Never flush oxygen into a T-piece or Bain with a patient attached.</p>\n` +
    `<p class="safety">${escapeXml(SAFETY_LINE)}</p>\n`
  );
}

function card(band: Band, chart: Chart): string {
  const { main, other, span } = band;
  const title = `<h2>${escapeXml(describeSpan(span))}</h2>\n`;
  if (main === null && other === null)
    return `<article class="none">${title}<p><strong>${escapeXml(emptyWords(band, chart))}</strong></p><p>${escapeXml(whyNotWords(band))}</p></article>\n`;
  const tint = (main ?? other)?.circuitClass === 'rebreathing' ? ' class="tint"' : '';
  const first =
    main === null
      ? `<p><strong>None of the leading class.</strong> ${escapeXml(whyNotWords(band))}</p>`
      : service(band, main, band.outcome.isSubstitute ? ', standing in for a circle' : '');
  const second = other === null ? '' : `<h3>or</h3>${service(band, other, '')}`;
  return `<article${tint}>${title}${first}${second}</article>\n`;
}

function service(band: Band, part: BandService, remark: string): string {
  const { circuit, machine, flows } = part;
  const rows: [string, string][] = [
    ['circuit', `${circuit.id} (${KIND_WORDS[circuit.kind]}, ${CLASS_WORDS[part.circuitClass]}${remark})`],
    ['machine', machine.id],
    ...(isThroughout(part)
      ? flows.slice(0, 1).map((flow): [string, string] => ['oxygen', `${litresRange(flow)} L/min`])
      : flows.map((flow): [string, string] => [PHASE_WORDS[flow.phase], `${litresRange(flow)} L/min`])),
    ['bag', bagWords(band)],
  ];
  const list = rows.map(([name, value]) => `<dt>${name}</dt><dd>${escapeXml(value)}</dd>`).join('');
  return `<dl>${list}</dl><p>${escapeXml(formulaWords(part))}</p><p>Leak test: ${escapeXml(holdWords(part))}.</p>${dial(part)}`;
}

/** Which mark from where to where. */
function dial(part: BandService): string {
  const throughout = isThroughout(part);
  const phases = throughout ? part.flows.slice(0, 1) : part.flows;
  const lists = phases.map(({ phase, steps }) => {
    const items = steps
      .filter(({ span }) => !isFinerThanGrams(span))
      .map(
        ({ span, setMlPerMin }) => `<li>${inLitres(setMlPerMin)} L/min ${escapeXml(describeSpan(span))}</li>`,
      );
    return `${throughout ? '' : `<h3>${PHASE_WORDS[phase]}</h3>`}<ul>${items.join('')}</ul>`;
  });
  return `<details><summary>the marks, weight by weight</summary>${lists.join('')}</details>`;
}
