/**
 * One pass over a station's lines: is each an entry, does each follow the one before? What does not fit is kept as it was
 * found; what it means is said afterwards (classify.ts), when the whole station is known.
 */
import type { Entry } from '../generated/entry.ts';
import { FIRST_PREV, lineHash } from './chain.ts';
import { contradictionIn } from './contradiction.ts';
import { isEntry, nothingKnown, parseLine } from './parse-line.ts';
import { LineFacts } from './scan/facts.ts';
import { INSTANT_LENGTH } from './scan/kernel/layout.ts';
import { LineReader } from './scan/line-reader.ts';

/** More are counted, not kept: a file whose every line ending was changed must not fill the memory. */
export const MOST_FINDINGS = 1000;

const HASH_LENGTH = 64;

/** A line of the station. */
export interface LineRef {
  readonly file: string;
  readonly line: number;
  readonly byte: number;
  /** Its place in the station over all years, from 0. */
  readonly index: number;
  readonly hash: string;
}

/** A line that is no entry. */
export interface BadLine extends LineRef {
  readonly reason: string;
}

/** An entry that does not follow the line before it. */
export interface Break {
  readonly at: LineRef;
  /** The number that the line gives itself, or null. */
  readonly n: number | null;
  /** What it says it follows. */
  readonly prev: string;
  /** The entry before it, and its number; null at the beginning of the station. */
  readonly before: (LineRef & { readonly n: number | null }) | null;
  /** The lines in between that are no entries. */
  readonly bad: readonly BadLine[];
  /** The hash that this line would have if its `prev` were the one expected. */
  readonly mended: string;
  /** Whether the line after it follows the mended line: then it is this line's `prev` that was changed. */
  isMended: boolean;
}

/** An entry that is in the chain but cannot be true. */
export interface Contradiction {
  readonly at: LineRef;
  readonly expected: string;
  readonly found: string;
}

/** What one pass found. */
export class ChainWalk {
  readonly breaks: Break[] = [];
  /** Lines that are no entries and that the chain passes by. */
  readonly foreign: BadLine[] = [];
  readonly contradictions: Contradiction[] = [];
  /** Lines at the end that are no entries. */
  bad: BadLine[] = [];
  /** Findings beyond those kept. */
  uncounted = 0;
  /** Lines that are entries. */
  entries = 0;
  /** Those of the heads looked for that were met. */
  readonly headsSeen = new Set<string>();
  /** The last entry, and its number by the chain. */
  last: (LineRef & { readonly n: number | null }) | null = null;

  readonly #station: string;
  readonly #heads: readonly string[];
  readonly #known = { ...nothingKnown(), prev: FIRST_PREV };
  #index = 0;
  #n: number | null = 0;
  #at: string | null = null;
  /** The same instant in ms; NaN: there is none. */
  #atMs = Number.NaN;
  readonly #facts = new LineFacts();
  readonly #reader = new LineReader(this.#facts, null, (_date, atMs) => atMs);
  #suspect: Contradiction | null = null;
  #lastBreak: Break | null = null;
  /** The end of the chain before the last break: where a line goes on from there, only an insertion lies between. */
  #resume: string | null = null;
  // The last entry's place, as plain fields: an object for each line would be made a million times.
  #lastFile = '';
  #lastLine = 0;
  #lastByte = 0;
  #lastIndex = 0;

  constructor(station: string, heads: readonly string[]) {
    this.#station = station;
    this.#heads = heads;
  }

  /** Takes the next line. @returns the entry, or null where it is none. */
  visit(file: string, bytes: Buffer, text: string, line: number, byte: number): Entry | null {
    const hash = lineHash(bytes);
    const index = this.#index++;
    for (const head of this.#heads) if (head === hash) this.headsSeen.add(hash);
    const entry = parseLine(text, this.#known);
    if (!isEntry(entry)) {
      this.#keep(this.bad, { file, line, byte, index, hash, reason: entry.reason });
      return null;
    }
    const follows = entry.prev === this.#known.prev && this.bad.length === 0;
    if (follows) this.#confirm();
    else this.#relink(entry, bytes, { file, line, byte, index, hash });
    const n = this.#number(entry);
    const fault = contradictionIn(entry, { station: this.#station, n, at: this.#at });
    if (fault !== null) this.#suspect = { at: { file, line, byte, index, hash }, ...fault };
    this.#n = entry.n === undefined ? null : n;
    this.#at = entry.at;
    this.#atMs = Date.parse(entry.at);
    this.#take(hash, file, line, byte);
    return entry;
  }

  /**
   * Takes the next line if it plainly follows the one before and says nothing of itself that could be wrong, as nearly every
   * line does; without making an object of it.
   *
   * @param block - in which the line begins at `start`.
   * @returns where its newline stands; -1: nothing was taken, and `visit` is to be asked.
   */
  follow(file: string, block: Buffer, start: number, line: number, byte: number): number {
    const newline = this.#reader.read(block, start);
    const facts = this.#facts;
    const { prevStart, atStart } = facts;
    if (newline === -1 || this.bad.length > 0 || facts.station !== this.#station) return -1;
    // NaN, where there is no line before, is no reason.
    if (facts.n !== (this.#n ?? -1) + 1 || !facts.isDoneWhenEntered || facts.at < this.#atMs) return -1;
    if (block.toString('latin1', prevStart, prevStart + HASH_LENGTH) !== this.#known.prev) return -1;
    this.#confirm();
    const hash = lineHash(block.subarray(start, newline));
    for (const head of this.#heads) if (head === hash) this.headsSeen.add(hash);
    this.#n = facts.n;
    this.#at = block.toString('latin1', atStart, atStart + INSTANT_LENGTH);
    this.#atMs = facts.at;
    this.#index += 1;
    this.#take(hash, file, line, byte);
    return newline;
  }

  /** The entry is now the last. Its index is the one that was counted last. */
  #take(hash: string, file: string, line: number, byte: number): void {
    this.#known.prev = hash;
    this.#lastFile = file;
    this.#lastLine = line;
    this.#lastByte = byte;
    this.#lastIndex = this.#index - 1;
    this.entries += 1;
  }

  /** Called once, after the last line. */
  finish(): this {
    this.#confirm();
    this.last = this.#lastRef();
    const { at, mended } = this.breaks.at(-1) ?? {};
    // The last line has no line after it; a head from elsewhere takes its place.
    if (at?.index === this.#lastIndex && mended !== undefined && this.#heads.includes(mended)) {
      this.headsSeen.add(mended);
      const broken = this.breaks.at(-1);
      if (broken !== undefined) broken.isMended = true;
    }
    return this;
  }

  /** The hash of the last complete line; 64 zeros where there is none. */
  get head(): string {
    return this.bad.at(-1)?.hash ?? this.#known.prev;
  }

  /** The number that an entry should have: one more than the last, or its own where that is unknown. */
  #number(entry: Entry): number | null {
    return this.#n === null ? (entry.n ?? null) : this.#n + 1;
  }

  /** The line before is in the chain as it stands: what was wrong with it was so when it was written. */
  #confirm(): void {
    if (this.#suspect !== null) this.#keep(this.contradictions, this.#suspect);
    this.#suspect = null;
    this.#lastBreak = null;
  }

  /** An entry that does not simply follow. */
  #relink(entry: Entry, bytes: Buffer, at: LineRef): void {
    const expected = this.#known.prev;
    const before = this.#lastRef();
    const { bad } = this;
    this.bad = [];
    if (bad.length > 0 && (entry.prev === expected || entry.prev === bad.at(-1)?.hash)) {
      this.#confirm();
      for (const line of bad) this.#keep(this.foreign, line);
      return;
    }
    // The line before was changed or does not belong before this one, so what it says of itself means nothing here.
    this.#suspect = null;
    this.#at = null;
    this.#atMs = Number.NaN;
    this.#n = null;
    if (bad.length === 0 && this.#lastBreak?.mended === entry.prev) {
      this.#lastBreak.isMended = true;
      this.#lastBreak = null;
      return;
    }
    if (bad.length === 0 && entry.prev === this.#resume) {
      this.#resume = null;
      this.#lastBreak = null;
      return;
    }
    const mended = lineHash(withPrev(bytes, entry.prev, expected));
    const broken: Break = {
      at,
      n: entry.n ?? null,
      prev: entry.prev,
      before,
      bad,
      mended,
      isMended: false,
    };
    this.#keep(this.breaks, broken);
    this.#lastBreak = broken;
    this.#resume = expected;
  }

  #lastRef(): (LineRef & { readonly n: number | null }) | null {
    if (this.entries === 0) return null;
    return {
      file: this.#lastFile,
      line: this.#lastLine,
      byte: this.#lastByte,
      index: this.#lastIndex,
      hash: this.#known.prev,
      n: this.#n,
    };
  }

  #keep<T>(list: T[], item: T): void {
    if (list.length < MOST_FINDINGS) list.push(item);
    else this.uncounted += 1;
  }
}

/** The line as it would be with another `prev`, which is its last key. */
function withPrev(bytes: Buffer, prev: string, wanted: string): Buffer {
  const copy = Buffer.from(bytes);
  const at = copy.lastIndexOf(prev);
  if (at !== -1) copy.write(wanted, at, 'latin1');
  return copy;
}
