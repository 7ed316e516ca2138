/** What commander refuses → problems in plain words: what is missing, by its name, and an example that works. */
import type { Argument, Command, CommanderError, Option } from 'commander';
import { didYouMean, nearest } from '../problem/nearest.ts';
import { type Problem, problem, Refusal } from '../problem/problem.ts';

/**
 * The refusal for an error of commander's.
 *
 * @param command - the command that was meant, as far down as the words go: the program itself, `record`, or `record show`.
 * @param names - the commands there are, where the program itself was meant.
 */
export function usageRefusal(error: CommanderError, command: Command, names: readonly string[]): Refusal {
  return new Refusal(problemsOf(error, command, names));
}

function problemsOf(error: CommanderError, command: Command, names: readonly string[]): Problem[] {
  const message = error.message.replace(/^error: /, '').split('\n')[0] ?? '';
  switch (error.code) {
    case 'commander.unknownCommand':
      return [unknownCommand(quotedIn(message), command, names)];
    // A group without a subcommand: commander would print its help, as an error.
    case 'commander.help': {
      const inner = command.commands.map(one => one.name());
      const remedy = `one of: ${inner.join(', ')}; see holdfast help ${pathOf(command)}`;
      return [problem('usage', `${pathOf(command)} wants a subcommand`, remedy)];
    }
    case 'commander.invalidArgument':
      return [wrongChoice(message, command)];
    case 'commander.missingArgument':
    case 'commander.missingMandatoryOptionValue':
      // Commander stops at the first; whoever mends one would be told of the next.
      return [...wrongChoicesAmong(command), missing(command)];
    case 'commander.optionMissingArgument': {
      const remedy = `write it as ${asTyped(quotedIn(message))}; see holdfast help ${pathOf(command)}`;
      return [problem('usage', `${longFlag(quotedIn(message))} wants a value behind it`, remedy)];
    }
    case 'commander.excessArguments': {
      const extra = command.args.slice(command.registeredArguments.length).map(word => `'${word}'`);
      return [
        problem('usage', `more words than ${pathOf(command)} takes: ${extra.join(', ')}`, help(command)),
      ];
    }
    default: {
      const suggestion = /\n\(Did you mean (.*)\?\)$/.exec(error.message)?.[1];
      const remedy = suggestion === undefined ? help(command) : `did you mean ${suggestion}?`;
      return [problem('usage', message, remedy)];
    }
  }
}

function unknownCommand(unknown: string, command: Command, names: readonly string[]): Problem {
  const isTop = command.parent === null;
  const known = isTop ? names : command.commands.map(inner => inner.name());
  const whole = isTop ? unknown : `${pathOf(command)} ${unknown}`;
  return problem('usage', `there is no command '${whole}'`, didYouMean(unknown, known));
}

/** Commander names the option by its flags, or the argument by its name. */
function wrongChoice(message: string, command: Command): Problem {
  const [, flags, forOption = ''] = /^option '([^']*)' argument '([\s\S]*)' is invalid/.exec(message) ?? [];
  const option = command.options.find(one => one.flags === flags);
  if (option?.argChoices !== undefined) {
    return notAChoice(`${longFlag(option.flags)} does not take '${forOption}'`, forOption, option.argChoices);
  }
  const [first] = wrongChoicesAmong(command);
  return first ?? problem('option_value', message, help(command));
}

function notAChoice(message: string, value: string, choices: readonly string[]): Problem {
  const near = nearest(value, choices);
  const hint = near === null ? '' : `did you mean '${near}'? `;
  return problem('option_value', message, `${hint}use one of ${choices.join(', ')}`);
}

/** Words that stand where they belong and are wrong, while others are missing. */
function wrongChoicesAmong(command: Command): Problem[] {
  return command.registeredArguments.flatMap((argument, i) => {
    const value = command.args[i];
    const { argChoices } = argument;
    if (value === undefined || argChoices === undefined || argChoices.includes(value)) return [];
    return [notAChoice(`there is no ${argument.name()} '${value}'`, value, argChoices)];
  });
}

function missing(command: Command): Problem {
  const words = command.registeredArguments.filter((one, i) => one.required && command.args[i] === undefined);
  const options = command.options.filter(
    one => one.mandatory && command.getOptionValue(one.attributeName()) === undefined,
  );
  const named = [...words.map(argumentWords), ...options.map(optionWords)];
  return problem('usage', `missing: ${named.join('; ')}`, help(command));
}

function argumentWords(argument: Argument): string {
  return withMeaning(argument.name().toUpperCase(), argument.description);
}

function optionWords(option: Option): string {
  return withMeaning(asTyped(option.flags), option.description);
}

function withMeaning(name: string, meaning: string): string {
  return meaning === '' ? name : `${name} (${meaning.replaceAll(';', ',')})`;
}

/** @example asTyped('-c, --circuit <id...>') //=> '--circuit ID' */
function asTyped(flags: string): string {
  return flags
    .replace(/^-\w, /, '')
    .replace(/<([^<>]*)>/g, (_, name: string) => name.replace('...', '').toUpperCase());
}

function longFlag(flags: string): string {
  return asTyped(flags).split(' ')[0] ?? flags;
}

function quotedIn(message: string): string {
  return /'([\s\S]*)'/.exec(message)?.[1] ?? '';
}

/** The command's own first example, and where there are more. */
function help(command: Command): string {
  const example = firstExample(command);
  const page = command.parent === null ? 'holdfast help' : `holdfast help ${pathOf(command)}`;
  return example === null ? `see ${page}` : `for example: ${example}; see ${page}`;
}

/** The first line below "Examples:" in the help of a command that can be typed, without what is said beside it. */
function firstExample(command: Command): string | null {
  let text = '';
  command.configureOutput({ writeOut: part => (text += part) });
  command.outputHelp();
  const [, examples] = text.split(/^Examples:$/m);
  const line = examples?.split('\n').find(one => /^\s+holdfast /.test(one));
  return line?.trim().split(/ {2,}/)[0] ?? null;
}

/** @example pathOf(recordShow) //=> 'record show' */
function pathOf(command: Command): string {
  const above = command.parent;
  if (above === null) return command.name();
  return above.parent === null ? command.name() : `${pathOf(above)} ${command.name()}`;
}
