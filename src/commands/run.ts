/**
 * argv → the subcommand that is meant → its exit code. Only that subcommand's module is evaluated, so that a plan does not
 * pay for a chart.
 */
import { type Command, CommanderError } from 'commander';
import { didYouMean } from '../problem/nearest.ts';
import { problem, Refusal } from '../problem/problem.ts';
import { VERSION } from '../version.ts';
import { COMMANDS } from './commands.ts';
import type { Context, ExitCode } from './context.ts';
import { buildProgram } from './program.ts';

/** Runs one command line. Never throws for what a person can cause; what is left is a bug, and says so (exit 4). */
export async function run(argv: readonly string[], context: Context): Promise<ExitCode> {
  const json = argv.includes('--json');
  try {
    await dispatch(argv, context);
    return context.exitCode;
  } catch (error) {
    if (error instanceof CommanderError && error.exitCode === 0) return 0;
    if (error instanceof Refusal) {
      // Loaded here alone: measuring display width costs some milliseconds that a plan need not pay.
      const { printProblems } = await import('../report/problems.ts');
      printProblems(error.problems, { context, json });
      return error.exitCode;
    }
    printBug(error, context);
    return 4;
  }
}

async function dispatch(given: readonly string[], context: Context): Promise<void> {
  const argv = given[0] === 'help' && given.length > 1 ? asOption(given.slice(1)) : given;
  const name = argv.find(word => !word.startsWith('-'));
  const program = await buildProgram(context, entry => entry.name === name);
  if (argv.length === 0) {
    context.err(program.helpInformation());
    context.exitCode = 2;
    return;
  }
  try {
    await program.parseAsync(argv, { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError) || error.exitCode === 0) throw error;
    const group = program.commands.find(command => command.name() === name && command.commands.length > 0);
    throw usageRefusal(error, group ?? program);
  }
}

/** `help record show` as `record show --help`: commander's own help command knows one level only. */
function asOption(words: readonly string[]): readonly string[] {
  const name = words.find(word => !word.startsWith('-'));
  // With --help commander would print the help of the whole for a command that there is not, as if all were well.
  const isUnknown = name !== undefined && !COMMANDS.some(command => command.name === name);
  return isUnknown ? words : [...words, '--help'];
}

/** @param group the command whose subcommand was meant: the program itself, or one such as `record`. */
function usageRefusal(error: CommanderError, group: Command): Refusal {
  const names =
    group.parent === null ? COMMANDS.map(({ name }) => name) : group.commands.map(inner => inner.name());
  const message = error.message.replace(/^error: /, '').split('\n')[0] ?? '';
  if (error.code === 'commander.unknownCommand') {
    const unknown = /'(.*)'/.exec(message)?.[1] ?? '';
    const whole = group.parent === null ? unknown : `${group.name()} ${unknown}`;
    return new Refusal([problem('usage', `there is no command '${whole}'`, didYouMean(unknown, names))]);
  }
  // A group without a subcommand: commander would print its help, as an error.
  if (error.code === 'commander.help') {
    const wants = `${group.name()} wants a subcommand`;
    return new Refusal([
      problem('usage', wants, `one of: ${names.join(', ')}; see holdfast help ${group.name()}`),
    ]);
  }
  if (error.code === 'commander.invalidArgument') {
    const [wrong = message, choices] = message.split(' Allowed choices are ');
    const remedy =
      choices === undefined ? 'see the help of the command' : `use one of ${choices.replace(/\.$/, '')}`;
    return new Refusal([problem('option_value', wrong.replace(/\.$/, ''), remedy)]);
  }
  const suggestion = /\n\(Did you mean (.*)\?\)$/.exec(error.message)?.[1];
  const remedy =
    suggestion === undefined
      ? 'see holdfast help, or the help of the command'
      : `did you mean ${suggestion}?`;
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
