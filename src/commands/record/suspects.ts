/** `holdfast record suspects`: where it leaks, by what the record acquits. */
import { Command } from 'commander';
import { findSuspects } from '../../record/suspects.ts';
import { renderSuspects, renderSuspectsJson } from '../../report/suspects-text.ts';
import type { Context } from '../context.ts';
import { type FileOptions, inventoryOption, recordOption } from '../files.ts';
import { openForReading, printText } from './opened.ts';

interface SuspectsOptions extends FileOptions {
  readonly json?: boolean;
}

const EXAMPLES = `
A part that passed in another pair since a failure is cleared of it. The rest is
ranked, with the one swap that tells most.
Exit code: 0 nothing suspect, 1 a failed leak test stands or the record is damaged.

Examples:
  holdfast record suspects
  holdfast record suspects --json`;

export function suspectsCommand(context: Context): Command {
  const suspects = new Command('suspects')
    .summary('where it leaks: what the record clears, what it suspects')
    .description('Says of every failed leak test that stands which parts are cleared and which are suspect.')
    .option('--json', 'print JSON')
    .addHelpText('after', EXAMPLES)
    .action((options: SuspectsOptions) => runSuspects(options, context));
  return recordOption(inventoryOption(suspects));
}

function runSuspects(options: SuspectsOptions, context: Context): void {
  const { standing, inventory, record, state } = openForReading(context, options);
  const groups = findSuspects(standing, inventory);
  if (options.json) context.out(renderSuspectsJson(groups, standing, inventory, state));
  else printText(record, renderSuspects(groups, standing, inventory, context.width, state), context);
  if (groups.length > 0) context.exitCode = 1;
}
