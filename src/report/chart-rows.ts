/** What stands in the rows of a wall chart, lane by lane. */
import type { Chart } from '../chart/chart.ts';
import type { ChartRow, RowService } from '../chart/rows.ts';
import { printedSpan } from '../chart/span.ts';
import { PHASES } from '../inventory/inventory.ts';
import { KIND_WORDS } from '../plan/fit.ts';
import { formatVolume } from '../quantity/format.ts';
import { emptyWords, inLitres, isThroughout, whyNotWords } from './chart-words.ts';
import { type Fill, inset, type Rect, type Shape, words } from './drawing.ts';
import { LINE_HEIGHT } from './text-fit.ts';

/** Around the sheet, in mm: most printers leave less. */
export const MARGIN = 9;

/** The columns of the chart, in mm from the left edge of the sheet. */
const LANES = {
  kg: { x: MARGIN, width: 35 },
  pair: { x: MARGIN + 35, width: 43 },
  induction: { x: MARGIN + 78, width: 25 },
  maintenance: { x: MARGIN + 103, width: 25 },
  recovery: { x: MARGIN + 128, width: 25 },
  bag: { x: MARGIN + 153, width: 16 },
  hold: { x: MARGIN + 169, width: 23 },
} as const;
export type Lane = keyof typeof LANES;

/** What stands in one row: a row of the chart, or the other class of one that has two. */
export interface Row {
  readonly band: ChartRow;
  readonly service: RowService | null;
  readonly role: 'only' | 'leads' | 'or';
  /** The strip above the rows of its kind. */
  readonly section: string;
}

/** A box over one or more lanes. It may be shared by neighbouring rows. */
export interface Content {
  /** Equal for neighbours that share a box. */
  readonly key: string;
  readonly lanes: readonly Lane[];
  readonly fill: Fill;
  draw(rect: Rect): Shape[];
}

export function contentsOf(row: Row, chart: Chart): Content[] {
  const { band, service } = row;
  return [
    kgContent(band, chart),
    ...(service === null ? [emptyContent(band, chart)] : serviceContents(row, service)),
  ];
}

/** "to 5": 5 kg belongs to this row; "under 7": 7 kg belongs to the next. */
function kgContent({ span }: ChartRow, { labelStepG }: Chart): Content {
  const { low, high, highIncluded, isPoint } = printedSpan(span, labelStepG);
  const word = isPoint ? 'just' : highIncluded ? 'to' : 'under';
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

function serviceContents({ band, role }: Row, service: RowService): Content[] {
  const { circuit, machine, leakHold } = service;
  const fill: Fill = service.circuitClass === 'rebreathing' ? 'tint' : 'white';
  const pair = `${role === 'or' ? 'or ' : ''}${circuit.id}`;
  const under = `${machine.id}, ${KIND_WORDS[circuit.kind]}`;
  const marks = PHASES.map(phase => inLitres(service.setMlPerMin[phase]));
  const own = `${band.span.low.edge.kg} ${band.span.low.included} ${role}`;
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
      ? [flow(PHASES, marks[0] ?? '')]
      : PHASES.map((phase, i) => flow([phase], marks[i] ?? ''))),
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

function emptyContent(band: ChartRow, chart: Chart): Content {
  const main = band.other === null ? emptyWords(band, chart) : 'NONE OF THE LEADING CLASS';
  return {
    key: `empty ${band.span.low.edge.kg} ${band.span.low.included}`,
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

export function lanesRect(lanes: readonly Lane[], y: number, height: number): Rect {
  const [first] = lanes;
  const x = first === undefined ? MARGIN : LANES[first].x;
  const width = lanes.reduce((sum, lane) => sum + LANES[lane].width, 0);
  return { x, y, width, height };
}
