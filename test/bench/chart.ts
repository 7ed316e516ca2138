/** What the wall chart costs: whole commands against `node -e 0`. */
import type { Effort } from './effort.ts';
import { bareStart, holdfast, interleave } from './measure.ts';
import type { Found } from './result.ts';
import { ratioRow } from './rows.ts';

const FORMATS = ['text', 'json', 'svg', 'html'];

export async function measure(_home: string, { rounds }: Effort): Promise<Found> {
  const bare = bareStart();
  const charts = FORMATS.map(format => ({
    format,
    chart: holdfast('chart', '--format', format, '--inventory', 'inventory.example.yaml'),
  }));
  await interleave(rounds(21), [bare, ...charts.map(({ chart }) => chart)]);
  return {
    rows: charts.map(({ format, chart }) =>
      ratioRow(`\`chart --format ${format}\` ÷ \`node -e 0\``, chart, bare),
    ),
    growth: [],
    remarks: [],
  };
}
