/**
 * Reads a line of the exact shape in which the store writes it, checking all that the parser would check, without making an
 * object of it. What is not of that shape, or rare, is left to the parser: `read` gives -1 and says nothing of the line.
 */
import { ContentReader, type LineNames } from './content-reader.ts';
import { HOLD, type LineFacts, READING, RETURN, SIGN_OFF, SUPPLY_HOLD, USAGE, WITHDRAW } from './facts.ts';
import { type Literal, literalOf, Pieces } from './pieces.ts';

/** No part of a line. */
const NOTHING_YET = literalOf('\n');
/** `at` from its first digit to the end of its offset. */
export const INSTANT_LENGTH = 25;
/** No line goes on behind the end of its block, but a look ahead may. */
const LONGEST_LOOK = 64;

const ID = literalOf('{"v":1,"id":"');
const AT = literalOf('","at":"');
const STATION = literalOf('","station":"');
const KIND = literalOf('","kind":"');
const BY = literalOf('","by":"');
const ON = literalOf('","on":"');
const NOTE = literalOf('","note":"');
const N = literalOf(',"n":');
const INVENTORY = literalOf(',"inventory":"');
const TOOL = literalOf('","tool":"');
const PREV = literalOf('","prev":"');
const END = literalOf('"}\n');

/** By the byte in which the kinds differ: the first; of those that begin alike the third. */
const KINDS = kindsByByte([
  [SIGN_OFF, 'sign_off', 2],
  [SUPPLY_HOLD, 'supply_hold', 2],
  [HOLD, 'hold', 0],
  [USAGE, 'usage', 0],
  [READING, 'reading', 2],
  [RETURN, 'return', 2],
  [WITHDRAW, 'withdraw', 0],
]);
/** Where to look for that byte, by the first byte; everywhere else at the first. */
const LOOK_AT = new Uint8Array(256);
LOOK_AT[0x73] = 2;
LOOK_AT[0x72] = 2;

interface Kind {
  readonly number: number;
  readonly text: Literal;
}

export class LineReader {
  readonly #facts: LineFacts;
  readonly #doneOn: (date: string, atMs: number) => number;
  readonly #p = new Pieces();
  readonly #content: ContentReader;
  // What nearly every line has as the line before it, and was found right there.
  #lastStation = NOTHING_YET;
  #lastMadeWith = NOTHING_YET;

  /** @param doneOn - when something counts as done of which only the date is known, in ms. */
  constructor(facts: LineFacts, names: LineNames, doneOn: (date: string, atMs: number) => number) {
    this.#facts = facts;
    this.#content = new ContentReader(this.#p, facts, names);
    this.#doneOn = doneOn;
  }

  /**
   * Reads the line that begins at `start` into the facts.
   *
   * @param block - whole lines.
   * @returns where its newline stands, or -1: ask the parser.
   */
  read(block: Buffer, start: number): number {
    const p = this.#p;
    if (p.bytes !== block) p.takeBlock(block);
    p.at = start;
    return this.#envelope() && this.#content.read() && this.#binding() ? p.at - 1 : -1;
  }

  #envelope(): boolean {
    const p = this.#p;
    const facts = this.#facts;
    if (!(p.literal(ID) && p.entryId())) return false;
    facts.idStart = p.start;
    facts.idEnd = p.at;
    if (p.bytes.length - p.at < LONGEST_LOOK || !p.literal(AT)) return false;
    const at = p.at;
    facts.atStart = at;
    if (!p.instant()) return false;
    facts.at = p.ms;
    if (!(this.#station() && this.#kind())) return false;
    if (!(p.literal(BY) && p.text(200) && p.literal(ON))) return false;
    return this.#on(at);
  }

  #station(): boolean {
    const p = this.#p;
    if (p.literal(this.#lastStation)) return true;
    const start = p.at;
    if (!(p.literal(STATION) && p.stationName())) return false;
    const station = textBetween(p.bytes, p.start, p.at);
    if (!p.literal(KIND)) return false;
    this.#facts.station = station;
    this.#lastStation = p.literalFrom(start);
    return true;
  }

  #kind(): boolean {
    const p = this.#p;
    const first = p.bytes[p.at] ?? 0;
    const kind = KINDS[p.bytes[p.at + (LOOK_AT[first] ?? 0)] ?? 0] ?? null;
    if (kind === null || !p.literal(kind.text)) return false;
    this.#facts.kind = kind.number;
    return true;
  }

  /** Nearly always done when it was entered: then the same bytes. */
  #on(at: number): boolean {
    const p = this.#p;
    const facts = this.#facts;
    const start = p.at;
    facts.isDoneWhenEntered = p.sameAs(at, INSTANT_LENGTH);
    if (facts.isDoneWhenEntered) {
      facts.on = facts.at;
      // Of `at`, which was the last time read.
      facts.date = p.date;
    } else if (p.instant()) {
      facts.on = p.ms;
      facts.date = p.date;
    } else {
      p.at = start;
      if (!p.calendarDate()) return false;
      facts.on = this.#doneOn(textBetween(p.bytes, start, p.at), facts.at);
      facts.date = p.date;
    }
    return !p.literal(NOTE) || p.text(4000);
  }

  #binding(): boolean {
    const p = this.#p;
    const facts = this.#facts;
    facts.n = Number.NaN;
    if (p.literal(N)) {
      if (!(p.number(1, Number.MAX_SAFE_INTEGER) && Number.isInteger(p.value))) return false;
      facts.n = p.value;
    }
    if (!this.#madeWith()) return false;
    facts.prevStart = p.at;
    return p.hex(64) && p.literal(END);
  }

  #madeWith(): boolean {
    const p = this.#p;
    if (p.literal(this.#lastMadeWith)) return true;
    const start = p.at;
    if (!(p.literal(INVENTORY) && p.hex(40) && p.literal(TOOL) && p.text(40) && p.literal(PREV)))
      return false;
    this.#lastMadeWith = p.literalFrom(start);
    return true;
  }
}

function textBetween(bytes: Uint8Array, start: number, end: number): string {
  return Buffer.from(bytes.subarray(start, end)).toString('latin1');
}

function kindsByByte(
  kinds: readonly (readonly [number: number, name: string, at: number])[],
): (Kind | null)[] {
  const byByte = Array.from({ length: 256 }, (): Kind | null => null);
  for (const [number, name, at] of kinds) byByte[name.charCodeAt(at)] = { number, text: literalOf(name) };
  return byByte;
}
