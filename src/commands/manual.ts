/** holdfast manual: the manual page. */
import { Command } from 'commander';
import { renderManual } from '../report/manual.ts';
import { VERSION } from '../version.ts';
import type { Context } from './context.ts';
import { buildProgram } from './program.ts';

const EXAMPLES = `
Examples:
  holdfast manual | man -l -
  holdfast manual > ~/.local/share/man/man1/holdfast.1`;

export function command(context: Context): Command {
  return new Command('manual')
    .description('Prints the manual page of all commands, for man.')
    .addHelpText('after', EXAMPLES)
    .action(async () => {
      const program = await buildProgram(context, () => true);
      context.out(
        renderManual(program, { version: VERSION, date: context.now().toISOString().slice(0, 10) }),
      );
    });
}
