/** Reads what a kind of line has of its own, in the exact shape in which the store writes it. */
import { at, isThere, keep, name, number, positive, roomFor, text, value } from './bytes';
import {
  AGENT,
  AMOUNT,
  ASSET,
  CHECK,
  FLOW,
  HOLD,
  IS_NEW,
  IS_PASS,
  IS_POP_OFF_OPEN,
  OTHER,
  READING,
  RETURN,
  SETTING,
  SIGN_OFF,
  SUPPLY_HOLD,
  USAGE,
  WITHDRAW,
} from './layout';
import {
  AGENT_NAME,
  AGENTS,
  AT_LEAST,
  AT_PRESSURE,
  BAG,
  BAG_ID,
  BECAUSE,
  BRACE,
  CASE,
  CIRCUIT,
  DROP,
  FAIL,
  FALL,
  FALL_PSI,
  FALSE,
  FLOW_ML_MIN,
  FROM_PSI,
  GRAMS,
  IS_IT_NEW,
  ITS_ASSET,
  ITS_CHECK,
  LEAK,
  MACHINE,
  MAKE_UP,
  MINUTES,
  OPEN,
  PASS,
  POP_OFF,
  PSI,
  QUOTE,
  REASON,
  REASONS,
  RESULT,
  RULE,
  RULE_MAKE_UP,
  SECONDS,
  SETTING_PERCENT,
  SHUT,
  STUCK,
  SUPPLY,
  TAUT,
  TO,
  TO_PSI,
  TRUE,
} from './literals';
import { Names } from './names';
import { addFlag, setFigure, setInteger } from './row';

/** Longer than any that `rule` takes. */
const LONGEST_RULE: usize = 256;

export const assets = new Names();
export const checks = new Names();

/** Where the chain alone is looked at, it makes no difference of which assets and checks a line speaks. */
let isAnyName = false;
/** What nearly every hold has as the hold before it, and was found right there. */
const lastRule = roomFor(LONGEST_RULE);
let hasLastRule = false;

export function takeAnyName(): void {
  isAnyName = true;
}

/** Reads from where the cursor stands up to what binds the line. */
export function content(kind: i32): bool {
  switch (kind) {
    case SIGN_OFF:
      return signOff();
    case HOLD:
      return hold();
    case USAGE:
      return usage();
    case READING:
      return reading();
    case SUPPLY_HOLD:
      return supplyHold();
    case WITHDRAW:
      return asset(ITS_ASSET) && isThere(QUOTE) && texted(BECAUSE, 1000);
    case RETURN:
      return asset(ITS_ASSET) && isThere(QUOTE);
    default:
      return false;
  }
}

function signOff(): bool {
  if (!asset(ITS_ASSET) || !isThere(ITS_CHECK) || !name()) return false;
  // Checks that the inventory does not have count for nothing.
  setInteger(CHECK, isAnyName ? 0 : checks.find());
  return isThere(QUOTE) && result();
}

function hold(): bool {
  if (!asset(CIRCUIT) || !other(MACHINE) || !isThere(QUOTE)) return false;
  return bag() && caseId() && measured() && popOff() && rule() && leak() && result() && reason();
}

function bag(): bool {
  if (!isThere(BAG)) return true;
  if (!positive(30_000)) return false;
  if (isThere(BAG_ID) && !(name() && isThere(QUOTE))) return false;
  return isThere(BRACE);
}

/** One of three ways of measuring, or several. */
function measured(): bool {
  const from = at;
  if (isThere(FALL)) {
    if (!number(0, 60) || !isThere(TO) || !number(0, 60)) return false;
    if (!isThere(SECONDS) || !positive(86_400) || !isThere(BRACE)) return false;
  }
  if (isThere(TAUT)) {
    if (!truth() || !isThere(SECONDS) || !positive(86_400) || !isThere(BRACE)) return false;
  }
  if (isThere(MAKE_UP)) {
    if (!number(0, 30_000) || !isThere(AT_PRESSURE) || !number(0, 60) || !isThere(BRACE)) return false;
  }
  return at > from;
}

function popOff(): bool {
  if (!isThere(POP_OFF)) return false;
  if (!isThere(OPEN)) return isThere(SHUT) || isThere(STUCK);
  addFlag(IS_POP_OFF_OPEN);
  return true;
}

function rule(): bool {
  return (hasLastRule && isThere(lastRule)) || newRule();
}

function newRule(): bool {
  const from = at;
  if (!isThere(RULE) || !number(0, 60) || !isThere(SECONDS) || !number(0, 600)) return false;
  if (!isThere(DROP) || !number(0, 60) || !isThere(RULE_MAKE_UP) || !number(0, 1000)) return false;
  if (!isThere(BRACE)) return false;
  keep(lastRule, from);
  hasLastRule = true;
  return true;
}

function leak(): bool {
  if (!isThere(LEAK)) return true;
  return number(0, f64.MAX_VALUE) && isThere(AT_LEAST) && truth() && isThere(BRACE);
}

function reason(): bool {
  return isThere(REASON) && oneOf(REASONS) !== -1;
}

function supplyHold(): bool {
  if (!asset(SUPPLY) || !isThere(QUOTE)) return false;
  if (!isThere(FROM_PSI) || !number(0, 10_000) || !isThere(TO_PSI) || !number(0, 10_000)) return false;
  if (!isThere(MINUTES) || !positive(1440) || !isThere(FALL_PSI) || !number(0, 3000)) return false;
  return isThere(MINUTES) && number(0, 120) && isThere(BRACE) && result();
}

function reading(): bool {
  if (!asset(ITS_ASSET) || !isThere(QUOTE)) return false;
  if (isThere(PSI)) {
    if (!number(0, 10_000)) return false;
    setFigure(AMOUNT, NaN);
  } else {
    if (!isThere(GRAMS) || !number(0, 100_000)) return false;
    setFigure(AMOUNT, value);
  }
  if (!isThere(IS_IT_NEW)) return false;
  if (!isThere(TRUE)) return isThere(FALSE);
  addFlag(IS_NEW);
  return true;
}

function usage(): bool {
  if (!asset(MACHINE) || !other(CIRCUIT) || !isThere(QUOTE)) return false;
  if (!isThere(MINUTES) || !positive(1440)) return false;
  setFigure(AMOUNT, value);
  if (!isThere(FLOW_ML_MIN) || !positive(30_000)) return false;
  setFigure(FLOW, value);
  return agent() && setting() && caseId();
}

function agent(): bool {
  if (!isThere(AGENT_NAME)) return true;
  const index = oneOf(AGENTS);
  setInteger(AGENT, index + 1);
  return index !== -1;
}

/** Which of these texts stands here; -1: none. */
function oneOf(texts: StaticArray<usize>): i32 {
  for (let i = 0; i < texts.length; i++) if (isThere(unchecked(texts[i]))) return i;
  return -1;
}

function setting(): bool {
  const isSaid = isThere(SETTING_PERCENT);
  if (isSaid && !number(0, 20)) return false;
  setFigure(SETTING, isSaid ? value : NaN);
  return true;
}

function caseId(): bool {
  return !isThere(CASE) || (text(80) && isThere(QUOTE));
}

function texted(key: usize, most: usize): bool {
  return isThere(key) && text(most) && isThere(QUOTE);
}

function result(): bool {
  if (!isThere(RESULT)) return false;
  if (!isThere(PASS)) return isThere(FAIL);
  addFlag(IS_PASS);
  return true;
}

function truth(): bool {
  return isThere(TRUE) || isThere(FALSE);
}

function asset(key: usize): bool {
  return numbered(key, ASSET);
}

function other(key: usize): bool {
  return numbered(key, OTHER);
}

/** A name that has no number yet leaves the line to the parser, which gives it one. */
function numbered(key: usize, figure: usize): bool {
  if (!isThere(key) || !name()) return false;
  const number = isAnyName ? 0 : assets.find();
  setInteger(figure, number);
  return number !== -1;
}
