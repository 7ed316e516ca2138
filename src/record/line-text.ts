/** An entry as the text of its line. */

// DEL, C1, marks without width or that reorder text, and separators that some readers take for the end of a line. What lies
// below them JSON escapes by itself.
const UNSAFE = /[\u007f-\u009f\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u2064\u2066-\u2069\ufeff]/g;

/**
 * JSON on one line in every reader, which does a terminal no harm where somebody looks at the file itself.
 *
 * @example lineText({ note: 'a\u009bb' }) //=> '{"note":"a\\u009bb"}'
 */
export function lineText(entry: unknown): string {
  return JSON.stringify(entry).replace(
    UNSAFE,
    character => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
