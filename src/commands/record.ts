/** `holdfast record …`: what was done, and whether it is as it was written. A file per subcommand in record/. */
import { Command } from 'commander';
import type { Context } from './context.ts';
import { verifyCommand } from './record/verify.ts';

const EXAMPLES = `
Examples:
  holdfast record verify                   is every line as it was written?`;

export function command(context: Context): Command {
  return new Command('record')
    .description('Reads the record: what was done, by whom, and whether it is as it was written.')
    .addCommand(verifyCommand(context))
    .addHelpText('after', EXAMPLES);
}
