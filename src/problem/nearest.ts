/** The known word nearest to a mistyped one, for "did you mean". */

/**
 * Edits (insert, delete, replace, swap of neighbours) that turn `a` into `b`: the optimal string alignment distance.
 *
 * @example editDistance('theater', 'theatre') //=> 1
 */
export function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let best = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        best = Math.min(best, (beforeLast[j - 2] ?? 0) + 1);
      }
      row[j] = best;
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length] ?? 0;
}

/**
 * The nearest of `known`, or null where none is near enough to be meant (more than a third of the letters differ). A known
 * word that only has its unit behind it is near: bore → bore_mm.
 *
 * @example nearest('max_l_min', ['max_ml_min', 'marks']) //=> 'max_ml_min'
 */
export function nearest(word: string, known: Iterable<string>): string | null {
  let best: string | null = null;
  let least = Math.max(1, Math.floor(word.length / 3)) + 1;
  for (const candidate of known) {
    const distance = editDistance(word.toLowerCase(), candidate.toLowerCase());
    if (distance < least) {
      best = candidate;
      least = distance;
    }
  }
  return best ?? withUnit(word, known);
}

function withUnit(word: string, known: Iterable<string>): string | null {
  const longer = [...known].filter(candidate => candidate.startsWith(`${word.toLowerCase()}_`));
  return longer.length === 1 ? (longer[0] ?? null) : null;
}

/** "did you mean 'x'?" or, where nothing is near, the known words. @example didYouMean('dgo', ['dog', 'cat']) //=> "did you mean 'dog'?" */
export function didYouMean(word: string, known: readonly string[]): string {
  const near = nearest(word, known);
  if (near !== null) return `did you mean '${near}'?`;
  if (known.length === 0) return 'there is none';
  const shown = known.slice(0, 12).join(', ');
  return `known: ${shown}${known.length > 12 ? ', …' : ''}`;
}
