/** The fixed texts of a line. */
import { literalOf } from './bytes';

export const ID = literalOf('{"v":1,"id":"');
export const ENTERED_AT = literalOf('","at":"');
export const STATION_NAME = literalOf('","station":"');
export const KIND_NAME = literalOf('","kind":"');
export const BY = literalOf('","by":"');
export const DONE_ON = literalOf('","on":"');
export const NOTE = literalOf('","note":"');
export const NUMBERED = literalOf(',"n":');
export const INVENTORY = literalOf(',"inventory":"');
export const TOOL = literalOf('","tool":"');
export const PREV = literalOf('","prev":"');
export const END = literalOf('"}\n');

export const KIND_HOLD = literalOf('hold');
export const KIND_SUPPLY_HOLD = literalOf('supply_hold');
export const KIND_SIGN_OFF = literalOf('sign_off');
export const KIND_READING = literalOf('reading');
export const KIND_WITHDRAW = literalOf('withdraw');
export const KIND_RETURN = literalOf('return');
export const KIND_USAGE = literalOf('usage');

export const TRUE = literalOf('true');
export const FALSE = literalOf('false');
export const BRACE = literalOf('}');
export const QUOTE = literalOf('"');

export const ITS_ASSET = literalOf('","asset":"');
export const ITS_CHECK = literalOf('","check":"');
export const CIRCUIT = literalOf('","circuit":"');
export const MACHINE = literalOf('","machine":"');
export const SUPPLY = literalOf('","supply":"');
export const CASE = literalOf(',"case":"');
export const BECAUSE = literalOf(',"because":"');

export const RESULT = literalOf(',"result":"');
export const PASS = literalOf('pass"');
export const FAIL = literalOf('fail"');

export const BAG = literalOf(',"bag":{"size_ml":');
export const BAG_ID = literalOf(',"id":"');
export const FALL = literalOf(',"fall":{"from_cmh2o":');
export const TO = literalOf(',"to_cmh2o":');
export const SECONDS = literalOf(',"seconds":');
export const TAUT = literalOf(',"taut":{"steady":');
export const MAKE_UP = literalOf(',"make_up":{"flow_ml_min":');
export const AT_PRESSURE = literalOf(',"at_cmh2o":');
export const POP_OFF = literalOf(',"pop_off":"');
export const OPEN = literalOf('open"');
export const SHUT = literalOf('shut"');
export const STUCK = literalOf('stuck"');
export const RULE = literalOf(',"rule":{"pressure_cmh2o":');
export const DROP = literalOf(',"drop_cmh2o":');
export const RULE_MAKE_UP = literalOf(',"make_up_ml_min":');
export const LEAK = literalOf(',"leak":{"ml_min":');
export const AT_LEAST = literalOf(',"at_least":');
export const REASON = literalOf(',"reason":"');
/** The likeliest first. */
export const REASONS: StaticArray<usize> = [
  literalOf('held"'),
  literalOf('make_up_within"'),
  literalOf('pressure_not_reached"'),
  literalOf('make_up_above"'),
  literalOf('fell"'),
  literalOf('went_slack"'),
  literalOf('pop_off_stuck"'),
];

export const FROM_PSI = literalOf(',"from_psi":');
export const TO_PSI = literalOf(',"to_psi":');
export const MINUTES = literalOf(',"minutes":');
export const FALL_PSI = literalOf(',"rule":{"fall_psi":');

export const PSI = literalOf(',"psi":');
export const GRAMS = literalOf(',"g":');
export const IS_IT_NEW = literalOf(',"new":');

export const FLOW_ML_MIN = literalOf(',"flow_ml_min":');
export const AGENT_NAME = literalOf(',"agent":"');
/** In the order in which the program numbers them, from 1. */
export const AGENTS: StaticArray<usize> = [
  literalOf('isoflurane"'),
  literalOf('sevoflurane"'),
  literalOf('desflurane"'),
  literalOf('halothane"'),
];
export const SETTING_PERCENT = literalOf(',"setting_percent":');
