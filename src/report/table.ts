/** A plain table that fits the screen: columns by display width, the widest cells broken where there is no room. */
import { displayWidth } from '../problem/display-width.ts';
import { padEnd, padStart } from './text.ts';

export interface Column {
  readonly heading: string;
  /** Figures stand to the right. Default: to the left. */
  readonly align?: 'left' | 'right';
}

const GAP = '  ';
const NARROWEST = 6;

/**
 * The table with its headings, each line ended by a line break. Where it is wider than `width`, the widest columns give
 * way and their cells go on in the lines below.
 *
 * @example renderTable([{ heading: 'size' }, { heading: 'count', align: 'right' }], [['1 L', '3']], 80)
 * //=> 'size  count\n1 L       3\n'
 */
export function renderTable(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  width: number,
): string {
  const cells = [columns.map(({ heading }) => heading), ...rows];
  const widest = (measure: (cell: string) => number) =>
    columns.map((_, i) => Math.max(...cells.map(row => measure(row[i] ?? ''))));
  const room = width - GAP.length * (columns.length - 1);
  const byWords = shrunk(widest(displayWidth), widest(longestWord), room);
  const widths = shrunk(
    byWords,
    byWords.map(() => NARROWEST),
    room,
  );
  return cells.map(row => renderRow(row, columns, widths)).join('');
}

function longestWord(text: string): number {
  return Math.max(...text.split(' ').map(word => displayWidth(word)));
}

/** Takes from the widest column that may give way, one by one, until the sum fits or none may. */
function shrunk(widths: readonly number[], least: readonly number[], room: number): number[] {
  const result = [...widths];
  for (let over = result.reduce((sum, one) => sum + one, 0) - room; over > 0; over--) {
    const spare = result.map((width, i) => (width > (least[i] ?? 0) ? width : 0));
    const most = Math.max(...spare);
    if (most === 0) break;
    result[spare.indexOf(most)] = most - 1;
  }
  return result;
}

function renderRow(row: readonly string[], columns: readonly Column[], widths: readonly number[]): string {
  const broken = widths.map((width, i) => breakCell(row[i] ?? '', width));
  const height = Math.max(...broken.map(lines => lines.length));
  return Array.from({ length: height }, (_, line) => {
    const parts = broken.map((lines, i) => {
      const pad = columns[i]?.align === 'right' ? padStart : padEnd;
      return pad(lines[line] ?? '', widths[i] ?? 0);
    });
    return `${parts.join(GAP).trimEnd()}\n`;
  }).join('');
}

/** Breaks between words, and within a word that is longer than the column. */
function breakCell(text: string, width: number): string[] {
  const lines: string[] = [''];
  const add = (part: string) => {
    const line = lines.at(-1) ?? '';
    if (line === '' || displayWidth((line + part).trimEnd()) <= width) lines[lines.length - 1] = line + part;
    else lines.push(part.trimStart());
  };
  for (const word of text.split(/(?<= )/)) {
    if (displayWidth(word.trimEnd()) <= width) add(word);
    else for (const { segment } of new Intl.Segmenter('en').segment(word)) add(segment);
  }
  return lines.map(line => line.trimEnd());
}
