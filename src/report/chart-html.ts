/**
 * A chart as one page that works offline: the drawn sheets to print, and the same bands as a list for a narrow screen.
 */
import type { Chart } from '../chart/chart.ts';
import { type ChartRow, type RowGroup, type RowService, rowGroups, rowsOf } from '../chart/rows.ts';
import { describeSpan } from '../chart/span.ts';
import { PHASES } from '../inventory/inventory.ts';
import { CLASS_WORDS, KIND_WORDS } from '../plan/fit.ts';
import { escapeXml, PAPER_MM, type Paper, sheetElements, titleOf } from './chart-svg.ts';
import {
  bagFormula,
  bagWords,
  dateWords,
  edgeWords,
  emptyWords,
  formulaWords,
  holdWords,
  inLitres,
  isThroughout,
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
.list table { border-collapse: collapse; margin: 6px 0 }
.list th, .list td { border: 1px solid #000; padding: 2px 6px; text-align: left; font-weight: normal }
.list td { font-weight: bold }
.list .safety { border: 2px solid #000; padding: 6px; font-weight: bold }
@media screen and (max-width: 760px) { .sheets { display: none } .list { display: block } }
@media print { .sheet { width: 100vw; height: 100vh; max-width: none; break-after: page } .sheet:last-child { break-after: auto } .list { display: none } }
`;

function listOf(chart: Chart): string {
  const { inventory, at, bands, findings, labelStepG } = chart;
  const paragraphs = (lines: readonly string[]) => lines.map(line => `<p>${escapeXml(line)}</p>\n`).join('');
  const found =
    findings.length === 0
      ? ''
      : `<h3>What stands out</h3>\n<ul>\n${findings.map(({ message }) => `<li>${escapeXml(message)}</li>\n`).join('')}</ul>\n`;
  return (
    `<h1>${escapeXml(inventory.practice.name)}</h1>\n` +
    `<p>${dateWords(at)}, inventory ${inventory.blob.slice(0, 12)}, ${escapeXml(speciesWords(chart))}</p>\n` +
    paragraphs(recordWords(chart)) +
    rowGroups(rowsOf(bands, labelStepG))
      .map(group => card(group, chart))
      .join('') +
    found +
    `<p>Bag: ${escapeXml(bagFormula(chart))}.</p>\n` +
    `<p>${escapeXml(edgeWords(chart))}</p>\n` +
    `<p>Leak test with no patient attached; open the pop-off after every test. Never flush oxygen into a T-piece or Bain with a patient attached.</p>\n` +
    `<p class="safety">${escapeXml(SAFETY_LINE)}</p>\n`
  );
}

function card({ span, rows }: RowGroup, chart: Chart): string {
  const [first] = rows;
  const { main, other } = first;
  const title = `<h2>${escapeXml(describeSpan(span, chart.labelStepG))}</h2>\n`;
  if (main === null && other === null)
    return `<article class="none">${title}<p><strong>${escapeXml(emptyWords(first, chart))}</strong></p><p>${escapeXml(whyNotWords(first))}</p></article>\n`;
  const tint = (main ?? other)?.circuitClass === 'rebreathing' ? ' class="tint"' : '';
  const remark = first.outcome.isSubstitute ? ', standing in for a circle' : '';
  const leading =
    main === null
      ? `<p><strong>None of the leading class.</strong> ${escapeXml(whyNotWords(first))}</p>`
      : service(first, main, remark, marks(rows, 'main', chart));
  const second = other === null ? '' : `<h3>or</h3>${service(first, other, '', marks(rows, 'other', chart))}`;
  return `<article${tint}>${title}${leading}${second}</article>\n`;
}

function service(row: ChartRow, part: RowService, remark: string, table: string): string {
  const { circuit, machine } = part;
  const rows: [string, string][] = [
    ['circuit', `${circuit.id} (${KIND_WORDS[circuit.kind]}, ${CLASS_WORDS[part.circuitClass]}${remark})`],
    ['machine', machine.id],
    ['bag', bagWords(row)],
  ];
  const list = rows.map(([name, value]) => `<dt>${name}</dt><dd>${escapeXml(value)}</dd>`).join('');
  return `<dl>${list}</dl>${table}<p>${escapeXml(formulaWords(part))}</p><p>Leak test: ${escapeXml(holdWords(part))}.</p>`;
}

/** The mark to set from where to where: never a range, in which a patient would have to be guessed. */
function marks(rows: RowGroup['rows'], part: 'main' | 'other', { labelStepG }: Chart): string {
  const throughout = rows.every(row => row[part] === null || isThroughout(row[part]));
  const phases = throughout ? PHASES.slice(0, 1) : PHASES;
  const heads = throughout ? ['oxygen, L/min'] : PHASES.map(phase => `${PHASE_WORDS[phase]}, L/min`);
  const cells = rows.map(row => {
    const set = row[part]?.setMlPerMin;
    const figures = phases.map(phase => `<td>${set === undefined ? '' : inLitres(set[phase])}</td>`);
    return `<tr><th>${escapeXml(describeSpan(row.span, labelStepG))}</th>${figures.join('')}</tr>`;
  });
  return `<table><tr><th></th>${heads.map(head => `<th>${head}</th>`).join('')}</tr>${cells.join('')}</table>`;
}
