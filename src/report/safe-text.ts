/** Texts from files and options, made safe for a terminal. */

// C0, DEL, C1, marks without width, line separators, and the marks that reorder text on the screen.
const UNSAFE =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the point
  /[\u0000-\u001f\u007f-\u009f\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u2064\u2066-\u2069\ufeff]/g;

/**
 * Control characters made visible: C0 and DEL as their pictures, C1 and marks that reorder the screen as U+XXXX.
 *
 * @example safeText('a\u001b[31m') //=> 'a␛[31m'
 */
export function safeText(text: string): string {
  return text.replace(UNSAFE, character => {
    const code = character.codePointAt(0) ?? 0;
    if (code < 0x20) return String.fromCodePoint(0x2400 + code);
    if (code === 0x7f) return '␡';
    return `<U+${hex(code)}>`;
  });
}

/**
 * JSON with the same characters escaped, so that it reads back exactly and still cannot move a terminal's cursor.
 *
 * @example safeJson({ note: '\u009b' }) //=> '{"note":"\\u009B"}'
 */
export function safeJson(value: unknown, indent?: number): string {
  // Line breaks of the indentation are the only C0 characters that JSON.stringify leaves.
  return JSON.stringify(value, null, indent).replace(UNSAFE, character => {
    return character === '\n' ? character : `\\u${hex(character.codePointAt(0) ?? 0)}`;
  });
}

function hex(code: number): string {
  return code.toString(16).toUpperCase().padStart(4, '0');
}
