/**
 * What the kernel says of a line: a row of figures, by the byte at which each begins. Read by both sides, so it is in what both
 * languages have: TypeScript, and AssemblyScript, in which the rest of this folder is written.
 */

/** Bytes of a row: a whole number of eights, as figures of eight bytes begin at a multiple of that. */
export const ROW_BYTES = 112;

/** Figures of eight bytes. When it was entered, and when it counts as done, in ms since 1970. */
export const AT = 0;
export const ON = 8;
/** The number that the line gives itself; NaN: none. */
export const N = 16;
/** Of usage minutes; of a reading grams, NaN where it is of pressure. */
export const AMOUNT = 24;
/** Of usage, in ml/min. */
export const FLOW = 32;
/** Of usage, in percent; NaN: not said. */
export const SETTING = 40;

/** Whole numbers of four bytes. 0: the line was not taken, and all but its beginning and newline means nothing. */
export const KIND = 48;
/** Where the line and parts of it stand in the block. */
export const LINE_START = 52;
export const NEWLINE = 56;
export const ID_START = 60;
export const ID_END = 64;
export const AT_START = 68;
export const PREV_START = 72;
/** 0: the same bytes as `at`. */
export const ON_START = 76;
/** The date on which it was done, as YYYYMMDD. */
export const DATE = 80;
/** Names by their numbers. */
export const ASSET = 84;
export const OTHER = 88;
export const CHECK = 92;
/** The sum of the flags below. */
export const FLAGS = 96;
export const AGENT = 100;
export const ID_HASH = 104;
/** Another number wherever the station is another than in the line before. */
export const STATION = 108;

export const IS_PASS = 1;
export const IS_POP_OFF_OPEN = 2;
export const IS_NEW = 4;
/** Only its date is known: ON means nothing. */
export const IS_DATE_ONLY = 8;

/** Bytes of a time with its offset. */
export const INSTANT_LENGTH = 25;

/** The kinds of line. */
export const HOLD = 1;
export const SUPPLY_HOLD = 2;
export const SIGN_OFF = 3;
export const READING = 4;
export const WITHDRAW = 5;
export const RETURN = 6;
export const USAGE = 7;

/** Where the hash of a name begins, and by which it is multiplied before each byte is added, in 32 bits. */
export const FIRST_HASH = 5381;
export const HASH_FACTOR = 33;
