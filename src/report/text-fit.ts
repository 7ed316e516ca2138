/**
 * Fitting text into a box of a drawing without asking a browser. Widths are those of the usual sans-serif faces; a text
 * is then set to just that width (SVG's textLength), in whatever font it is drawn.
 */
import { displayWidth } from '../problem/display-width.ts';

/** Widths in thousandths of the size: the published metrics of a Helvetica-like bold face. */
const BOLD: Readonly<Record<string, number>> = {
  ...each(" ijlI'`,./\\·", 278),
  ...each('!()-:;ft[]', 333),
  ...each('r*{}', 389),
  ...each('"z“”', 500),
  ...each('#$0123456789_J–aceksvxy', 556),
  ...each('+<=>~^×≤≥', 584),
  ...each('bdghnopqu?FLTZ', 611),
  ...each('EPSVXY', 667),
  ...each('ABCDHKNRU&', 722),
  ...each('GOQw', 778),
  ...each('Mm%', 889),
  ...each('W@—…→', 1000),
};
/** Letters with accents and what else takes one column of a terminal. */
const OTHER = 778;
/** Half of what a wide character takes; an emoji is wider than its em. */
const WIDE_COLUMN = 620;
/** The light cut of those faces, as a share of the bold one. */
const LIGHT = 0.95;

function each(characters: string, width: number): Record<string, number> {
  return Object.fromEntries([...characters].map(character => [character, width]));
}

/** How wide a text is, in the unit of `size`. @example textWidth('10', 5) //=> 5.56 */
export function textWidth(text: string, size: number, bold = true): number {
  let thousandths = 0;
  for (const character of text) {
    thousandths += BOLD[character] ?? Math.max(OTHER, displayWidth(character) * WIDE_COLUMN);
  }
  return (thousandths / 1000) * size * (bold ? 1 : LIGHT);
}

/** Lines of text at one size. */
export interface Fitted {
  readonly lines: readonly string[];
  readonly size: number;
}

export interface Box {
  readonly width: number;
  readonly height: number;
}

/** The distance of two baselines, in sizes. */
export const LINE_HEIGHT = 1.15;

export interface FitStyle {
  readonly largest: number;
  /** Below this size words are broken. */
  readonly least: number;
  readonly bold: boolean;
  /** One line, never broken: a figure cut in two reads as another figure. */
  readonly whole?: boolean;
}

const STEP = 0.96;

/**
 * The largest size from `largest` downwards at which a text fits into a box, broken between words. Where that would be
 * smaller than `least`, words are broken too, and what is very long goes on shrinking.
 */
export function fitText(text: string, box: Box, { largest, least, bold, whole = false }: FitStyle): Fitted {
  if (whole) {
    const size = Math.min(
      largest,
      box.height / LINE_HEIGHT,
      box.width / Math.max(1e-6, textWidth(text, 1, bold)),
    );
    return { lines: [text], size };
  }
  const shrink = (from: number, to: number, breakWords: boolean): Fitted | null => {
    for (let size = from; size >= to; size *= STEP) {
      const lines = breakLines(text, size, box.width, { bold, breakWords });
      const isLow = lines.length * size * LINE_HEIGHT <= box.height;
      if (isLow && lines.every(line => textWidth(line, size, bold) <= box.width)) return { lines, size };
    }
    return null;
  };
  return (
    shrink(largest, least, false) ??
    shrink(least, 0.2, true) ??
    fitText(text, box, { largest, least, bold, whole: true })
  );
}

/** A text in lines of at most `width`. With `breakWords` no line is ever wider. */
export function breakLines(
  text: string,
  size: number,
  width: number,
  { bold, breakWords = true }: { bold: boolean; breakWords?: boolean },
): string[] {
  const fits = (part: string) => textWidth(part, size, bold) <= width;
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ').flatMap(part => (breakWords ? pieces(part, fits) : [part]))) {
    const joined = line === '' ? word : `${line} ${word}`;
    if (line !== '' && !fits(joined)) {
      lines.push(line);
      line = word;
    } else line = joined;
  }
  return [...lines, line];
}

/** A word cut so that each piece fits: behind its hyphens, and anywhere where that does not help. */
function pieces(word: string, fits: (part: string) => boolean): string[] {
  if (fits(word)) return [word];
  const parts = word.split(/(?<=-)/).flatMap(part => (fits(part) ? [part] : [...part]));
  const cut: string[] = [];
  let piece = '';
  for (const part of parts) {
    if (piece !== '' && !fits(piece + part)) {
      cut.push(piece);
      piece = '';
    }
    piece += part;
  }
  return [...cut, piece];
}
