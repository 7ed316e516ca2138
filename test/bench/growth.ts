/** Growth drawn as bars on a logarithmic scale, for a page that is read as plain text, 80 columns wide. */
import { count, quantity } from './number.ts';
import type { Growth } from './result.ts';

const BAR = 34;

/**
 * A bar for each size of each series. On the logarithmic scale equal factors are equal steps, and behind the last bar of a series
 * stands how it grew over its last step: `n^1` ten times the work for ten times the lines, `n^0` none.
 *
 * @example
 * due        10,000 |############                        98.0 ms
 *           100,000 |###############                      180 ms  n^0.26
 */
export function drawGrowth({ title, unit, series }: Growth): string {
  const values = series.flatMap(({ points }) => points.map(({ value }) => value));
  const low = 10 ** Math.floor(Math.log10(Math.min(...values)));
  const high = Math.max(...values);
  const columns = (value: number) => Math.round((Math.log(value / low) / Math.log(high / low)) * BAR);
  const names = Math.max(...series.map(({ name }) => name.length));
  const lines = series.flatMap(({ name, points }) =>
    points.map(({ lines, value }, i) => {
      const before = points[i - 1];
      const exponent =
        i === points.length - 1 && before !== undefined
          ? `  n^${(Math.log(value / before.value) / Math.log(lines / before.lines)).toFixed(2)}`
          : '';
      const bar = '#'.repeat(columns(value)).padEnd(BAR);
      const label = `${(i === 0 ? name : '').padEnd(names)} ${count(lines).padStart(9)}`;
      return `${label} |${bar} ${quantity(value, unit).padStart(9)}${exponent}`;
    }),
  );
  return [title, '', ...lines, axis(low, high, columns, names + 11)].join('\n');
}

/** The powers of ten under the bars. */
function axis(low: number, high: number, columns: (value: number) => number, indent: number): string {
  let text = ' '.repeat(indent);
  for (let tick = low; tick <= high; tick *= 10) {
    const at = indent + columns(tick);
    if (at >= text.length) text = `${text.padEnd(at)}^${count(tick)} `;
  }
  return text.trimEnd();
}
