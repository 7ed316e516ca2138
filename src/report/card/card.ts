/** A card for the trolley: one plan on one sheet, A6 or A5, as SVG or as a page that prints itself at that size. */
import type { Pair } from '../../plan/fit.ts';
import type { Plan } from '../../plan/plan.ts';
import { escapeXml } from '../xml.ts';
import { cardContent } from './content.ts';
import { drawing } from './drawing.ts';
import { type CardLayout, type CardText, layOut } from './layout.ts';

export type CardFormat = 'svg' | 'html';

/**
 * @param pair the plan's pair; a plan without one has no card
 * @example renderCard(plan, pair, 'svg') //=> '<svg xmlns="http://www.w3.org/2000/svg" width="105mm" …'
 */
export function renderCard(plan: Plan, pair: Pair, format: CardFormat): string {
  const content = cardContent(plan, pair);
  const layout = layOut(content);
  const svg = renderSvg(
    layout,
    drawing(content.kind),
    `${content.patient}: ${pair.circuit.id} on ${pair.machine.id}`,
  );
  return format === 'svg' ? `${svg}\n` : renderHtml(svg, layout, content.patient);
}

function renderSvg(layout: CardLayout, lines: string, title: string): string {
  const { width, height, margin } = layout;
  const { x, y, scale } = layout.drawing;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" font-family="Arial, Helvetica, 'DejaVu Sans', sans-serif" role="img">`,
    `<title>${escapeXml(title)}</title>`,
    `<rect width="${width}" height="${height}" fill="white"/>`,
    ...layout.rules.map(
      at =>
        `<line x1="${margin}" y1="${round(at)}" x2="${width - margin}" y2="${round(at)}" stroke="black" stroke-width="0.3"/>`,
    ),
    ...layout.ticks.map(
      ({ x: left, y: top, size }) =>
        `<rect x="${round(left)}" y="${round(top)}" width="${round(size)}" height="${round(size)}" fill="white" stroke="black" stroke-width="0.3"/>`,
    ),
    `<g transform="translate(${round(x)} ${round(y)}) scale(${round(scale)})">${lines}</g>`,
    ...layout.texts.map(textElement),
    '</svg>',
  ].join('\n');
}

function textElement({ x, y, size, bold, text }: CardText): string {
  const weight = bold ? ' font-weight="bold"' : '';
  return `<text x="${round(x)}" y="${round(y)}" font-size="${round(size)}"${weight}>${escapeXml(text)}</text>`;
}

function renderHtml(svg: string, { width, height }: CardLayout, title: string): string {
  return `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeXml(title)}</title>
<style>
  @page { size: ${width}mm ${height}mm; margin: 0; }
  body { margin: 0; }
  svg { display: block; max-width: 100%; height: auto; }
  @media print { svg { max-width: none; } }
</style>
${svg}
</html>
`;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
