/** Reads what a kind of line has of its own, in the exact shape in which the store writes it. */
import {
  HOLD,
  type LineFacts,
  type NameNumbers,
  READING,
  RETURN,
  SIGN_OFF,
  SUPPLY_HOLD,
  USAGE,
  WITHDRAW,
} from './facts.ts';
import { EMPTY_HASH, hashed } from './names.ts';
import { type Literal, literalOf, type Pieces } from './pieces.ts';

const FALSE = literalOf('false');
const TRUE = literalOf('true');
const BRACE = literalOf('}');
const QUOTE = literalOf('"');
const ASSET = literalOf('","asset":"');
const CHECK = literalOf('","check":"');
const RESULT = literalOf(',"result":"');
const PASS = literalOf('pass"');
const QUOTED_PASS = literalOf('","result":"pass"');
const QUOTED_FAIL = literalOf('","result":"fail"');
const FAIL = literalOf('fail"');
const CIRCUIT = literalOf('","circuit":"');
const MACHINE = literalOf('","machine":"');
const CASE = literalOf(',"case":"');
const BAG = literalOf(',"bag":{"size_ml":');
const BAG_ID = literalOf(',"id":"');
const FALL = literalOf(',"fall":{"from_cmh2o":');
const TO = literalOf(',"to_cmh2o":');
const SECONDS = literalOf(',"seconds":');
const TAUT = literalOf(',"taut":{"steady":');
const MAKE_UP = literalOf(',"make_up":{"flow_ml_min":');
const AT_PRESSURE = literalOf(',"at_cmh2o":');
const POP_OFF = literalOf(',"pop_off":"');
const OPEN = literalOf('open"');
const SHUT = literalOf('shut"');
const STUCK = literalOf('stuck"');
const RULE = literalOf(',"rule":{"pressure_cmh2o":');
const DROP = literalOf(',"drop_cmh2o":');
const RULE_MAKE_UP = literalOf(',"make_up_ml_min":');
const LEAK = literalOf(',"leak":{"ml_min":');
const AT_LEAST = literalOf(',"at_least":');
const REASON = literalOf(',"reason":"');
const REASONS = [
  'held',
  'make_up_within',
  'pressure_not_reached',
  'make_up_above',
  'fell',
  'went_slack',
  'pop_off_stuck',
].map(reason => literalOf(`${reason}"`));
const SUPPLY = literalOf('","supply":"');
const FROM_PSI = literalOf(',"from_psi":');
const TO_PSI = literalOf(',"to_psi":');
const MINUTES = literalOf(',"minutes":');
const FALL_PSI = literalOf(',"rule":{"fall_psi":');
const PSI = literalOf(',"psi":');
const GRAMS = literalOf(',"g":');
const NEW = literalOf(',"new":');
const BECAUSE = literalOf(',"because":"');
const FLOW = literalOf(',"flow_ml_min":');
const AGENT = literalOf(',"agent":"');
const AGENTS = ['isoflurane', 'sevoflurane', 'desflurane', 'halothane'].map(agent => literalOf(`${agent}"`));
const SETTING = literalOf(',"setting_percent":');

/** Which names a line may have. */
export interface LineNames {
  readonly assets: NameNumbers;
  readonly checks: NameNumbers;
}

export class ContentReader {
  readonly #p: Pieces;
  readonly #facts: LineFacts;
  readonly #assets: NameNumbers;
  readonly #checks: NameNumbers;
  // What nearly every hold has as the hold before it, and was found right there.
  #lastRule: Literal | null = null;

  /** @param pieces - the cursor, which the reader of the line moves too. */
  constructor(pieces: Pieces, facts: LineFacts, { assets, checks }: LineNames) {
    this.#p = pieces;
    this.#facts = facts;
    this.#assets = assets;
    this.#checks = checks;
  }

  /** Reads what the kind of line has of its own, from where the cursor stands up to what binds the line. */
  read(): boolean {
    switch (this.#facts.kind) {
      case SIGN_OFF:
        return this.#signOff();
      case HOLD:
        return this.#hold();
      case USAGE:
        return this.#usage();
      case READING:
        return this.#reading();
      case SUPPLY_HOLD:
        return this.#supplyHold();
      case WITHDRAW:
        return this.#assetOf(ASSET) && this.#quoted() && this.#texted(BECAUSE, 1000);
      case RETURN:
        return this.#assetOf(ASSET) && this.#quoted();
    }
    return false;
  }

  #signOff(): boolean {
    const p = this.#p;
    const facts = this.#facts;
    if (!(this.#assetOf(ASSET) && p.literal(CHECK) && p.name())) return false;
    facts.check = this.#checks.find(p.bytes, p.start, p.at, p.hash);
    facts.isPass = p.literal(QUOTED_PASS);
    return facts.isPass || p.literal(QUOTED_FAIL);
  }

  #hold(): boolean {
    const p = this.#p;
    if (!(this.#assetOf(CIRCUIT) && this.#otherOf(MACHINE) && this.#quoted())) return false;
    if (p.literal(BAG)) {
      if (!p.positive(30_000)) return false;
      if (p.literal(BAG_ID) && !(p.name() && this.#quoted())) return false;
      if (!p.literal(BRACE)) return false;
    }
    if (p.literal(CASE) && !(p.text(80) && this.#quoted())) return false;
    return this.#measured() && this.#popOff() && this.#holdRule() && this.#result() && this.#reason();
  }

  /** One of three ways of measuring, or several. */
  #measured(): boolean {
    const p = this.#p;
    const start = p.at;
    if (p.literal(FALL)) {
      const isRead = p.number(0, 60) && p.literal(TO) && p.number(0, 60);
      if (!(isRead && p.literal(SECONDS) && p.positive(86_400) && p.literal(BRACE))) return false;
    }
    if (p.literal(TAUT)) {
      if (!(this.#truth() && p.literal(SECONDS) && p.positive(86_400) && p.literal(BRACE))) return false;
    }
    if (p.literal(MAKE_UP)) {
      const isRead = p.number(0, 30_000) && p.literal(AT_PRESSURE) && p.number(0, 60);
      if (!(isRead && p.literal(BRACE))) return false;
    }
    return p.at > start;
  }

  #popOff(): boolean {
    const p = this.#p;
    if (!p.literal(POP_OFF)) return false;
    this.#facts.isPopOffOpen = p.literal(OPEN);
    return this.#facts.isPopOffOpen || p.literal(SHUT) || p.literal(STUCK);
  }

  #holdRule(): boolean {
    const p = this.#p;
    return ((this.#lastRule !== null && p.literal(this.#lastRule)) || this.#newRule()) && this.#leak();
  }

  #newRule(): boolean {
    const p = this.#p;
    const start = p.at;
    if (!(p.literal(RULE) && p.number(0, 60) && p.literal(SECONDS) && p.number(0, 600))) return false;
    if (!(p.literal(DROP) && p.number(0, 60) && p.literal(RULE_MAKE_UP) && p.number(0, 1000))) return false;
    if (!p.literal(BRACE)) return false;
    this.#lastRule = p.literalFrom(start);
    return true;
  }

  #leak(): boolean {
    const p = this.#p;
    if (!p.literal(LEAK)) return true;
    return p.number(0, Number.MAX_VALUE) && p.literal(AT_LEAST) && this.#truth() && p.literal(BRACE);
  }

  #reason(): boolean {
    const p = this.#p;
    if (!p.literal(REASON)) return false;
    for (const reason of REASONS) if (p.literal(reason)) return true;
    return false;
  }

  #supplyHold(): boolean {
    const p = this.#p;
    if (!(this.#assetOf(SUPPLY) && this.#quoted())) return false;
    if (!(p.literal(FROM_PSI) && p.number(0, 10_000) && p.literal(TO_PSI) && p.number(0, 10_000)))
      return false;
    if (!(p.literal(MINUTES) && p.positive(1440) && p.literal(FALL_PSI) && p.number(0, 3000))) return false;
    return p.literal(MINUTES) && p.number(0, 120) && p.literal(BRACE) && this.#result();
  }

  #reading(): boolean {
    const p = this.#p;
    const facts = this.#facts;
    if (!(this.#assetOf(ASSET) && this.#quoted())) return false;
    if (p.literal(PSI)) {
      if (!p.number(0, 10_000)) return false;
      facts.g = Number.NaN;
    } else {
      if (!(p.literal(GRAMS) && p.number(0, 100_000))) return false;
      facts.g = p.value;
    }
    if (!(p.literal(NEW) && this.#truth())) return false;
    facts.isNew = p.value === 1;
    facts.idHash = this.#idHash();
    return true;
  }

  #usage(): boolean {
    const p = this.#p;
    const facts = this.#facts;
    if (!(this.#assetOf(MACHINE) && this.#otherOf(CIRCUIT) && this.#quoted())) return false;
    if (!(p.literal(MINUTES) && p.positive(1440))) return false;
    facts.minutes = p.value;
    facts.idHash = this.#idHash();
    if (!(p.literal(FLOW) && p.positive(30_000))) return false;
    facts.flowMlPerMin = p.value;
    facts.agent = 0;
    if (p.literal(AGENT)) {
      facts.agent = AGENTS.findIndex(agent => p.literal(agent)) + 1;
      if (facts.agent === 0) return false;
    }
    facts.settingPercent = Number.NaN;
    if (p.literal(SETTING)) {
      if (!p.number(0, 20)) return false;
      facts.settingPercent = p.value;
    }
    return !p.literal(CASE) || (p.text(80) && this.#quoted());
  }

  #idHash(): number {
    const { idStart, idEnd } = this.#facts;
    let hash = EMPTY_HASH;
    for (let i = idStart; i < idEnd; i++) hash = hashed(hash, this.#p.bytes[i] ?? 0);
    return hash;
  }

  #assetOf(key: Literal): boolean {
    const p = this.#p;
    if (!(p.literal(key) && p.name())) return false;
    this.#facts.asset = this.#assets.numberAt(p.bytes, p.start, p.at, p.hash);
    return true;
  }

  #otherOf(key: Literal): boolean {
    const p = this.#p;
    if (!(p.literal(key) && p.name())) return false;
    this.#facts.other = this.#assets.numberAt(p.bytes, p.start, p.at, p.hash);
    return true;
  }

  #texted(key: Literal, most: number): boolean {
    return this.#p.literal(key) && this.#p.text(most) && this.#quoted();
  }

  #quoted(): boolean {
    return this.#p.literal(QUOTE);
  }

  #result(): boolean {
    const p = this.#p;
    if (!p.literal(RESULT)) return false;
    this.#facts.isPass = p.literal(PASS);
    return this.#facts.isPass || p.literal(FAIL);
  }

  /** true or false; sets the value to 1 or 0. */
  #truth(): boolean {
    const p = this.#p;
    const isTrue = p.literal(TRUE);
    p.figures[0] = isTrue ? 1 : 0;
    return isTrue || p.literal(FALSE);
  }
}
