/**
 * Reads lines of the exact shape in which the store writes them, checking all that the parser would check, without making an
 * object of any. What is not of that shape, or rare, is left to the parser: `read` gives -1 and says nothing of the line.
 */
import type { LineFacts } from './facts.ts';
import {
  AGENT,
  AMOUNT,
  ASSET,
  AT,
  AT_START,
  CHECK,
  DATE,
  FLAGS,
  FLOW,
  ID_END,
  ID_HASH,
  ID_START,
  INSTANT_LENGTH,
  IS_DATE_ONLY,
  IS_NEW,
  IS_PASS,
  IS_POP_OFF_OPEN,
  KIND,
  LINE_START,
  N,
  NEWLINE,
  ON,
  ON_START,
  OTHER,
  PREV_START,
  ROW_BYTES,
  SETTING,
  STATION,
} from './kernel/layout.ts';
import { type LineKernel, type LineNames, lineKernel } from './line-kernel.ts';

const DATE_LENGTH = 10;
const BEFORE_KIND = '","kind":"';
const BEFORE_STATION = '","station":"';

export class LineReader {
  readonly #facts: LineFacts;
  readonly #names: LineNames | null;
  readonly #doneOn: (date: string, atMs: number) => number;
  // Made for the first line: most commands read none in this way.
  #kernel: LineKernel | null | undefined;
  #block: Buffer = Buffer.alloc(0);
  /** Where in the block the rows begin, how many there are, and which is next. */
  #origin = 0;
  #rows = 0;
  #row = 0;
  #station = 0;

  /**
   * @param names - null: of which assets and checks a line speaks makes no difference.
   * @param doneOn - when something counts as done of which only the date is known, in ms.
   */
  constructor(facts: LineFacts, names: LineNames | null, doneOn: (date: string, atMs: number) => number) {
    this.#facts = facts;
    this.#names = names;
    this.#doneOn = doneOn;
  }

  /**
   * Reads the line that begins at `start` into the facts. Quick where lines are asked for one after another.
   *
   * @param block - whole lines, which stay as they are until another block is given.
   * @returns where its newline stands, or -1: ask the parser.
   */
  read(block: Buffer, start: number): number {
    if (block !== this.#block || this.#row === this.#rows || this.#startOf(this.#row) !== start) {
      this.#readAhead(block, start);
      if (this.#rows === 0) return -1;
    }
    const row = this.#row++;
    return this.#kernel?.integers[(row * ROW_BYTES + KIND) / 4] ? this.#take(this.#kernel, row) : -1;
  }

  #readAhead(block: Buffer, start: number): void {
    this.#kernel ??= lineKernel(this.#names);
    this.#block = block;
    this.#origin = start;
    this.#row = 0;
    this.#rows = this.#kernel?.read(block, start) ?? 0;
  }

  #startOf(row: number): number {
    return this.#origin + (this.#kernel?.integers[(row * ROW_BYTES + LINE_START) / 4] ?? 0);
  }

  #take({ integers, figures }: LineKernel, row: number): number {
    const facts = this.#facts;
    const origin = this.#origin;
    const fours = (row * ROW_BYTES) / 4;
    const eights = (row * ROW_BYTES) / 8;
    const flags = integers[fours + FLAGS / 4] ?? 0;
    facts.kind = integers[fours + KIND / 4] ?? 0;
    facts.idStart = origin + (integers[fours + ID_START / 4] ?? 0);
    facts.idEnd = origin + (integers[fours + ID_END / 4] ?? 0);
    facts.atStart = origin + (integers[fours + AT_START / 4] ?? 0);
    facts.prevStart = origin + (integers[fours + PREV_START / 4] ?? 0);
    facts.date = integers[fours + DATE / 4] ?? 0;
    facts.asset = integers[fours + ASSET / 4] ?? 0;
    facts.other = integers[fours + OTHER / 4] ?? 0;
    facts.check = integers[fours + CHECK / 4] ?? 0;
    facts.agent = integers[fours + AGENT / 4] ?? 0;
    facts.idHash = integers[fours + ID_HASH / 4] ?? 0;
    facts.isPass = (flags & IS_PASS) !== 0;
    facts.isPopOffOpen = (flags & IS_POP_OFF_OPEN) !== 0;
    facts.isNew = (flags & IS_NEW) !== 0;
    facts.isDoneWhenEntered = integers[fours + ON_START / 4] === 0;
    facts.at = figures[eights + AT / 8] ?? 0;
    facts.on = figures[eights + ON / 8] ?? 0;
    facts.n = figures[eights + N / 8] ?? 0;
    facts.g = figures[eights + AMOUNT / 8] ?? 0;
    facts.minutes = facts.g;
    facts.flowMlPerMin = figures[eights + FLOW / 8] ?? 0;
    facts.settingPercent = figures[eights + SETTING / 8] ?? 0;
    if ((flags & IS_DATE_ONLY) !== 0) {
      const from = origin + (integers[fours + ON_START / 4] ?? 0);
      facts.on = this.#doneOn(this.#block.toString('latin1', from, from + DATE_LENGTH), facts.at);
    }
    const station = integers[fours + STATION / 4] ?? 0;
    if (station !== this.#station) {
      this.#station = station;
      const from = facts.atStart + INSTANT_LENGTH + BEFORE_STATION.length;
      facts.station = this.#block.toString('latin1', from, this.#block.indexOf(BEFORE_KIND, from));
    }
    return origin + (integers[fours + NEWLINE / 4] ?? 0);
  }
}
