/**
 * The frame of a problem: the user's own source line with a marker under the stretch that is meant.
 *
 * The marker is placed by display width: a wide character or an emoji takes two columns of a terminal, a combining mark
 * none. Long lines are cut around the marker.
 */
import { displayWidth } from './display-width.ts';

/** What is framed. `column` and `length` count code points, `column` from 1, as in `Place`. */
export interface Framed {
  readonly line: number;
  readonly column: number;
  readonly text: string;
  readonly length: number;
}

export interface FrameOptions {
  /** Columns that the frame may take, its gutter included. */
  readonly width: number;
  /** Makes control characters visible; what it returns is what is measured. */
  readonly visible: (text: string) => string;
}

/** What a person sees as one character, as it is shown, with its display width. */
interface Cluster {
  readonly shown: string;
  readonly width: number;
}

const NARROWEST = 20;
const ELLIPSIS: Cluster = { shown: '…', width: 1 };

/**
 * The two lines of a frame, joined by a line break, without one at the end.
 *
 * @example frame({ line: 7, column: 3, text: '  zone: x', length: 4 }, { width: 80, visible: text => text })
 * //=> '  7 |   zone: x\n    |   ^^^^'
 */
export function frame({ line, column, text, length }: Framed, { width, visible }: FrameOptions): string {
  const gutter = String(line);
  const room = Math.max(NARROWEST, width - gutter.length - ' '.length * 2 - ' | '.length);
  const from = offsetOfCodePoint(text, column - 1);
  const to = offsetOfCodePoint(text, length, from);

  // No more of the text than can be shown is ever looked at: a line may be a megabyte long.
  const most = room * 4;
  const meant = clusters(text.slice(from, Math.min(to, from + most)), visible);
  const marked = fitted(meant, room - 8, 'start', to - from > most);
  const before = clusters(text.slice(Math.max(0, from - most), from), visible);
  // Behind a marked stretch that is cut itself, the rest of the line would read as if it followed at once.
  const isMarkedCut = marked.at(-1) === ELLIPSIS;
  const after = isMarkedCut ? [] : clusters(text.slice(to, to + most).trimEnd(), visible);
  const isCutBefore = from > most;
  const isCutAfter = !isMarkedCut && text.length - to > most;
  const spare = room - widthOf(marked);
  // Half of the room to each side; what the right side does not need goes to the left, then the other way round.
  const half = fitted(after, Math.ceil(spare / 2), 'start', isCutAfter);
  const left = fitted(before, spare - widthOf(half), 'end', isCutBefore);
  const right = fitted(after, spare - widthOf(left), 'start', isCutAfter);

  const blank = ' '.repeat(gutter.length);
  const source = [...left, ...marked, ...right].map(({ shown }) => shown).join('');
  const marker = ' '.repeat(widthOf(left)) + '^'.repeat(Math.max(1, widthOf(marked)));
  const framed = `  ${gutter} | ${source}`.trimEnd();
  return `${framed}\n  ${blank} | ${marker}`;
}

/** The offset in UTF-16 units of the n-th code point after `from`, at most the text's length. */
function offsetOfCodePoint(text: string, n: number, from = 0): number {
  let offset = from;
  for (let i = 0; i < n && offset < text.length; i++) {
    offset += (text.codePointAt(offset) ?? 0) > 0xffff ? 2 : 1;
  }
  return offset;
}

function clusters(text: string, visible: (text: string) => string): Cluster[] {
  const segments = new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(text);
  return Array.from(segments, ({ segment }) => {
    const shown = visible(segment);
    return { shown, width: displayWidth(shown) };
  });
}

function widthOf(list: readonly Cluster[]): number {
  return list.reduce((sum, { width }) => sum + width, 0);
}

/** As many clusters from one end as go into the room, with an ellipsis where some are left out. */
function fitted(list: readonly Cluster[], room: number, keep: 'start' | 'end', isCut: boolean): Cluster[] {
  if (!isCut && widthOf(list) <= room) return [...list];
  const ordered = keep === 'start' ? list : [...list].reverse();
  const kept: Cluster[] = [];
  let used = ELLIPSIS.width;
  for (const cluster of ordered) {
    if (used + cluster.width > room) break;
    used += cluster.width;
    kept.push(cluster);
  }
  return keep === 'start' ? [...kept, ELLIPSIS] : [ELLIPSIS, ...kept.reverse()];
}
