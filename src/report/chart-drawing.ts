/**
 * The wall chart as boxes and texts, in millimetres on A4. It is read down the left edge: the first row whose limit the
 * patient does not pass is the patient's. What stays the same from row to row is one tall box, so that it can be large.
 *
 * Black on white: classes differ by strips with words and by a light tint, a gap by hatching, never by colour.
 */
import type { Band, BandService } from '../chart/bands.ts';
import type { Chart } from '../chart/chart.ts';
import { gramLabels, isFinerThanGrams, isPoint } from '../chart/span.ts';
import { PHASES } from '../inventory/inventory.ts';
import { KIND_WORDS } from '../plan/fit.ts';
import { formatNumber, formatVolume } from '../quantity/format.ts';
import { footOf } from './chart-foot.ts';
import {
  dateWords,
  emptyWords,
  formulaWords,
  isThroughout,
  litresRange,
  PHASE_WORDS,
  speciesWords,
  whyNotWords,
} from './chart-words.ts';
import { safeText } from './safe-text.ts';
import { type FitStyle, fitText, LINE_HEIGHT } from './text-fit.ts';

export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export type Shape =
  | { readonly kind: 'rect'; readonly rect: Rect; readonly fill: Fill; readonly line: number }
  | {
      readonly kind: 'text';
      readonly text: string;
      readonly x: number;
      readonly baseline: number;
      readonly size: number;
      readonly anchor: 'start' | 'middle' | 'end';
      readonly bold: boolean;
      readonly ink: 'black' | 'white';
      /** What it must stay within. */
      readonly box: Rect;
    };

export type Fill = 'white' | 'tint' | 'black' | 'hatch';

/** One sheet of paper. */
export interface Sheet {
  readonly shapes: readonly Shape[];
}

export const PAGE = { width: 210, height: 297 };
const MARGIN = 9;
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

const LANES = {
  kg: { x: MARGIN, width: 35 },
  pair: { x: MARGIN + 35, width: 43 },
  induction: { x: MARGIN + 78, width: 25 },
  maintenance: { x: MARGIN + 103, width: 25 },
  recovery: { x: MARGIN + 128, width: 25 },
  bag: { x: MARGIN + 153, width: 16 },
  hold: { x: MARGIN + 169, width: 23 },
} as const;
type Lane = keyof typeof LANES;

/** What stands in one row: a band, or the other class of a band that has two. */
interface Row {
  readonly band: Band;
  readonly service: BandService | null;
  readonly role: 'only' | 'leads' | 'or';
  /** The strip above the rows of its kind. */
  readonly section: string;
}

/** The sheets of a chart. More rows than one sheet can show in a readable size go on on the next. */
export function sheetsOf(chart: Chart): Sheet[] {
  const foot = footOf(chart, INNER);
  const room = PAGE.height - 2 * MARGIN - HEAD_HEIGHT - LANE_HEAD_HEIGHT - foot.height;
  const pages = paginate(rowsOf(chart), room);
  return pages.map((rows, i) => {
    const number = pages.length === 1 ? '' : `sheet ${i + 1} of ${pages.length}`;
    const top = MARGIN + HEAD_HEIGHT;
    const strips = sectionsOf(rows).reduce((sum, [first]) => sum + stripHeight(first?.section ?? ''), 0);
    const rowHeight = Math.min(TALLEST_ROW, (room - strips) / rows.length);
    return {
      shapes: [
        ...headOf(chart, number),
        ...laneHeads(top, rows[0]),
        ...drawRows(rows, top + LANE_HEAD_HEIGHT, rowHeight, chart),
        ...foot.at(MARGIN, PAGE.height - MARGIN - foot.height),
      ],
    };
  });
}

function rowsOf(chart: Chart): Row[] {
  return chart.bands
    .filter(({ span }) => !isFinerThanGrams(span))
    .flatMap((band): Row[] => {
      const { main, other } = band;
      const section = sectionOf(band);
      if (other === null) return [{ band, service: main, role: 'only', section }];
      return [
        { band, service: main, role: 'leads', section },
        { band, service: other, role: 'or', section },
      ];
    });
}

function sectionOf({ main, other, outcome }: Band): string {
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
function laneHeads(y: number, first: Row | undefined): Shape[] {
  const half = LANE_HEAD_HEIGHT / 2;
  const title = (lanes: readonly Lane[], upper: boolean, text: string) =>
    words(text, inset(lanesRect(lanes, upper ? y : y + half, half)), TITLE);
  return [
    ...title(['kg'], true, 'weight, kg'),
    ...title(['kg'], false, first === undefined ? '' : beginning(first.band)),
    ...title(['pair'], true, 'circuit'),
    ...title(['pair'], false, 'machine'),
    ...title(PHASES, true, 'oxygen, L/min'),
    ...PHASES.flatMap(phase => title([phase], false, PHASE_WORDS[phase])),
    ...title(['bag'], false, 'bag'),
    ...title(['hold'], false, 'leak test'),
  ];
}

/** Where the rows of a sheet begin. */
function beginning({ span }: Band): string {
  return `${span.low.included ? 'from' : 'over'} ${gramLabels(span).low}`;
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

interface Content {
  /** Equal for neighbours that share a box. */
  readonly key: string;
  readonly lanes: readonly Lane[];
  readonly fill: Fill;
  draw(rect: Rect): Shape[];
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

function contentsOf(row: Row, chart: Chart): Content[] {
  const { band, service } = row;
  return [
    kgContent(band),
    ...(service === null ? [emptyContent(band, chart)] : serviceContents(row, service)),
  ];
}

/** "to 5": 5 kg belongs to this row; "under 7": 7 kg belongs to the next. */
function kgContent({ span }: Band): Content {
  const { low, high } = gramLabels(span);
  const word = isPoint(span) ? 'just' : span.high.included ? 'to' : 'under';
  return {
    key: `kg ${low} ${high} ${word}`,
    lanes: ['kg'],
    fill: 'white',
    draw: rect => [
      ...words(
        word,
        { ...rect, width: 9.5 },
        { largest: 4, least: 2.4, anchor: 'start', bold: true, whole: true },
      ),
      ...words(
        high,
        { ...rect, x: rect.x + 11, width: rect.width - 11.5 },
        { largest: 9, least: 3, anchor: 'end', bold: true, whole: true },
      ),
    ],
  };
}

function serviceContents({ band, role }: Row, service: BandService): Content[] {
  const { circuit, machine, leakHold } = service;
  const fill: Fill = service.circuitClass === 'rebreathing' ? 'tint' : 'white';
  const pair = `${role === 'or' ? 'or ' : ''}${circuit.id}`;
  const under = `${machine.id}, ${KIND_WORDS[circuit.kind]}`;
  const ranges = service.flows.map(litresRange);
  const own = `${band.span.low.edge.kg} ${role}`;
  const flow = (lanes: readonly Lane[], text: string): Content => ({
    key: `flow ${own} ${lanes.join(' ')}`,
    lanes,
    fill,
    draw: rect =>
      words(text, rect, {
        largest: lanes.length > 1 ? 8.5 : 7,
        least: 3,
        anchor: 'middle',
        bold: true,
        whole: true,
      }),
  });
  const bag = band.outcome.bag;
  const bagText = bag === null ? '?' : bag.sizeMl === null ? 'none' : formatVolume(bag.sizeMl);
  const bagUnder = bag === null ? 'not worked out' : bag.isLargeEnough ? '' : 'too small';
  const gauge =
    leakHold.watch === 'gauge'
      ? [`${leakHold.pressureCmH2O} cmH2O`, `${leakHold.seconds} s, gauge`]
      : ['bag taut', `${leakHold.seconds} s`];
  return [
    {
      key: `pair ${circuit.id} ${machine.id} ${role}`,
      lanes: ['pair'],
      fill,
      draw: rect => pairOfLines(pair, under, rect, [10, 4.6], false),
    },
    ...(isThroughout(service)
      ? [flow(PHASES, ranges[0] ?? '')]
      : PHASES.map((phase, i) => flow([phase], ranges[i] ?? ''))),
    {
      key: `bag ${bagText} ${bagUnder}`,
      lanes: ['bag'],
      fill,
      draw: rect => pairOfLines(bagText, bagUnder, rect, [8.5, 3.2], true),
    },
    {
      key: `hold ${gauge.join(' ')}`,
      lanes: ['hold'],
      fill,
      draw: rect => pairOfLines(gauge[0] ?? '', gauge[1] ?? '', rect, [5.6, 4], true),
    },
  ];
}

function emptyContent(band: Band, chart: Chart): Content {
  const main = band.other === null ? emptyWords(band, chart) : 'NONE OF THE LEADING CLASS';
  return {
    key: `empty ${band.span.low.edge.kg}`,
    lanes: ['pair', ...PHASES, 'bag', 'hold'],
    fill: 'hatch',
    draw: rect => {
      // The hatching stays visible around a white label, so that the words stay readable.
      const label = { x: rect.x + 4, y: rect.y + 0.8, width: rect.width - 8, height: rect.height - 1.6 };
      return [
        { kind: 'rect', rect: label, fill: 'white', line: 0 },
        ...pairOfLines(main, whyNotWords(band), inset(label), [7, 3.4], false),
      ];
    },
  };
}

/** A large line with a small one under it. @param whole whether the large one is a figure, which is never broken */
function pairOfLines(
  large: string,
  small: string,
  rect: Rect,
  sizes: readonly [number, number],
  whole: boolean,
): Shape[] {
  const [largest, smaller] = sizes;
  const style = { largest, least: largest / 2.2, anchor: 'middle', bold: true, whole } as const;
  if (small === '') return words(large, rect, style);
  // In a tall box the two stay together in its middle.
  const height = Math.min(rect.height, (largest + 2 * smaller) * LINE_HEIGHT);
  const y = rect.y + (rect.height - height) / 2;
  const upper = { ...rect, y, height: height * 0.58 };
  const lower = { ...rect, y: y + height * 0.58, height: height * 0.42 };
  return [
    ...words(large, upper, style),
    ...words(small, lower, { largest: smaller, least: 2.2, anchor: 'middle', bold: false }),
  ];
}

export interface WordStyle extends FitStyle {
  readonly anchor: 'start' | 'middle' | 'end';
  readonly ink?: 'black' | 'white';
}

/** A text in the middle of the height of a box, as large as it goes. */
export function words(text: string, box: Rect, style: WordStyle): Shape[] {
  if (text === '') return [];
  const { anchor, bold, ink = 'black' } = style;
  const { lines, size } = fitText(text, box, style);
  const x = { start: box.x, middle: box.x + box.width / 2, end: box.x + box.width }[anchor];
  const height = lines.length * size * LINE_HEIGHT;
  const top = box.y + (box.height - height) / 2;
  // Of a line's height the letters without descender end at about four fifths.
  return lines.map((line, i) => ({
    kind: 'text',
    text: line,
    x,
    baseline: top + (i + 0.8) * size * LINE_HEIGHT,
    size,
    anchor,
    bold,
    ink,
    box,
  }));
}

function lanesRect(lanes: readonly Lane[], y: number, height: number): Rect {
  const [first] = lanes;
  const x = first === undefined ? MARGIN : LANES[first].x;
  const width = lanes.reduce((sum, lane) => sum + LANES[lane].width, 0);
  return { x, y, width, height };
}

function inset({ x, y, width, height }: Rect): Rect {
  return { x: x + 1, y: y + 0.5, width: width - 2, height: height - 1 };
}
