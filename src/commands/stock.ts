/** holdfast stock: what is left of oxygen, absorbent and charcoal, and when it ends at the recent use. */
import { Command } from 'commander';
import { problem } from '../problem/problem.ts';
import { countedOn, futureWords } from '../record/future.ts';
import { printCautions } from '../report/cautions.ts';
import { renderStock, renderStockJson } from '../report/stock.ts';
import { stockOf } from '../stock/stock.ts';
import type { Context } from './context.ts';
import { type FileOptions, inventoryOption, recordOption } from './files.ts';
import { openForReading, printText } from './record/opened.ts';

const EXAMPLES = `
Exit code: 0; 1 where the record is damaged, which leaves no level known.

Examples:
  holdfast stock          a bar for each cylinder, absorber and canister
  holdfast stock --json   for other programs`;

export function command(context: Context): Command {
  const stock = new Command('stock')
    .description('Says what is left of oxygen, absorbent and charcoal, and when it ends at the recent use.')
    .option('--json', 'print it as holdfast.stock/1')
    .addHelpText('after', EXAMPLES)
    .action((options: FileOptions & { json?: boolean }) => runStock(options, context));
  return recordOption(inventoryOption(stock));
}

function runStock(options: FileOptions & { json?: boolean }, context: Context): void {
  const { inventory, record, today, state } = openForReading(context, options);
  // What is dated later cannot have been done yet.
  const entries = record.entries.filter(({ on }) => on.slice(0, 10) <= today);
  const later = futureWords(countedOn(record.entries, today).future, today);
  if (later !== null) {
    const remedy = 'what is left is told without them until they are entered with their right dates';
    printCautions([problem('entry_in_future', later, remedy)], context);
  }
  const stock = stockOf(inventory, entries, today, state);
  if (options.json) context.out(renderStockJson(stock));
  else printText(record, renderStock(stock, context.width), context);
}
