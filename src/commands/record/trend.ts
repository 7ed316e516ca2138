/** `holdfast record trend`: a circuit's leak tests over time. */
import { Command } from 'commander';
import { didYouMean } from '../../problem/nearest.ts';
import { refuse } from '../../problem/problem.ts';
import { trendOf } from '../../record/trend.ts';
import { renderTrend, renderTrendJson } from '../../report/trend-text.ts';
import type { Context } from '../context.ts';
import { type FileOptions, inventoryOption, recordOption } from '../files.ts';
import { openForReading, printText, readSince } from './opened.ts';

interface TrendOptions extends FileOptions {
  readonly since?: string;
  readonly json?: boolean;
}

const EXAMPLES = `
The line is the median of the slopes between all pairs of measurements, so that
a few wild ones do not move it. A date is named only from five measurements on,
and only where they rise.

Examples:
  holdfast record trend y-piece-1
  holdfast record trend bain-1 --since 2026-09-01 --json`;

export function trendCommand(context: Context): Command {
  const trend = new Command('trend')
    .summary("a circuit's leak tests over time, and where they lead")
    .description("Draws a circuit's leak tests over time, and says when the leak would pass the mark.")
    .argument('<circuit>', 'the circuit')
    .option('--since <date>', 'only what was done on this date or later')
    .option('--json', 'print JSON')
    .addHelpText('after', EXAMPLES)
    .action((circuit: string, options: TrendOptions) => runTrend(circuit, options, context));
  return recordOption(inventoryOption(trend));
}

function runTrend(circuit: string, options: TrendOptions, context: Context): void {
  const since = readSince(options.since);
  const { standing, inventory, record, state } = openForReading(context, options);
  const known = new Set([
    ...inventory.circuits.map(({ id }) => id),
    ...[...standing.pairs.values()].map(pair => pair.circuit),
  ]);
  if (!known.has(circuit)) {
    refuse(
      'asset_unknown',
      `neither the inventory nor the record has a circuit '${circuit}'`,
      didYouMean(circuit, [...known]),
    );
  }
  const trend = trendOf(standing, inventory, circuit, since);
  if (options.json) context.out(renderTrendJson(trend, state));
  else printText(record, renderTrend(trend, context.width), context);
}
