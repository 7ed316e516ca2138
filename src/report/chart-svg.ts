/** A wall chart as SVG: one drawing, its text selectable, no font and no other file needed. */
import type { Chart } from '../chart/chart.ts';
import { PAGE, type Sheet, sheetsOf } from './chart-drawing.ts';
import type { Fill, Rect, Shape } from './drawing.ts';
import { safeText } from './safe-text.ts';
import { textWidth } from './text-fit.ts';

export type Paper = 'a4' | 'a3';

/** Width and height in mm. A3 is A4 enlarged by the square root of two. */
export const PAPER_MM: Readonly<Record<Paper, readonly [width: number, height: number]>> = {
  a4: [210, 297],
  a3: [297, 420],
};

/** One SVG file; several sheets stand one below the other. */
export function renderChartSvg(chart: Chart, paper: Paper = 'a4'): string {
  const sheets = sheetsOf(chart);
  const [width, height] = PAPER_MM[paper];
  const total = sheets.length * PAGE.height;
  const inner = sheets
    .map((sheet, i) => `<g transform="translate(0 ${i * PAGE.height})">\n${drawSheet(sheet)}</g>\n`)
    .join('');
  return (
    `<?xml version="1.0" encoding="UTF-8"?>\n<!-- holdfast.chart/1 -->\n` +
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height * sheets.length}mm" viewBox="0 0 ${PAGE.width} ${total}" ${FONT}>\n` +
    `<title>${escapeXml(titleOf(chart))}</title>\n${DEFINITIONS}${inner}</svg>\n`
  );
}

/** Each sheet as an SVG element for a page. */
export function sheetElements(chart: Chart): string[] {
  return sheetsOf(chart).map(
    (sheet, i) =>
      `<svg class="sheet" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${PAGE.width} ${PAGE.height}" role="img" aria-label="${escapeXml(titleOf(chart))}" ${FONT}>\n` +
      `${i === 0 ? DEFINITIONS : ''}${drawSheet(sheet)}</svg>\n`,
  );
}

export function titleOf({ inventory, at }: Chart): string {
  return `${inventory.practice.name}: anaesthesia by body weight, ${at.slice(0, 10)}`;
}

const FONT = `font-family="Arial, Helvetica, 'Liberation Sans', 'DejaVu Sans', sans-serif"`;

/** Hatching says "nothing here" on any printer. */
const DEFINITIONS =
  '<defs><pattern id="hatch" width="3" height="3" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">' +
  '<rect width="3" height="3" fill="#fff"/><rect width="1.1" height="3" fill="#000"/></pattern></defs>\n';

const FILLS: Readonly<Record<Fill, string>> = {
  white: '#fff',
  tint: '#e6e6e6',
  black: '#000',
  hatch: 'url(#hatch)',
};

function drawSheet({ shapes }: Sheet): string {
  const paper = `<rect width="${PAGE.width}" height="${PAGE.height}" fill="#fff"/>\n`;
  return paper + shapes.map(shape => `${drawShape(shape)}\n`).join('');
}

function drawShape(shape: Shape): string {
  if (shape.kind === 'rect') {
    const stroke = shape.line === 0 ? '' : ` stroke="#000" stroke-width="${shape.line}"`;
    return `<rect ${attributes(shape.rect)} fill="${FILLS[shape.fill]}"${stroke}/>`;
  }
  const { x, baseline, size, anchor, bold, ink, text, box } = shape;
  const weight = bold ? ' font-weight="bold"' : '';
  // Set to its width: in another font than expected it still stays in its box.
  const width = ` textLength="${mm(textWidth(text, size, bold))}" lengthAdjust="spacingAndGlyphs"`;
  const fill = ink === 'white' ? ' fill="#fff"' : '';
  const side = anchor === 'start' ? '' : ` text-anchor="${anchor}"`;
  const room = [box.x, box.y, box.width, box.height].map(mm).join(' ');
  return `<text x="${mm(x)}" y="${mm(baseline)}" font-size="${mm(size)}"${weight}${width}${side}${fill} data-box="${room}">${escapeXml(text)}</text>`;
}

function attributes({ x, y, width, height }: Rect): string {
  return `x="${mm(x)}" y="${mm(y)}" width="${mm(width)}" height="${mm(height)}"`;
}

function mm(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** Text that a person wrote, for markup: nothing of it is markup, nothing of it is invisible. */
export function escapeXml(text: string): string {
  return safeText(text)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
