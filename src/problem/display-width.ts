/** How many columns a text takes on a terminal: wide characters and emoji take two, combining marks and colours none. */
import fastStringWidth from 'fast-string-width';

/** The characters of our own texts; each takes one column. Asking the library about them would cost its tables. */
const PLAIN = /^[ -~–—→×·“”’…°≥≤µ]*$/;

/** @example displayWidth('犬 6 kg') //=> 7 */
export function displayWidth(text: string): number {
  return PLAIN.test(text) ? text.length : fastStringWidth(text);
}
