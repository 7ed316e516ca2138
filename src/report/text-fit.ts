/**
 * Fitting text into a box of a drawing without asking a browser: widths are estimated for a wide bold sans-serif, so that
 * what fits by the estimate fits in any of the usual ones.
 */
import { displayWidth } from '../problem/display-width.ts';

/** Widths in em of a wide bold face (measured on DejaVu Sans Bold), rounded up. */
const EM: Readonly<Record<string, number>> = {
  ...each(' .,', 0.39),
  ...each("iIjl|!'", 0.46),
  ...each(':;/\\', 0.42),
  ...each('frt()[]-"', 0.53),
  ...each('sczyvxkJ*', 0.68),
  ...each('aeghnopqudbL0123456789_?$#FEP–T', 0.73),
  ...each('ABCDGHKNQRSUVXYZO&<>=+×≥≤→', 0.86),
  ...each('mMwW@%—…·', 1.11),
};
const OTHER_EM = 0.88;
/** A wide character fills its em; an emoji may do more. */
const WIDE_COLUMN_EM = 0.62;

function each(characters: string, width: number): Record<string, number> {
  return Object.fromEntries([...characters].map(character => [character, width]));
}

/** How wide a text is at most, in the unit of `size`. @example textWidth('10', 5) //=> 7.3 */
export function textWidth(text: string, size: number): number {
  let em = 0;
  for (const character of text) {
    em += EM[character] ?? Math.max(OTHER_EM, displayWidth(character) * WIDE_COLUMN_EM);
  }
  return em * size;
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

/**
 * The largest size from `largest` downwards at which a text fits into a box, broken between words or, where a word is
 * too long, at its hyphens or anywhere. Below `least` it is broken rather than made smaller; the very long goes on shrinking.
 */
export function fitText(text: string, box: Box, largest: number, least: number): Fitted {
  const STEP = 0.94;
  const fits = ({ lines, size }: Fitted) =>
    lines.length * size * LINE_HEIGHT <= box.height &&
    lines.every(line => textWidth(line, size) <= box.width);
  const shrink = (from: number, to: number, breakWords: boolean): Fitted | null => {
    for (let size = from; size >= to; size *= STEP) {
      const fitted = { lines: breakLines(text, size, box.width, breakWords), size };
      if (fits(fitted)) return fitted;
    }
    return null;
  };
  const fitted = shrink(largest, least, false) ?? shrink(least, 0.3, true);
  return fitted ?? { lines: [text], size: Math.min(0.3, box.width / Math.max(1, textWidth(text, 1))) };
}

/** A text in lines of at most `width`. With `breakWords` no line is ever wider. */
export function breakLines(text: string, size: number, width: number, breakWords = true): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ').flatMap(part => (breakWords ? pieces(part, size, width) : [part]))) {
    const joined = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidth(joined, size) > width) {
      lines.push(line);
      line = word;
    } else line = joined;
  }
  return [...lines, line];
}

function pieces(word: string, size: number, width: number): string[] {
  if (textWidth(word, size) <= width) return [word];
  const cut: string[] = [];
  let piece = '';
  for (const character of word) {
    if (piece !== '' && textWidth(piece + character, size) > width) {
      cut.push(piece);
      piece = '';
    }
    piece += character;
  }
  return [...cut, piece];
}
