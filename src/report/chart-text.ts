/** A chart for a terminal: the bands first, then what stands out, then how the figures come about. */
import { Chalk, type ChalkInstance } from 'chalk';
import type { Chart } from '../chart/chart.ts';
import type { Change } from '../chart/compare.ts';
import type { Finding } from '../chart/findings.ts';
import { type ChartRow, type RowService, rowsOf } from '../chart/rows.ts';
import { describeSpan, shortSpan } from '../chart/span.ts';
import { PHASES } from '../inventory/inventory.ts';
import { CLASS_WORDS } from '../plan/fit.ts';
import { displayWidth } from '../problem/display-width.ts';
import { formatNumber } from '../quantity/format.ts';
import {
  bagFormula,
  bagWords,
  edgeWords,
  emptyWords,
  formulaLines,
  holdLines,
  inLitres,
  recordWords,
  speciesWords,
  whyNotWords,
} from './chart-words.ts';
import { safeText } from './safe-text.ts';
import { SAFETY_LINE } from './safety.ts';
import { padEnd, wrap } from './text.ts';

export interface ChartView {
  readonly width: number;
  readonly colour: boolean;
}

/** The chart, with a line break at its end. */
export function renderChart(chart: Chart, view: ChartView): string {
  const chalk = new Chalk({ level: view.colour ? 1 : 0 });
  return blocks([
    header(chart, chalk, view.width),
    table(chart, chalk, view.width),
    ...details(chart, chalk, view.width),
  ]);
}

/** What a chart would be like, told as changes against the present one. */
export interface WhatIf {
  readonly present: Chart;
  readonly supposed: Chart;
  /** Ids that are taken away. */
  readonly without: readonly string[];
  /** The file of the other inventory; null: the present one. */
  readonly draft: string | null;
  readonly changes: readonly Change[];
  readonly newFindings: readonly Finding[];
  readonly goneFindings: readonly Finding[];
}

export function renderWhatIf(whatIf: WhatIf, view: ChartView): string {
  const chalk = new Chalk({ level: view.colour ? 1 : 0 });
  const { width } = view;
  const { changes, newFindings, goneFindings, supposed, present } = whatIf;
  const bullets = (lines: readonly string[]) => lines.map(line => wrap(safeText(line), width, '  ', '    '));
  const changeLines = changes.map(
    ({ span, differences }) => `${describeSpan(span, supposed.labelStepG)}: ${differences.join('; ')}`,
  );
  const block = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : [chalk.bold(title), ...bullets(lines)];
  return blocks([
    [wrap(chalk.bold(`What if: ${supposition(whatIf)}`), width), chalk.dim(rangeWords(supposed))],
    changes.length === 0
      ? ['Nothing changes at any weight.']
      : block('CHANGES AGAINST THE PRESENT CHART', changeLines),
    block(
      'NEW',
      newFindings.map(({ message }) => message),
    ),
    block(
      'GONE',
      goneFindings.map(({ message }) => message),
    ),
    recordWords(present).map(line => wrap(line, width)),
    [chalk.dim(SAFETY_LINE)],
  ]);
}

function supposition({ without, draft }: WhatIf): string {
  const parts = [
    ...(draft === null ? [] : [`the inventory were ${safeText(draft)}`]),
    ...(without.length === 0
      ? []
      : [`${without.join(' and ')} ${without.length === 1 ? 'were' : 'were both'} gone`]),
  ];
  return parts
    .join(', and ')
    .replace('were both gone', without.length > 2 ? 'were all gone' : 'were both gone');
}

function blocks(parts: readonly (readonly string[])[]): string {
  return `${parts
    .filter(part => part.length > 0)
    .map(part => part.join('\n'))
    .join('\n\n')}\n`;
}

function header(chart: Chart, chalk: ChalkInstance, width: number): string[] {
  const { inventory, at } = chart;
  const practice = safeText(inventory.practice.name);
  const when = at.slice(0, 16).replace('T', ' ');
  const gap = width - displayWidth(practice) - when.length;
  const first =
    gap < 2
      ? `${chalk.bold(practice)}\n${chalk.dim(when)}`
      : chalk.bold(practice) + ' '.repeat(gap) + chalk.dim(when);
  return [first, wrap(rangeWords(chart), width)];
}

function rangeWords(chart: Chart): string {
  const { fromKg, toKg, machine } = chart.request;
  const only = machine === null ? '' : `, ${machine} alone`;
  return `From ${formatNumber(fromKg, 3)} to ${formatNumber(toKg, 3)} kg, ${speciesWords(chart)}${only}`;
}

interface Line {
  readonly cells: readonly string[];
  /** Under the row, over its whole width. */
  readonly below: string;
  readonly isEmpty: boolean;
}

const HEAD = ['kg', 'CIRCUIT', 'MACHINE', 'START', 'THEN', 'WAKE', 'BAG'];

function table(chart: Chart, chalk: ChalkInstance, width: number): string[] {
  const rows = rowsOf(chart.bands, chart.labelStepG).flatMap(row => linesOf(row, chart));
  const lines = [HEAD, ...rows.map(({ cells }) => cells)];
  const widths = HEAD.map((_, i) =>
    // A row without a circuit says why in one long text, which needs no column.
    Math.max(
      ...lines.map((cells, row) => (rows[row - 1]?.isEmpty && i > 0 ? 0 : displayWidth(cells[i] ?? ''))),
    ),
  );
  const total = widths.reduce((sum, column) => sum + column + 2, -2);
  if (total > width) return stacked(rows, chalk, width);
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, i) => padEnd(cell, widths[i] ?? 0))
      .join('  ')
      .trimEnd();
  const indent = ' '.repeat((widths[0] ?? 0) + 2);
  return [
    chalk.dim(line(HEAD)),
    ...rows.flatMap(({ cells, below, isEmpty }) => [
      isEmpty ? chalk.bold(`${padEnd(cells[0] ?? '', widths[0] ?? 0)}  ${cells[1] ?? ''}`) : line(cells),
      ...(below === '' ? [] : [wrap(below, width, indent)]),
    ]),
  ];
}

/** Where names are long: a few lines a band instead of a row. */
function stacked(rows: readonly Line[], chalk: ChalkInstance, width: number): string[] {
  return rows.flatMap(({ cells, below, isEmpty }) => {
    const [span, ...rest] = cells;
    const labelled = rest.map((cell, i) => (isEmpty ? cell : `${HEAD[i + 1]?.toLowerCase()} ${cell}`));
    return [
      chalk.bold(span ?? ''),
      ...labelled.filter(text => text !== '').map(text => wrap(text, width, '  ', '    ')),
      ...(below === '' ? [] : [wrap(below, width, '    ')]),
    ];
  });
}

function linesOf(row: ChartRow, chart: Chart): Line[] {
  const span = shortSpan(row.span, chart.labelStepG);
  const { main, other, outcome } = row;
  const { bag } = outcome;
  if (main === null && other === null)
    return [{ cells: [span, emptyWords(row, chart)], below: whyNotWords(row), isEmpty: true }];
  const figures = (service: RowService) => [
    service.circuit.id,
    service.machine.id,
    ...PHASES.map(phase => inLitres(service.setMlPerMin[phase])),
    bag === null ? '?' : bagWords(row),
  ];
  const first: Line =
    main === null
      ? { cells: [span, 'none of the leading class'], below: whyNotWords(row), isEmpty: true }
      : { cells: [span, ...figures(main)], below: remarks(row, main), isEmpty: false };
  if (other === null) return [first];
  return [first, { cells: ['  or', ...figures(other)], below: '', isEmpty: false }];
}

function remarks({ outcome }: ChartRow, main: RowService): string {
  return outcome.isSubstitute
    ? `${main.circuit.id} (${CLASS_WORDS[main.circuitClass]}) stands in for a circle`
    : '';
}

function details(chart: Chart, chalk: ChalkInstance, width: number): string[][] {
  const list = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : [chalk.bold(title), ...lines.map(line => wrap(line, width, '  ', '    '))];
  const warnings = recordWords(chart).map(line => wrap(line, width));
  return [
    warnings,
    list(
      'WHAT STANDS OUT',
      chart.findings.map(({ message }) => message),
    ),
    list('OXYGEN, L/min: the mark to set at every weight of the row', formulaLines(chart.bands)),
    list('BAG', [bagFormula(chart)]),
    list('LEAK TEST, patient off, end blocked, pop-off shut; then open the pop-off', holdLines(chart.bands)),
    [
      chalk.dim(
        wrap(`> over, < below; without a sign the weight itself is included. ${edgeWords(chart)}`, width),
      ),
      chalk.dim(`Drawn from ${safeText(chart.inventory.file)}, git blob ${chart.inventory.blob}`),
    ],
    [chalk.dim(SAFETY_LINE)],
  ];
}
