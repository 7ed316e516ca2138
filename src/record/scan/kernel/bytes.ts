/** A cursor over the bytes of a block. Each piece says whether it is there, and moves behind it. */

/** So many bytes at once. */
const LANES: usize = 16;
const ALL_LANES: i32 = 0xffff;
/** No byte behind a block is part of it, but a look ahead may see so many, which must be zero. */
export const LONGEST_LOOK: usize = 512;
const NEWLINE: u8 = 0x0a;
const QUOTE: u8 = 0x22;
export const MINUS: u8 = 0x2d;
const POINT: u8 = 0x2e;
const ZERO: u8 = 0x30;
const BACKSLASH: u8 = 0x5c;
const LETTER_A: u8 = 0x61;
const LETTERS: u8 = 26;
const HEX_LETTERS: u8 = 6;
const DIGITS: u8 = 10;
const SPACE: u8 = 0x20;
/** Behind a backslash. A character escaped by its number is left to the parser. */
const ESCAPED = '"\\/bfnrt';
/** So many digits are exact as a number, and so are these powers: one division rounds as the parser does. */
const MOST_DIGITS: usize = 15;
const POWERS_OF_TEN: StaticArray<f64> = [
  1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
];

/** Where the next piece begins. */
export let at: usize = 0;
/** Where the last word began. */
export let start: usize = 0;
/** The last number. */
export let value: f64 = 0;

export function moveTo(place: usize): void {
  at = place;
}

/** A fixed text of ASCII, to be compared with: its length, and in the next lanes its bytes. */
export function literalOf(text: string): usize {
  const literal = roomFor(text.length);
  store<u32>(literal, text.length);
  for (let i = 0; i < text.length; i++) store<u8>(literal + LANES + i, text.charCodeAt(i) as u8);
  return literal;
}

/** Room for a text of up to so many bytes. Until one is kept there it is of length 0, which is everywhere. */
export function roomFor(length: usize): usize {
  const size = LANES + ((length + LANES) & ~(LANES - 1));
  const literal = heap.alloc(size);
  memory.fill(literal, 0, size);
  return literal;
}

/** Keeps the bytes from a place up to the cursor as that text. */
export function keep(literal: usize, from: usize): void {
  const length = at - from;
  store<u32>(literal, length as u32);
  memory.copy(literal + LANES, from, length);
}

export function isThere(literal: usize): bool {
  const length: usize = load<u32>(literal);
  let text = literal + LANES;
  let place = at;
  let left = length;
  while (left >= LANES) {
    if (!areAll(i8x16.eq(v128.load(place), v128.load(text)), LANES)) return false;
    text += LANES;
    place += LANES;
    left -= LANES;
  }
  if (!areAll(i8x16.eq(v128.load(place), v128.load(text)), left)) return false;
  at += length;
  return true;
}

/** Whether the first so many lanes are set. */
function areAll(lanes: v128, count: usize): bool {
  const wanted = (1 << (count as i32)) - 1;
  return (i8x16.bitmask(lanes) & wanted) === wanted;
}

/** How many lanes from the first are set. */
function leading(lanes: v128): usize {
  return ctz((~i8x16.bitmask(lanes) & ALL_LANES) | (1 << (LANES as i32))) as usize;
}

/** Which lanes are from `first` on, so many. */
function among(bytes: v128, first: u8, count: u8): v128 {
  return i8x16.lt_u(i8x16.sub(bytes, i8x16.splat(first)), i8x16.splat(count));
}

/** a-z, 0-9 and -, so many. */
export function word(least: usize, most: usize): bool {
  const from = at;
  let end = from;
  let found: usize = 0;
  do {
    const bytes = v128.load(end);
    const letters = v128.or(among(bytes, LETTER_A, LETTERS), among(bytes, ZERO, DIGITS));
    found = leading(v128.or(letters, i8x16.eq(bytes, i8x16.splat(MINUS))));
    end += found;
  } while (found === LANES && end - from <= most);
  if (end - from < least || end - from > most) return false;
  start = from;
  at = end;
  return true;
}

/** A word that begins with a letter, at most 40 long. */
export function name(): bool {
  return ((load<u8>(at) - LETTER_A) as u8) < LETTERS && word(1, 40);
}

/** As `name`, but of any of its letters except for a minus first. */
export function stationName(): bool {
  return load<u8>(at) !== MINUS && word(1, 40);
}

/** The inside of a string of at least one character and at most so many bytes. Other than ASCII is taken as it comes, as the decoder does. */
export function text(most: usize): bool {
  const from = at;
  let end = from;
  while (end - from <= most) {
    const bytes = v128.load(end);
    const ends = v128.or(i8x16.eq(bytes, i8x16.splat(QUOTE)), i8x16.lt_u(bytes, i8x16.splat(SPACE)));
    const plain = leading(v128.not(v128.or(ends, i8x16.eq(bytes, i8x16.splat(BACKSLASH)))));
    end += plain;
    if (plain === LANES) continue;
    if (load<u8>(end) !== BACKSLASH) break;
    if (!isEscaped(load<u8>(end + 1))) return false;
    end += 2;
  }
  if (end === from || end - from > most) return false;
  at = end;
  return load<u8>(end) === QUOTE;
}

function isEscaped(byte: u8): bool {
  for (let i = 0; i < ESCAPED.length; i++) if (ESCAPED.charCodeAt(i) === byte) return true;
  return false;
}

/** So many digits of a hash, 0-9 and a-f. */
export function hex(length: usize): bool {
  let place = at;
  let left = length;
  while (left > 0) {
    const bytes = v128.load(place);
    const count = min(left, LANES);
    if (!areAll(v128.or(among(bytes, ZERO, DIGITS), among(bytes, LETTER_A, HEX_LETTERS)), count))
      return false;
    place += count;
    left -= count;
  }
  at = place;
  return true;
}

/** A number from `least` to `most`, without sign or exponent. */
export function number(least: f64, most: f64): bool {
  const from = at;
  let end = from;
  let digits: u64 = 0;
  while (isDigit(end)) digits = digits * 10 + digitAt(end++);
  const whole = end - from;
  if (whole === 0 || (whole > 1 && load<u8>(from) === ZERO)) return false;
  let places: usize = 0;
  if (load<u8>(end) === POINT) {
    end += 1;
    const fraction = end;
    while (isDigit(end)) digits = digits * 10 + digitAt(end++);
    places = end - fraction;
    if (places === 0) return false;
  }
  // More digits overflow, and mean nothing.
  if (whole + places > MOST_DIGITS) return false;
  value = places === 0 ? (digits as f64) : (digits as f64) / unchecked(POWERS_OF_TEN[places as i32]);
  at = end;
  return value >= least && value <= most;
}

function isDigit(place: usize): bool {
  return digitAt(place) < DIGITS;
}

function digitAt(place: usize): u8 {
  return load<u8>(place) - ZERO;
}

/** As `number`, above 0. */
export function positive(most: f64): bool {
  return number(0, most) && value > 0;
}

/** Two digits as a number; below 0 where they are none. */
export function twoDigits(place: usize): i32 {
  return isDigit(place) && isDigit(place + 1) ? digitAt(place) * 10 + digitAt(place + 1) : -1;
}

/** Whether the same bytes stand here as at another place. */
export function isSameAs(other: usize, length: usize): bool {
  if (memory.compare(at, other, length) !== 0) return false;
  at += length;
  return true;
}

/** Where the next newline stands. There is one. */
export function newlineFrom(place: usize): usize {
  let end = place;
  let found: usize = 0;
  do {
    found = leading(i8x16.ne(v128.load(end), i8x16.splat(NEWLINE)));
    end += found;
  } while (found === LANES);
  return end;
}
