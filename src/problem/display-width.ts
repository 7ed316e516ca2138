/** How many columns a text takes on a terminal: wide characters and emoji take two, combining marks and colours none. */
import fastStringWidth from 'fast-string-width';

/**
 * Latin letters and the punctuation, arrows and mathematical signs of our own texts: each takes one column. Asking the
 * library about them would cost its tables. (Escapes, because the bundle stays ASCII: see the launcher.)
 */
const PLAIN = /^[ -~\u00a1-\u00ac\u00ae-\u017f\u2010-\u2027\u2030-\u203a\u2190-\u2193\u2264\u2265]*$/;

/** @example displayWidth('犬 6 kg') //=> 7 */
export function displayWidth(text: string): number {
  return PLAIN.test(text) ? text.length : fastStringWidth(text);
}
