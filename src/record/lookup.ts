/** A second pass over a station, only where the first found breaks: do the lines that are spoken of stand anywhere? */
import { lineHash } from './chain.ts';
import { type LineRef, MOST_FINDINGS } from './chain-walk.ts';
import { readLines } from './lines.ts';
import { isEntry, nothingKnown, parseLine } from './parse-line.ts';
import { whileOpen } from './while-open.ts';

export interface Lookup {
  /** By hash: the lines that have it. */
  readonly lines: ReadonlyMap<string, readonly LineRef[]>;
  /** By hash: the lines that say they follow it. */
  readonly followers: ReadonlyMap<string, readonly LineRef[]>;
}

/** Looks for lines that have one of these hashes or follow one of them. */
export function lookUp(files: readonly string[], hashes: ReadonlySet<string>): Lookup {
  const lines = new Map<string, LineRef[]>();
  const followers = new Map<string, LineRef[]>();
  const known = nothingKnown();
  let index = 0;
  for (const file of files) {
    whileOpen(file, fd =>
      readLines(fd, (bytes, text, line, byte) => {
        const hash = lineHash(bytes);
        const ref: LineRef = { file, line, byte, index: index++, hash };
        if (hashes.has(hash)) add(lines, hash, ref);
        const entry = parseLine(text, known);
        if (isEntry(entry) && hashes.has(entry.prev)) add(followers, entry.prev, ref);
      }),
    );
  }
  return { lines, followers };
}

function add(map: Map<string, LineRef[]>, key: string, ref: LineRef): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [ref]);
  else if (list.length < MOST_FINDINGS) list.push(ref);
}
