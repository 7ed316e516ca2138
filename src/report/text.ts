/** Laying out plain text by display width: wide characters and emoji count as a terminal shows them. */
import { displayWidth } from '../problem/display-width.ts';

/**
 * Breaks a text between words into lines of at most `width` columns. A longer word, such as a path, stands alone and
 * whole: a path cut in two cannot be copied.
 *
 * @param indent stands before every line and counts; `hanging` replaces it from the second line on
 * @example wrap('a b c', 4, '  ') //=> '  a\n  b\n  c'
 */
export function wrap(text: string, width: number, indent = '', hanging = indent): string {
  const lines: string[] = [];
  let line = indent;
  let isEmpty = true;
  for (const word of text.split(' ')) {
    if (!isEmpty && displayWidth(line) + 1 + displayWidth(word) > width) {
      lines.push(line);
      line = hanging;
      isEmpty = true;
    }
    line += isEmpty ? word : ` ${word}`;
    isEmpty = false;
  }
  return [...lines, line].join('\n');
}

/** Fills with spaces up to a display width. @example padEnd('äb', 4) //=> 'äb  ' */
export function padEnd(text: string, width: number): string {
  return text + ' '.repeat(Math.max(0, width - displayWidth(text)));
}

/** Fills with spaces in front, for figures. @example padStart('7', 3) //=> '  7' */
export function padStart(text: string, width: number): string {
  return ' '.repeat(Math.max(0, width - displayWidth(text))) + text;
}

/** A count with its noun. @example counted(2, 'machine') //=> '2 machines' */
export function counted(count: number, noun: string, plural = `${noun}s`): string {
  return `${count} ${count === 1 ? noun : plural}`;
}
