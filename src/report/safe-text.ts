/** Texts from files and options, made safe for a terminal. */

/**
 * Control characters made visible: C0 and DEL as their pictures, C1 and marks that reorder the screen as U+XXXX.
 *
 * @example safeText('a\u001b[31m') //=> 'a␛[31m'
 */
export function safeText(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the point
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/g, character => {
    const code = character.codePointAt(0) ?? 0;
    if (code < 0x20) return String.fromCodePoint(0x2400 + code);
    if (code === 0x7f) return '␡';
    return `<U+${code.toString(16).toUpperCase().padStart(4, '0')}>`;
  });
}
