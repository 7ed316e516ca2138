/**
 * argv → the subcommand that is meant → its exit code. Only that subcommand's module is evaluated, so that a plan does not
 * pay for a chart.
 */
import { type Command, CommanderError } from 'commander';
import { Refusal } from '../problem/problem.ts';
import { VERSION } from '../version.ts';
import { COMMANDS } from './commands.ts';
import type { Context, ExitCode } from './context.ts';
import { buildProgram } from './program.ts';

/** Runs one command line. Never throws for what a person can cause; what is left is a bug, and says so (exit 4). */
export async function run(argv: readonly string[], context: Context): Promise<ExitCode> {
  const json = asksForJson(argv);
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

/** Whoever reads the answer by a program reads what is refused by it too. */
function asksForJson(argv: readonly string[]): boolean {
  if (argv.includes('--json')) return true;
  // Of several formats the last one holds.
  const last = argv.findLastIndex(word => word === '--format' || word.startsWith('--format='));
  return argv[last] === '--format=json' || (argv[last] === '--format' && argv[last + 1] === 'json');
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
    // Loaded here alone, like the printer above: who types it right need not wait for it.
    const { usageRefusal } = await import('./usage-errors.ts');
    throw usageRefusal(
      error,
      meant(program, argv),
      COMMANDS.map(command => command.name),
    );
  }
}

/** `help record show` as `record show --help`: commander's own help command knows one level only. */
function asOption(words: readonly string[]): readonly string[] {
  const name = words.find(word => !word.startsWith('-'));
  // With --help commander would print the help of the whole for a command that there is not, as if all were well.
  const isUnknown = name !== undefined && !COMMANDS.some(command => command.name === name);
  return isUnknown ? words : [...words, '--help'];
}

/** The command that the words mean, as far down as they go. */
function meant(program: Command, words: readonly string[]): Command {
  const [name, ...rest] = words.filter(word => !word.startsWith('-'));
  const inner = program.commands.find(command => command.name() === name);
  return inner === undefined ? program : meant(inner, rest);
}

function printBug(error: unknown, context: Context): void {
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  context.err(
    `holdfast ${VERSION}: a fault in the program itself (internal).\n` +
      'Do not rely on anything printed above. Please report what you typed and these lines:\n' +
      `${detail}\n`,
  );
}
