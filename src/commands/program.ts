/** The command tree, as commander wants it. */
import { Command } from 'commander';
import { VERSION } from '../version.ts';
import { COMMANDS, type CommandEntry } from './commands.ts';
import type { Context } from './context.ts';

/**
 * The program with its subcommands. Those that are not wanted stand with their summary alone, since loading them all costs
 * more than most commands do.
 */
export async function buildProgram(
  context: Context,
  isWanted: (entry: CommandEntry) => boolean,
): Promise<Command> {
  const program = new Command('holdfast')
    .description(
      "Plans a small-animal anaesthesia case from the practice's own equipment, records leak tests, and says what is overdue.",
    )
    .version(VERSION, '--version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .helpCommand('help [command]', 'print the help of a command')
    .option('--no-color', 'print without colour')
    .addHelpText('after', EXAMPLES);
  for (const entry of COMMANDS) {
    const command = isWanted(entry) ? (await entry.load()).command(context) : new Command(entry.name);
    program.addCommand(command.summary(entry.summary), { hidden: entry.hidden ?? false });
  }
  quiet(program, context);
  return program;
}

/** Makes commander throw instead of exiting, and print where the context says. */
function quiet(command: Command, context: Context): void {
  command
    .exitOverride()
    .configureHelp({ helpWidth: context.width, showGlobalOptions: false })
    .configureOutput({
      writeOut: text => context.out(text),
      writeErr: () => {},
      outputError: () => {},
      getOutHelpWidth: () => context.width,
      getErrHelpWidth: () => context.width,
    });
  for (const inner of command.commands) quiet(inner, context);
}

const EXAMPLES = `
Examples:
  holdfast plan 6.8kg --species dog        a case from its weight
  holdfast inventory check inventory.yaml  is the inventory in order?`;
