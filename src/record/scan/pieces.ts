/** The pieces of a line, read from its bytes. Whatever is not plainly right is left to the parser. */
import { EMPTY_HASH, hashed } from './names.ts';

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const ZERO = 0x30;
const POINT = 0x2e;
const DAY_MS = 86_400_000;
/** So many digits are exact as a number, and so are these powers: one division rounds as the parser does. */
const MOST_DIGITS = 15;
const POWERS_OF_TEN = Array.from({ length: MOST_DIGITS + 1 }, (_, power) => 10 ** power);

/** Bytes that stand for themselves inside a string; those of other than ASCII letters are taken as they come, as the decoder does. */
const PLAIN = tableOf(byte => byte >= 0x20 && byte !== QUOTE && byte !== BACKSLASH);
const ESCAPED = tableOf(byte => '"\\/bfnrt'.includes(String.fromCharCode(byte)));
const NAME = tableOf(byte => /[a-z0-9-]/.test(String.fromCharCode(byte)));
const LETTER = tableOf(byte => /[a-z]/.test(String.fromCharCode(byte)));
/** The top bit of each of four bytes. */
const TOP_BITS = 0x80808080 | 0;
/** By two bytes at once, the first in the lower half. */
const NAME_PAIR = pairsOf('abcdefghijklmnopqrstuvwxyz0123456789-');
const LONGEST_ID = 64;

function tableOf(isIn: (byte: number) => boolean): Uint8Array {
  return Uint8Array.from({ length: 256 }, (_, byte) => (isIn(byte) ? 1 : 0));
}

function pairsOf(letters: string): Uint8Array {
  const pairs = new Uint8Array(65_536);
  const bytes = Buffer.from(letters);
  for (const first of bytes) for (const second of bytes) pairs[second * 256 + first] = 1;
  return pairs;
}

/**
 * A fixed text, to be compared eight bytes at once. As numbers they are equal exactly where the bytes are, because ASCII
 * makes neither zeros nor NaN of the text, and whatever it is compared with then differs.
 */
export interface Literal {
  readonly eights: Float64Array;
  /** The last eight bytes, which overlap the others; 0 where the text is shorter. */
  readonly last: Float64Array;
  /** The text where it is shorter than eight bytes; else nothing. */
  readonly short: Uint8Array;
  readonly length: number;
}

/** A text that is all ASCII, to be compared with. */
export function literalOf(text: string): Literal {
  return literalOfBytes(Buffer.from(text, 'latin1'));
}

function literalOfBytes(bytes: Buffer): Literal {
  const { length } = bytes;
  const eights = Float64Array.from({ length: Math.floor(length / 8) }, (_, i) => bytes.readDoubleLE(i * 8));
  const last = Float64Array.of(length < 8 ? 0 : bytes.readDoubleLE(length - 8));
  return { eights, last, short: Uint8Array.from(length < 8 ? bytes : []), length };
}

/** A cursor over a block. Each piece says whether it is there, and moves behind it. */
export class Pieces {
  bytes: Uint8Array = new Uint8Array(0);
  /** The same bytes. */
  view: DataView = new DataView(new ArrayBuffer(0));
  /** No look goes behind it. */
  #end = 0;
  at = 0;
  /** What the last piece that is a name, number or time was. */
  start = 0;
  hash = 0;
  /** Numbers with a fraction, and times, in an array: as fields each would be an object. */
  readonly figures = new Float64Array(2);
  /** YYYYMMDD */
  date = 0;
  /** The bytes YYYY-MM- and DD of the date read last, and that date. */
  readonly #seenDate = Float64Array.of(Number.NaN);
  #seenDay = 0;
  #seenDateNumber = 0;
  #lastDate = -1;
  /** Whole days, so that it stays a small number. */
  #lastDay = 0;

  get value(): number {
    return this.figures[0] ?? 0;
  }

  get ms(): number {
    return this.figures[1] ?? 0;
  }

  /** @param bytes - whole lines. */
  takeBlock(bytes: Uint8Array): void {
    this.bytes = bytes;
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
    this.#end = bytes.length;
  }

  literal({ eights, last, short, length }: Literal): boolean {
    const { view, at } = this;
    const end = at + length;
    if (end > this.#end) return false;
    if (length < 8) {
      const { bytes } = this;
      for (let i = 0; i < short.length; i++) if (bytes[at + i] !== short[i]) return false;
    } else {
      for (let i = 0; i < eights.length; i++)
        if (view.getFloat64(at + i * 8, true) !== eights[i]) return false;
      if (view.getFloat64(end - 8, true) !== last[0]) return false;
    }
    this.at = end;
    return true;
  }

  /** The bytes from a place up to where the cursor stands. */
  literalFrom(start: number): Literal {
    return literalOfBytes(Buffer.from(this.bytes.subarray(start, this.at)));
  }

  /** a-z, 0-9 and -, beginning with a letter, at most 40 long. */
  name(): boolean {
    return LETTER[this.bytes[this.at] ?? 0] === 1 && this.#word(1, 40);
  }

  stationName(): boolean {
    return this.bytes[this.at] !== 0x2d && this.#word(1, 40);
  }

  /** Without its hash, which few lines need. */
  entryId(): boolean {
    const { bytes, view, at } = this;
    const last = Math.min(at + LONGEST_ID, this.#end - 1);
    let end = at;
    while (end < last && NAME_PAIR[view.getUint16(end, true)] === 1) end += 2;
    if (NAME[bytes[end] ?? 0] === 1) end += 1;
    this.start = at;
    this.at = end;
    return end - at >= 8 && end - at <= LONGEST_ID;
  }

  #word(least: number, most: number): boolean {
    const { bytes, at } = this;
    let end = at;
    let hash = EMPTY_HASH;
    for (;;) {
      const byte = bytes[end] ?? 0;
      if (NAME[byte] !== 1) break;
      hash = hashed(hash, byte);
      end += 1;
    }
    if (end - at < least || end - at > most) return false;
    this.start = at;
    this.hash = hash;
    this.at = end;
    return true;
  }

  /** The inside of a string of at least one character and at most so many bytes. */
  text(most: number): boolean {
    const { bytes, at } = this;
    let end = at;
    for (;;) {
      const byte = bytes[end] ?? 0;
      if (PLAIN[byte] === 1) end += 1;
      else if (byte === BACKSLASH && ESCAPED[bytes[end + 1] ?? 0] === 1) end += 2;
      else break;
    }
    if (end === at || end - at > most) return false;
    this.at = end;
    return bytes[end] === QUOTE;
  }

  /** @param length - a multiple of 4 */
  hex(length: number): boolean {
    const { view } = this;
    const end = this.at + length;
    if (end > this.#end) return false;
    let areAll = TOP_BITS;
    // Four at once, without a way out on the way: that is quicker where all nearly always are.
    for (let i = this.at; i < end; i += 4) areAll &= hexBits(view.getInt32(i, true));
    this.at = end;
    return areAll === TOP_BITS;
  }

  /** A number from `least` to `most`, without sign or exponent. */
  number(least: number, most: number): boolean {
    const { bytes } = this;
    let { at } = this;
    const start = at;
    let digits = 0;
    for (;;) {
      const digit = (bytes[at] ?? 0) - ZERO;
      if (digit < 0 || digit > 9) break;
      digits = digits * 10 + digit;
      at += 1;
    }
    const whole = at - start;
    if (whole === 0 || (whole > 1 && bytes[start] === ZERO)) return false;
    let places = 0;
    if (bytes[at] === POINT) {
      at += 1;
      for (;;) {
        const digit = (bytes[at] ?? 0) - ZERO;
        if (digit < 0 || digit > 9) break;
        digits = digits * 10 + digit;
        places += 1;
        at += 1;
      }
      if (places === 0) return false;
    }
    if (whole + places > MOST_DIGITS) return false;
    const value = places === 0 ? digits : digits / (POWERS_OF_TEN[places] ?? Number.NaN);
    this.figures[0] = value;
    this.at = at;
    return value >= least && value <= most;
  }

  /** As `number`, above 0. */
  positive(most: number): boolean {
    return this.number(0, most) && this.value > 0;
  }

  /** YYYY-MM-DD. Sets `date`. Days behind the 28th are left to the calendar. */
  calendarDate(): boolean {
    const { bytes, at } = this;
    const year = two(bytes, at) * 100 + two(bytes, at + 2);
    const month = two(bytes, at + 5);
    const day = two(bytes, at + 8);
    if (!(year >= 0 && month >= 1 && month <= 12 && day >= 1)) return false;
    if (bytes[at + 4] !== 0x2d || bytes[at + 7] !== 0x2d || day > daysIn(year, month)) return false;
    this.date = year * 10_000 + month * 100 + day;
    this.#seenDate[0] = this.view.getFloat64(at, true);
    this.#seenDay = this.view.getInt16(at + 8, true);
    this.#seenDateNumber = this.date;
    this.at = at + 10;
    return true;
  }

  /** An RFC 3339 time with an offset. Sets `date` and `ms`. */
  instant(): boolean {
    if (!this.#sameDate() && !this.calendarDate()) return false;
    const { bytes, at } = this;
    const hour = two(bytes, at + 1);
    const minute = two(bytes, at + 4);
    const second = two(bytes, at + 7);
    const offsetHour = two(bytes, at + 10);
    const offsetMinute = two(bytes, at + 13);
    const sign = bytes[at + 9];
    if (bytes[at] !== 0x54 || bytes[at + 3] !== 0x3a || bytes[at + 6] !== 0x3a || bytes[at + 12] !== 0x3a)
      return false;
    if (!(hour >= 0 && hour <= 23 && minute >= 0 && minute <= 59 && second >= 0 && second <= 59))
      return false;
    if (!(offsetHour >= 0 && offsetHour <= 23 && offsetMinute >= 0 && offsetMinute <= 59)) return false;
    if (sign !== 0x2b && sign !== 0x2d) return false;
    const offset = (offsetHour * 60 + offsetMinute) * (sign === 0x2d ? -60_000 : 60_000);
    this.figures[1] = this.#midnight() + ((hour * 60 + minute) * 60 + second) * 1000 - offset;
    this.at = at + 15;
    return true;
  }

  /** Most lines bear the date of the line before. */
  #sameDate(): boolean {
    const { view, at } = this;
    if (at + 10 > this.#end) return false;
    if (view.getFloat64(at, true) !== this.#seenDate[0] || view.getInt16(at + 8, true) !== this.#seenDay)
      return false;
    this.date = this.#seenDateNumber;
    this.at = at + 10;
    return true;
  }

  /** Whether the same bytes stand here as at another place. @param other - where a text of ASCII stands. @param length - at least 8 */
  sameAs(other: number, length: number): boolean {
    const { view, at } = this;
    const end = at + length;
    if (end > this.#end) return false;
    for (let i = 0; i + 8 <= length; i += 8)
      if (view.getFloat64(at + i, true) !== view.getFloat64(other + i, true)) return false;
    if (view.getFloat64(end - 8, true) !== view.getFloat64(other + length - 8, true)) return false;
    this.at = end;
    return true;
  }

  /** The midnight in UTC on which `date` begins. */
  #midnight(): number {
    if (this.date !== this.#lastDate) {
      this.#lastDate = this.date;
      const month = Math.floor(this.date / 100) % 100;
      this.#lastDay = dayNumber(Math.floor(this.date / 10_000), month, this.date % 100);
    }
    return this.#lastDay * DAY_MS;
  }
}

/**
 * Sets the top bit of each byte that is a digit of a hash, 0-9 or a-f. Adding brings a byte below 0x80 to its top bit just where it
 * is at or above a bound; a byte that has it already, and could carry into the next, is none.
 */
function hexBits(four: number): number {
  const isDigit = (four + 0x50505050) & ~(four + 0x46464646);
  const isLetter = (four + 0x1f1f1f1f) & ~(four + 0x19191919);
  return (isDigit | isLetter) & ~four & TOP_BITS;
}

/** Two digits as a number; below 0 where they are none. */
function two(bytes: Uint8Array, at: number): number {
  const tens = (bytes[at] ?? 0) - ZERO;
  const ones = (bytes[at + 1] ?? 0) - ZERO;
  return (tens | ones | (9 - tens) | (9 - ones)) < 0 ? -1_000_000 : tens * 10 + ones;
}

function daysIn(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** Days since 1970-01-01 in the Gregorian calendar, carried back before it was made. */
function dayNumber(year: number, month: number, day: number): number {
  // Years from March on, so that the leap day is the last.
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146_097 + dayOfEra - 719_468;
}
