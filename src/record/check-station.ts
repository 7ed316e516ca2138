/** All that can be said of one station: its entries, its head, its damage. */
import { fstatSync } from 'node:fs';
import type { Entry } from '../generated/entry.ts';
import { ChainWalk, type LineRef } from './chain-walk.ts';
import { chainDamage, changedLine, foreignLine } from './classify.ts';
import { type Damage, damageAt } from './damage.ts';
import type { StationFiles } from './folder.ts';
import type { Memory, RememberedHead } from './head.ts';
import { readLines, type TakeLine, type TornTail, type VisitLine } from './lines.ts';
import { whileOpen } from './while-open.ts';

/** Called for each line that is an entry. */
export type VisitEntry = (entry: Entry, file: string, line: number, byte: number) => void;

export interface StationCheck {
  readonly station: string;
  readonly head: string;
  readonly entries: number;
  readonly bytes: number;
  readonly damage: readonly Damage[];
  /** Damage beyond what is listed. */
  readonly more: number;
  /** Those of `heads` that stand in the station. */
  readonly headsSeen: ReadonlySet<string>;
  /** The last entry's place, for remembering it; null where there is none or the end is damaged. */
  readonly last: RememberedHead | null;
}

interface FileTail extends TornTail {
  readonly file: string;
}

/**
 * Reads a station from its first line to its last and checks its chain.
 *
 * @param memory - what is remembered of its head; null: nothing.
 * @param heads - further hashes to look for.
 * @param visit - null: nobody wants the entries, and no object is made of most lines.
 * @throws Refusal (exit 3) where a file cannot be read.
 */
export function checkStation(
  files: StationFiles,
  memory: Memory | null,
  heads: readonly string[],
  visit: VisitEntry | null,
): StationCheck {
  const remembered = memory === null ? [] : [memory.last, ...memory.missing];
  const { station } = files;
  const walk = new ChainWalk(station, [...remembered.map(({ head }) => head), ...heads]);
  const tails: FileTail[] = [];
  let bytes = 0;
  let lastLength = 0;
  for (const file of files.files) {
    whileOpen(file, fd => {
      const takeLine: VisitLine = (lineBytes, text, line, byte) => {
        const entry = walk.visit(file, lineBytes, text, line, byte);
        lastLength = lineBytes.length;
        if (entry !== null) visit?.(entry, file, line, byte);
      };
      const takePlainLine: TakeLine = (block, start, line, byte) => {
        const newline = walk.follow(file, block, start, line, byte);
        if (newline !== -1) lastLength = newline - start;
        return newline;
      };
      const tail = readLines(fd, takeLine, visit === null ? takePlainLine : undefined);
      if (tail !== null) tails.push({ ...tail, file });
      bytes += fstatSync(fd).size;
    });
  }
  walk.finish();
  const inChain = chainDamage(station, walk, files.files);
  const atEnd = endDamage(station, walk, tails, remembered, inChain.length > 0);
  const damage = [...inChain, ...atEnd];
  return {
    station,
    head: walk.head,
    entries: walk.entries,
    bytes,
    damage,
    more: walk.uncounted,
    headsSeen: walk.headsSeen,
    last: damage.length === 0 && walk.last !== null ? rememberable(walk.last, lastLength) : null,
  };
}

/** Torn tails, lines at the end that are no entries, heads that are gone. */
function endDamage(
  station: string,
  walk: ChainWalk,
  tails: readonly FileTail[],
  remembered: readonly RememberedHead[],
  isDamaged: boolean,
): Damage[] {
  const damage = tails.map(tail => tornTail(station, tail, remembered));
  const gone = remembered.filter(
    ({ head }) => !walk.headsSeen.has(head) && !tails.some(({ hash }) => hash === head),
  );
  const lastN = walk.last === null ? 0 : walk.last.n;
  const lines = lastN === null ? null : lastN + walk.bad.length;
  const changed = gone.find(({ n }) => n !== null && n === lines);
  const lastLine: LineRef | null = walk.bad.at(-1) ?? walk.last;
  for (const line of walk.bad) {
    if (changed === undefined || line !== walk.bad.at(-1)) damage.push(foreignLine(station, line));
  }
  for (const head of gone) {
    if (head === changed && lastLine !== null) {
      damage.push(changedLine(station, lastLine, head.head, 'the head that was last seen is another'));
    } else if (lines === null || head.n === null || head.n > lines) {
      damage.push(cutTail(station, head, lines, lastLine));
    } else if (!isDamaged) {
      const message = `the entry that was line ${head.n} of station ${station} is gone: the lines from there on were written anew`;
      damage.push(
        damageAt('damage_cut_tail', station, placeOf(lastLine), {
          message,
          expected: head.head,
          found: walk.head,
        }),
      );
    }
  }
  return damage;
}

function tornTail(station: string, tail: FileTail, remembered: readonly RememberedHead[]): Damage {
  const isWhole = remembered.some(({ head }) => head === tail.hash);
  const message = isWhole
    ? `the newline behind the last entry is gone (line ${tail.line})`
    : `the file ends in the middle of line ${tail.line}, after ${tail.length} bytes of it`;
  const found = `${tail.length} bytes without a newline`;
  return damageAt('damage_torn_tail', station, tail, { message, expected: 'a newline at the end', found });
}

function cutTail(station: string, head: RememberedHead, lines: number | null, last: LineRef | null): Damage {
  const count = head.n === null || lines === null ? null : head.n - lines;
  const what = count === null ? 'lines' : count === 1 ? 'the last entry' : `the last ${count} entries`;
  const [is, was] = count === 1 ? ['is', 'was'] : ['are', 'were'];
  const message = `${what} ${is} gone from the end of station ${station}, or ${was} changed: the head that was last seen is not there`;
  return damageAt('damage_cut_tail', station, placeOf(last), {
    message,
    expected: head.head,
    found: last === null ? 'no line' : last.hash,
  });
}

function placeOf(line: LineRef | null) {
  return line ?? { file: null, line: null, byte: null };
}

function rememberable(last: LineRef & { readonly n: number | null }, length: number): RememberedHead {
  const file = last.file.split(/[\\/]/).at(-1) ?? last.file;
  return { head: last.hash, n: last.n, file, byte: last.byte, length };
}
