/**
 * argv → the subcommand that is meant → its exit code. Only that subcommand's module is evaluated, so that a plan does not
 * pay for a chart.
 */
import { Command, CommanderError } from 'commander';
import { problem, Refusal } from '../problem/problem.ts';
import { didYouMean } from '../problem/nearest.ts';
import { VERSION } from '../version.ts';
import { COMMANDS } from './commands.ts';
import type { Context, ExitCode } from './context.ts';

/** Runs one command line. Never throws for what a person can cause; what is left is a bug, and says so (exit 4). */
export async function run(argv: readonly string[], context: Context): Promise<ExitCode> {
  const json = argv.includes('--json');
  try {
    await dispatch(argv, context);
    return context.exitCode;
  } catch (error) {
    if (error instanceof CommanderError && error.exitCode === 0) return 0;
    const refusal = error instanceof CommanderError ? usageRefusal(error) : error;
    if (refusal instanceof Refusal) {
      // Loaded here alone: measuring display width costs some milliseconds that a plan need not pay.
      const { printProblems } = await import('../report/problems.ts');
      printProblems(refusal.problems, { context, json });
      return refusal.exitCode;
    }
    printBug(refusal, context);
    return 4;
  }
}

async function dispatch(argv: readonly string[], context: Context): Promise<void> {
  const name = argv.find(word => !word.startsWith('-'));
  const program = await buildProgram(context, name === 'help' ? argv[argv.indexOf('help') + 1] : name);
  if (argv.length === 0) {
    context.err(program.helpInformation());
    context.exitCode = 2;
    return;
  }
  await program.parseAsync(argv, { from: 'user' });
}

/** The command tree; only the subcommand named is loaded in full, the others stand with their summary. */
async function buildProgram(context: Context, name: string | undefined): Promise<Command> {
  const program = new Command('holdfast')
    .description("Plans a small-animal anaesthesia case from the practice's own equipment, records leak tests, and says what is overdue.")
    .version(VERSION, '--version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .helpCommand('help [command]', 'print the help of a command')
    .option('--no-color', 'print without colour')
    .addHelpText('after', EXAMPLES);
  for (const { name: own, summary, load } of COMMANDS) {
    const command = own === name ? (await load()).command(context) : new Command(own);
    program.addCommand(command.summary(summary));
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

function usageRefusal(error: CommanderError): Refusal {
  const message = error.message.replace(/^error: /, '').split('\n')[0] ?? '';
  if (error.code === 'commander.unknownCommand') {
    const unknown = /'(.*)'/.exec(message)?.[1] ?? '';
    const names = COMMANDS.map(({ name }) => name);
    return new Refusal([problem('usage', `there is no command '${unknown}'`, didYouMean(unknown, names))]);
  }
  const suggestion = /\(Did you mean (.*)\?\)/.exec(error.message)?.[1];
  const remedy = suggestion === undefined ? 'see holdfast help, or the help of the command' : `did you mean ${suggestion}?`;
  return new Refusal([problem('usage', message, remedy)]);
}

function printBug(error: unknown, context: Context): void {
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  context.err(
    `holdfast ${VERSION}: a fault in the program itself (internal).\n` +
      'Do not rely on anything printed above. Please report what you typed and these lines:\n' +
      `${detail}\n`,
  );
}

const EXAMPLES = `
Examples:
  holdfast plan 6.8kg --species dog        a case from its weight
  holdfast inventory check inventory.yaml  is the inventory in order?`;
