/** `holdfast record …`: what was done, and whether it is as it was written. A file per subcommand in record/. */
import { Command } from 'commander';
import type { Context } from './context.ts';
import { exportCommand } from './record/export.ts';
import { showCommand } from './record/show.ts';
import { suspectsCommand } from './record/suspects.ts';
import { trendCommand } from './record/trend.ts';
import { verifyCommand } from './record/verify.ts';

const EXAMPLES = `
Examples:
  holdfast record show --open              what is out of service, and why
  holdfast record verify                   is every line as it was written?`;

export function command(context: Context): Command {
  return new Command('record')
    .description('Reads the record: what was done, by whom, and whether it is as it was written.')
    .addCommand(showCommand(context))
    .addCommand(trendCommand(context))
    .addCommand(suspectsCommand(context))
    .addCommand(exportCommand(context))
    .addCommand(verifyCommand(context))
    .addHelpText('after', EXAMPLES);
}
