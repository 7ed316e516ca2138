/** A robust straight line through points: the Theil–Sen estimator (Theil 1950, Sen 1968). Pure. */

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Line {
  readonly slope: number;
  readonly intercept: number;
}

/**
 * The median of the slopes of all pairs of points with different x, and the median of what is left as the intercept. Up to
 * 29 % of the points may be wild without moving it far.
 *
 * @returns null where no two points differ in x.
 * @example theilSen([{ x: 0, y: 0 }, { x: 1, y: 2 }, { x: 2, y: 90 }, { x: 3, y: 6 }])?.slope //=> 2
 */
export function theilSen(points: readonly Point[]): Line | null {
  const slopes: number[] = [];
  for (const [i, a] of points.entries()) {
    for (let j = i + 1; j < points.length; j++) {
      const b = points[j];
      if (b !== undefined && b.x !== a.x) slopes.push((b.y - a.y) / (b.x - a.x));
    }
  }
  if (slopes.length === 0) return null;
  const slope = median(slopes);
  return { slope, intercept: median(points.map(({ x, y }) => y - slope * x)) };
}

/** @example median([3, 1, 2, 10]) //=> 2.5 */
function median(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  const middle = Math.floor(sorted.length / 2);
  const upper = sorted[middle] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? Number.NaN) + upper) / 2;
}
