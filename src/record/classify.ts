/** What the findings of a pass mean: changed, removed, repeated, moved, forked, foreign. */
import path from 'node:path';
import { FIRST_PREV } from './chain.ts';
import type { BadLine, Break, ChainWalk, LineRef } from './chain-walk.ts';
import { type Damage, damageAt } from './damage.ts';
import { type Lookup, lookUp } from './lookup.ts';

/** All damage inside a station's chain, in the order of its lines. */
export function chainDamage(station: string, walk: ChainWalk, files: readonly string[]): Damage[] {
  const found: { index: number; damage: Damage }[] = [];
  const add = (at: LineRef, damage: Damage) => found.push({ index: at.index, damage });
  for (const line of walk.foreign) add(line, foreignLine(station, line));
  for (const { at, expected, found } of walk.contradictions) {
    const message = `line ${at.line} contradicts itself or the line before: expected ${expected}, found ${found}`;
    add(at, damageAt('damage_contradiction', station, at, { message, expected, found }));
  }
  if (walk.breaks.length > 0) {
    const hashes = new Set(walk.breaks.flatMap(({ at, prev }) => [at.hash, prev]));
    const lookup = lookUp(files, hashes);
    for (const broken of walk.breaks)
      for (const damage of explain(station, broken, lookup)) add(broken.at, damage);
  }
  return found.sort((a, b) => a.index - b.index).map(({ damage }) => damage);
}

/** A line that holdfast did not write. */
export function foreignLine(station: string, line: BadLine): Damage {
  const message = `line ${line.line} is no entry of the record: ${line.reason}`;
  return damageAt('damage_foreign_line', station, line, {
    message,
    expected: 'an entry',
    found: line.reason,
  });
}

/** A line that is not the one whose hash is known from elsewhere. */
export function changedLine(station: string, line: LineRef, expected: string, says: string): Damage {
  const message = `line ${line.line} is not as it was written: ${says}`;
  return damageAt('damage_line_changed', station, line, { message, expected, found: line.hash });
}

function explain(station: string, broken: Break, { lines, followers }: Lookup): Damage[] {
  const { at, prev, before, bad } = broken;
  if (broken.isMended) {
    const expected = before?.hash ?? FIRST_PREV;
    const message = `line ${at.line} is not as it was written: its prev was changed`;
    const changed = damageAt('damage_line_changed', station, at, { message, expected, found: prev });
    return [...bad.map(line => foreignLine(station, line)), changed];
  }
  const predecessor = lines.get(prev)?.[0];
  const isKnown = predecessor !== undefined || prev === FIRST_PREV;
  if (!isKnown) return missingPredecessor(station, broken);
  const foreign = bad.map(line => foreignLine(station, line));
  return [
    ...foreign,
    misplaced(station, broken, predecessor, lines.get(at.hash) ?? [], followers.get(prev) ?? []),
  ];
}

/** The line that it follows is there, but does not stand before it. */
function misplaced(
  station: string,
  { at, prev, before }: Break,
  predecessor: LineRef | undefined,
  same: readonly LineRef[],
  followers: readonly LineRef[],
): Damage {
  const expected = `prev ${before?.hash ?? FIRST_PREV}`;
  const found = `prev ${prev}`;
  const twin = same.find(line => line.index !== at.index);
  if (twin !== undefined) {
    const message = `line ${at.line} stands twice: it is the same as ${placeOf(twin, at)}`;
    return damageAt('damage_line_repeated', station, at, { message, expected, found });
  }
  const where = predecessor === undefined ? 'the beginning' : placeOf(predecessor, at);
  const rival = followers.find(line => line.hash !== at.hash);
  if (rival !== undefined) {
    const message = `two entries follow ${where}: ${placeOf(rival, at)} and line ${at.line}; two writers used this station apart`;
    return damageAt('damage_fork', station, at, { message, expected, found });
  }
  const message = `line ${at.line} stands in the wrong place: it follows ${where}`;
  return damageAt('damage_line_moved', station, at, { message, expected, found });
}

/** The line that it follows is nowhere: changed, or removed. The lines' numbers tell which. */
function missingPredecessor(station: string, { at, n, prev, before, bad }: Break): Damage[] {
  const changed = bad.map(line => changedLine(station, line, prev, line.reason));
  const first = before === null ? 0 : before.n;
  const gap = n === null || first === null ? null : n - first - 1 - bad.length;
  if (gap !== null && gap > 0) {
    const since = before === null ? 'the beginning' : placeOf(before, at);
    const message = `${gap === 1 ? 'a line is' : `${gap} lines are`} missing between ${since} and line ${at.line}`;
    const found = `prev ${prev} in line ${at.line}`;
    const expected = `prev ${before?.hash ?? FIRST_PREV}`;
    return [...changed, damageAt('damage_lines_removed', station, at, { message, expected, found })];
  }
  if (changed.length > 0) return changed;
  if (before === null) {
    const message = `line ${at.line} is not the first that was written, or its prev was changed`;
    return [
      damageAt('damage_lines_removed', station, at, {
        message,
        expected: `prev ${FIRST_PREV}`,
        found: `prev ${prev}`,
      }),
    ];
  }
  // Without numbers nothing tells the two apart.
  const hedge = gap === null ? ', or lines after it were removed' : '';
  return [changedLine(station, before, prev, `the line after it holds another hash${hedge}`)];
}

function placeOf(line: LineRef, from: LineRef): string {
  return line.file === from.file ? `line ${line.line}` : `line ${line.line} of ${path.basename(line.file)}`;
}
