/** holdfast hook: the git hook that checks inventory and record before each commit. */
import { Command } from 'commander';
import { HOOK_SCRIPT } from '../report/hook-script.ts';
import type { Context } from './context.ts';

const EXAMPLES = `
Examples:
  holdfast hook > .git/hooks/pre-commit && chmod +x .git/hooks/pre-commit
  holdfast hook | sh       try it on what is staged now`;

export function command(context: Context): Command {
  return new Command('hook')
    .description('Prints a hook for git that checks the inventory and the record before each commit.')
    .addHelpText('after', EXAMPLES)
    .action(() => context.out(HOOK_SCRIPT));
}
