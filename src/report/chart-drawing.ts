/**
 * The wall chart as boxes and texts, in millimetres on A4. It is read down the left edge: the first row whose limit the
 * patient does not pass is the patient's. What stays the same from row to row is one tall box, so that it can be large.
 *
 * Black on white: classes differ by strips with words and by a light tint, a gap by hatching, never by colour.
 */
import type { Chart } from '../chart/chart.ts';
import { type ChartRow, rowsOf } from '../chart/rows.ts';
import { printedSpan } from '../chart/span.ts';
import { PHASES } from '../inventory/inventory.ts';
import { formatNumber } from '../quantity/format.ts';
import { footOf, warningsBeyondFoot } from './chart-foot.ts';
import { contentsOf, type Lane, lanesRect, MARGIN, type Row } from './chart-rows.ts';
import { dateWords, formulaWords, PHASE_WORDS, speciesWords } from './chart-words.ts';
import { inset, type Shape, type WordStyle, words } from './drawing.ts';
import { safeText } from './safe-text.ts';
import { breakLines, fitText, LINE_HEIGHT } from './text-fit.ts';

/** One sheet of paper. */
export interface Sheet {
  readonly shapes: readonly Shape[];
}

export const PAGE = { width: 210, height: 297 };
const INNER = PAGE.width - 2 * MARGIN;
const HEAD_HEIGHT = 23;
const LANE_HEAD_HEIGHT = 10;
const STRIP_HEIGHT = 6.5;
/** A strip whose words would be too small on one line. */
const HIGH_STRIP_HEIGHT = 11;
const STRIP_STYLE: WordStyle = { largest: 4.4, least: 3.4, anchor: 'start', bold: true, ink: 'white' };
/** Below this a row cannot be read from two metres. */
const LEAST_ROW = 10.5;
const TALLEST_ROW = 24;
const WARNING_SIZE = 4.4;

/** The sheets of a chart. More rows than one sheet can show in a readable size go on on the next. */
export function sheetsOf(chart: Chart): Sheet[] {
  const foot = footOf(chart, INNER);
  const room = PAGE.height - 2 * MARGIN - HEAD_HEIGHT - LANE_HEAD_HEIGHT - foot.height;
  const pages = paginate(drawnRows(chart), room);
  const lists = warningLists(chart, room);
  const total = pages.length + lists.length;
  const sheetOf = (shapes: readonly Shape[], i: number): Sheet => ({
    shapes: [
      ...headOf(chart, total === 1 ? '' : `sheet ${i + 1} of ${total}`),
      ...shapes,
      ...foot.at(MARGIN, PAGE.height - MARGIN - foot.height),
    ],
  });
  const top = MARGIN + HEAD_HEIGHT;
  const drawn = pages.map(rows => {
    const strips = sectionsOf(rows).reduce((sum, [first]) => sum + stripHeight(first?.section ?? ''), 0);
    const rowHeight = Math.min(TALLEST_ROW, (room - strips) / rows.length);
    return [...laneHeads(top, rows[0], chart), ...drawRows(rows, top + LANE_HEAD_HEIGHT, rowHeight, chart)];
  });
  return [...drawn, ...lists.map(lines => drawWarnings(lines, top))].map(sheetOf);
}

/** The warnings that the foot has no room for, with all others, in lines as they stand on as many sheets as they need. */
function warningLists(chart: Chart, room: number): string[][] {
  const lines = warningsBeyondFoot(chart).flatMap(text =>
    breakLines(text, WARNING_SIZE, INNER, { bold: true }),
  );
  const perSheet = Math.max(1, Math.floor(room / (WARNING_SIZE * LINE_HEIGHT)));
  return Array.from({ length: Math.ceil(lines.length / perSheet) }, (_, i) =>
    lines.slice(i * perSheet, (i + 1) * perSheet),
  );
}

function drawWarnings(lines: readonly string[], top: number): Shape[] {
  const title = { x: MARGIN, y: top, width: INNER, height: LANE_HEAD_HEIGHT };
  const pitch = WARNING_SIZE * LINE_HEIGHT;
  return [
    ...words('ALL WARNINGS', title, { largest: 6, least: 4, anchor: 'start', bold: true }),
    ...lines.flatMap((line, i) =>
      words(
        line,
        { x: MARGIN, y: top + LANE_HEAD_HEIGHT + i * pitch, width: INNER, height: pitch },
        { largest: WARNING_SIZE, least: WARNING_SIZE / 2, anchor: 'start', bold: true, whole: true },
      ),
    ),
  ];
}

function drawnRows({ bands, labelStepG }: Chart): Row[] {
  return rowsOf(bands, labelStepG).flatMap((band): Row[] => {
    const { main, other } = band;
    const section = sectionOf(band);
    if (other === null) return [{ band, service: main, role: 'only', section }];
    return [
      { band, service: main, role: 'leads', section },
      { band, service: other, role: 'or', section },
    ];
  });
}

function sectionOf({ main, other, outcome }: ChartRow): string {
  if (main !== null && other !== null)
    return `EITHER CLASS, the upper row leads: ${formulaWords(main)}; or ${formulaWords(other)}`;
  const service = main ?? other;
  if (service === null) return outcome.status === 'implausible' ? 'OUTSIDE THE SPECIES' : 'NOTHING SERVES';
  const name = service.circuitClass === 'rebreathing' ? 'REBREATHING' : 'NON-REBREATHING';
  const standsIn = outcome.isSubstitute ? ', standing in for a circle' : '';
  return `${name}${standsIn}: ${formulaWords(service)}`;
}

/** Rows on sheets, as evenly as they go; the rows of one band stay together. */
function paginate(rows: readonly Row[], room: number): Row[][] {
  const perSheet = Math.max(2, Math.floor((room - 4 * STRIP_HEIGHT) / LEAST_ROW));
  const sheets = Math.max(1, Math.ceil(rows.length / perSheet));
  const each = Math.ceil(rows.length / sheets);
  const pages: Row[][] = [[]];
  for (const row of rows) {
    const page = pages.at(-1) ?? [];
    if (page.length >= each && row.role !== 'or') pages.push([row]);
    else page.push(row);
  }
  return pages;
}

function sectionsOf(rows: readonly Row[]): Row[][] {
  const sections: Row[][] = [];
  for (const row of rows) {
    const last = sections.at(-1);
    if (last !== undefined && last[0]?.section === row.section) last.push(row);
    else sections.push([row]);
  }
  return sections;
}

function headOf(chart: Chart, sheet: string): Shape[] {
  const { inventory, request, at } = chart;
  const left = { x: MARGIN, y: MARGIN, width: 130, height: 11 };
  const right = { x: MARGIN + 132, y: MARGIN, width: INNER - 132, height: 11 };
  const below = { y: MARGIN + 12, height: 8 };
  const range = `${formatNumber(request.fromKg, 3)} to ${formatNumber(request.toKg, 3)} kg`;
  const machine = request.machine === null ? '' : `, ${request.machine} alone`;
  const what = `Anaesthesia by body weight, ${range}, ${speciesWords(chart)}${machine}`;
  const corner = [`inventory ${inventory.blob.slice(0, 12)}`, sheet].filter(part => part !== '').join(', ');
  return [
    ...words(safeText(inventory.practice.name), left, { largest: 9, least: 5, anchor: 'start', bold: true }),
    ...words(dateWords(at), right, { largest: 7.5, least: 4, anchor: 'end', bold: true }),
    ...words(what, { ...left, ...below }, { largest: 5, least: 3, anchor: 'start', bold: false }),
    ...words(corner, { ...right, ...below }, { largest: 4, least: 2.6, anchor: 'end', bold: false }),
  ];
}

/** Two lines of titles: what a lane shows, and the unit or the phase under it. */
function laneHeads(y: number, first: Row | undefined, chart: Chart): Shape[] {
  const half = LANE_HEAD_HEIGHT / 2;
  const title = (lanes: readonly Lane[], upper: boolean, text: string) =>
    words(text, inset(lanesRect(lanes, upper ? y : y + half, half)), TITLE);
  return [
    ...title(['kg'], true, 'weight, kg'),
    ...title(['kg'], false, first === undefined ? '' : beginning(first.band, chart)),
    ...title(['pair'], true, 'circuit'),
    ...title(['pair'], false, 'machine'),
    ...title(PHASES, true, 'oxygen, L/min'),
    ...PHASES.flatMap(phase => title([phase], false, PHASE_WORDS[phase])),
    ...title(['bag'], false, 'bag'),
    ...title(['hold'], false, 'leak test'),
  ];
}

/** Where the rows of a sheet begin. */
function beginning({ span }: ChartRow, { labelStepG }: Chart): string {
  const { low, lowIncluded } = printedSpan(span, labelStepG);
  return `${lowIncluded ? 'from' : 'over'} ${low}`;
}

const TITLE: WordStyle = { largest: 4.2, least: 2.4, anchor: 'middle', bold: true, whole: true };

function drawRows(rows: readonly Row[], top: number, rowHeight: number, chart: Chart): Shape[] {
  const shapes: Shape[] = [];
  let y = top;
  for (const section of sectionsOf(rows)) {
    const title = section[0]?.section ?? '';
    const strip = { x: MARGIN, y, width: INNER, height: stripHeight(title) };
    shapes.push(
      { kind: 'rect', rect: strip, fill: 'black', line: 0 },
      ...words(title, inset(strip), STRIP_STYLE),
    );
    y += strip.height;
    shapes.push(...drawSection(section, y, rowHeight, chart));
    y += section.length * rowHeight;
  }
  return shapes;
}

function stripHeight(title: string): number {
  const line = { width: INNER - 2, height: STRIP_HEIGHT - 1 };
  const { size } = fitText(title, line, { ...STRIP_STYLE, whole: true });
  return size < STRIP_STYLE.least ? HIGH_STRIP_HEIGHT : STRIP_HEIGHT;
}

function drawSection(rows: readonly Row[], top: number, rowHeight: number, chart: Chart): Shape[] {
  const columns = rows.map(row => contentsOf(row, chart));
  const shapes: Shape[] = [];
  for (const [i, contents] of columns.entries()) {
    for (const content of contents) {
      if (columns[i - 1]?.some(({ key }) => key === content.key)) continue;
      let height = rowHeight;
      for (let below = i + 1; columns[below]?.some(({ key }) => key === content.key); below++)
        height += rowHeight;
      const rect = lanesRect(content.lanes, top + i * rowHeight, height);
      shapes.push({ kind: 'rect', rect, fill: content.fill, line: 0.35 }, ...content.draw(inset(rect)));
    }
  }
  return shapes;
}
