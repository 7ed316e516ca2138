/** Reads a line of the exact shape in which the store writes it, checking all that the parser would check. */
import {
  at,
  hex,
  isSameAs,
  isThere,
  keep,
  moveTo,
  number,
  roomFor,
  start,
  stationName,
  text,
  value,
  word,
} from './bytes';
import { content } from './content';
import {
  AT,
  AT_START,
  DATE,
  HOLD,
  ID_END,
  ID_HASH,
  ID_START,
  INSTANT_LENGTH,
  IS_DATE_ONLY,
  N,
  ON,
  ON_START,
  PREV_START,
  READING,
  RETURN,
  SIGN_OFF,
  STATION,
  SUPPLY_HOLD,
  USAGE,
  WITHDRAW,
} from './layout';
import {
  BY,
  DONE_ON,
  END,
  ENTERED_AT,
  ID,
  INVENTORY,
  KIND_HOLD,
  KIND_NAME,
  KIND_READING,
  KIND_RETURN,
  KIND_SIGN_OFF,
  KIND_SUPPLY_HOLD,
  KIND_USAGE,
  KIND_WITHDRAW,
  NOTE,
  NUMBERED,
  PREV,
  STATION_NAME,
  TOOL,
} from './literals';
import { hashOf } from './names';
import { addFlag, setFigure, setInteger } from './row';
import { calendarDate, date, instant, ms } from './times';

const MOST_SAFE: f64 = 9_007_199_254_740_991;
/** Longer than any that is taken. */
const LONGEST_STATION: usize = 128;
const LONGEST_MADE_WITH: usize = 256;

/** What nearly every line has as the line before it, and was found right there. */
const lastStation = roomFor(LONGEST_STATION);
const lastMadeWith = roomFor(LONGEST_MADE_WITH);
let stationNumber = 0;
let hasMadeWith = false;

/** Where the block begins. */
let block: usize = 0;

export function beginBlock(place: usize): void {
  block = place;
}

/** Reads the line at a place. @returns its kind; 0: it is left to the parser. */
export function line(place: usize): i32 {
  moveTo(place);
  if (!isThere(ID) || !word(8, 64)) return 0;
  const id = start;
  const idEnd = at;
  if (!isThere(ENTERED_AT)) return 0;
  const entered = at;
  if (!instant()) return 0;
  setFigure(AT, ms);
  if (!station()) return 0;
  const kind = kindOf();
  if (kind === 0) return 0;
  if (!isThere(BY) || !text(200) || !isThere(DONE_ON) || !on(entered)) return 0;
  if (isThere(NOTE) && !text(4000)) return 0;
  if (!content(kind) || !binding()) return 0;
  setPlace(ID_START, id);
  setPlace(ID_END, idEnd);
  setPlace(AT_START, entered);
  if (kind === USAGE || kind === READING) setInteger(ID_HASH, hashOf(id, idEnd - id));
  return kind;
}

function station(): bool {
  if (stationNumber === 0 || !isThere(lastStation)) {
    const from = at;
    if (!isThere(STATION_NAME) || !stationName() || !isThere(KIND_NAME)) return false;
    keep(lastStation, from);
    stationNumber += 1;
  }
  setInteger(STATION, stationNumber);
  return true;
}

/** The likeliest first. */
function kindOf(): i32 {
  if (isThere(KIND_SIGN_OFF)) return SIGN_OFF;
  if (isThere(KIND_HOLD)) return HOLD;
  if (isThere(KIND_USAGE)) return USAGE;
  if (isThere(KIND_READING)) return READING;
  if (isThere(KIND_SUPPLY_HOLD)) return SUPPLY_HOLD;
  if (isThere(KIND_WITHDRAW)) return WITHDRAW;
  if (isThere(KIND_RETURN)) return RETURN;
  return 0;
}

/** Nearly always done when it was entered: then the same bytes. */
function on(entered: usize): bool {
  const from = at;
  if (isSameAs(entered, INSTANT_LENGTH)) {
    setInteger(ON_START, 0);
  } else {
    setPlace(ON_START, from);
    if (!instant()) {
      moveTo(from);
      if (!calendarDate()) return false;
      addFlag(IS_DATE_ONLY);
    }
  }
  setFigure(ON, ms);
  setInteger(DATE, date);
  return true;
}

function binding(): bool {
  let n = NaN;
  if (isThere(NUMBERED)) {
    if (!number(1, MOST_SAFE) || floor(value) !== value) return false;
    n = value;
  }
  setFigure(N, n);
  if (!madeWith()) return false;
  setPlace(PREV_START, at);
  return hex(64) && isThere(END);
}

function madeWith(): bool {
  if (hasMadeWith && isThere(lastMadeWith)) return true;
  const from = at;
  if (!isThere(INVENTORY) || !hex(40) || !isThere(TOOL) || !text(40) || !isThere(PREV)) return false;
  keep(lastMadeWith, from);
  hasMadeWith = true;
  return true;
}

function setPlace(figure: usize, place: usize): void {
  setInteger(figure, (place - block) as i32);
}
