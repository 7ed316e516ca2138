/** The text of an inventory with a way from offsets to lines and columns. */
import type { Code } from '../problem/codes.ts';
import type { Place, Problem } from '../problem/problem.ts';

export class Source {
  readonly file: string;
  readonly text: string;
  readonly #lineStarts: readonly number[];

  constructor(file: string, text: string) {
    this.file = file;
    this.text = text;
    const starts = [0];
    for (let at = text.indexOf('\n'); at !== -1; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
    this.#lineStarts = starts;
  }

  /** Line and column, both from 1, of an offset. Columns count code points, so that an emoji is one. */
  placeAt(offset: number): Place {
    let low = 0;
    let high = this.#lineStarts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((this.#lineStarts[middle] ?? 0) <= offset) low = middle;
      else high = middle - 1;
    }
    const start = this.#lineStarts[low] ?? 0;
    return { file: this.file, line: low + 1, column: codePoints(this.text, start, offset) + 1 };
  }

  /** The text of a line, from 1, without its line break. */
  line(number: number): string {
    const start = this.#lineStarts[number - 1] ?? 0;
    const end = this.#lineStarts[number] ?? this.text.length + 1;
    return this.text.slice(start, end - 1).replace(/\r$/, '');
  }

  /** A problem at a stretch of the text. */
  problem(code: Code, from: number, to: number, message: string, remedy: string): Problem {
    const place = this.placeAt(from);
    const text = this.line(place.line);
    const lineEnd = (this.#lineStarts[place.line - 1] ?? 0) + text.length;
    const length = Math.max(1, codePoints(this.text, from, Math.min(to, lineEnd)));
    return { code, ...place, message, remedy, excerpt: { text, length } };
  }

  /**
   * The comment that stands behind a value on its own line, or null. A practice notes the source of a rule there.
   *
   * @example "minimum_ml_min: 500   # AAFP 2018, Table 4" //=> 'AAFP 2018, Table 4'
   */
  commentAfter(offset: number): string | null {
    const end = this.text.indexOf('\n', offset);
    const rest = this.text.slice(offset, end === -1 ? undefined : end).trimEnd();
    // A quote in between could hold a # that begins no comment; then nothing is claimed.
    const match = /^[^'"#]*\s#(.*)$/.exec(rest);
    return match?.[1]?.trim() || null;
  }
}

/** How many code points stand between two offsets. Counted in place: a line may be a megabyte long. */
function codePoints(text: string, from: number, to: number): number {
  let count = 0;
  for (let at = from; at < to; count++) at += (text.codePointAt(at) ?? 0) > 0xffff ? 2 : 1;
  return count;
}
