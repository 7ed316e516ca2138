/**
 * What may stand at the end of a half-typed command line: subcommands, options, values, and the ids of the inventory in
 * reach. One answer for all shells, from the command tree itself.
 */
import type { Argument, Command, Option } from 'commander';
import type { Inventory } from '../../inventory/inventory.ts';

export interface Candidate {
  readonly value: string;
  /** What it is, in a few words; may be empty. */
  readonly about: string;
}

/** What the shell itself completes better than we do. */
export type Completion =
  | { readonly candidates: readonly Candidate[] }
  | { readonly files: 'any' | 'folders' };

/**
 * @param words the words behind `holdfast`, the last one half-typed (it may be empty)
 * @param openInventory reads the inventory in reach; null where there is none or it has problems
 * @example completeWords(program, ['plan', '--spe'], …) //=> { candidates: [{ value: '--species', about: 'the species' }] }
 */
export function completeWords(
  program: Command,
  words: readonly string[],
  openInventory: (file: string | undefined) => Inventory | null,
): Completion {
  const partial = words.at(-1) ?? '';
  const at = walk(program, words.slice(0, -1));
  const values = (parameter: Parameter): Completion => valuesOf(parameter, at.words, openInventory);
  if (at.option !== null) return startingWith(values(at.option), partial);
  if (partial.startsWith('-') && !at.onlyArguments)
    return startingWith({ candidates: optionsOf(at.command) }, partial);
  const subcommands = at.arguments === 0 ? subcommandsOf(at.command) : [];
  if (subcommands.length > 0) return startingWith({ candidates: subcommands }, partial);
  const argument = argumentAt(at.command, at.arguments);
  return argument === null ? { candidates: [] } : startingWith(values(argument), partial);
}

type Parameter = Argument | Option;

interface Position {
  readonly command: Command;
  /** The option whose value comes next. */
  readonly option: Option | null;
  /** How many arguments of the command stand already. */
  readonly arguments: number;
  /** Whether `--` was typed. */
  readonly onlyArguments: boolean;
  readonly words: readonly string[];
}

/** Reads the finished words from left to right. */
function walk(program: Command, words: readonly string[]): Position {
  let command = program;
  let option: Option | null = null;
  let count = 0;
  let onlyArguments = false;
  for (const word of words) {
    if (option !== null) option = null;
    else if (word === '--') onlyArguments = true;
    else if (word.startsWith('-') && !onlyArguments) {
      const named = command.options.find(one => one.short === word || one.long === word);
      option = named !== undefined && (named.required || named.optional) ? named : null;
    } else {
      const inner: Command | undefined =
        count === 0
          ? command.commands.find(one => one.name() === word || one.aliases().includes(word))
          : undefined;
      if (inner === undefined) count += 1;
      else command = inner;
    }
  }
  return { command, option, arguments: count, onlyArguments, words };
}

function argumentAt(command: Command, index: number): Argument | null {
  const known = command.registeredArguments;
  const last = known.at(-1);
  return known[index] ?? (last?.variadic ? last : null);
}

function subcommandsOf(command: Command): Candidate[] {
  return command
    .createHelp()
    .visibleCommands(command)
    .map(inner => ({ value: inner.name(), about: inner.summary() || firstSentence(inner.description()) }));
}

function optionsOf(command: Command): Candidate[] {
  return command
    .createHelp()
    .visibleOptions(command)
    .map(option => ({ value: option.long ?? option.flags, about: option.description }));
}

function firstSentence(text: string): string {
  return text.split(/[.:](?:\s|$)/)[0] ?? '';
}

function startingWith(completion: Completion, partial: string): Completion {
  if ('files' in completion) return completion;
  return { candidates: completion.candidates.filter(({ value }) => value.startsWith(partial)) };
}

/** The values of an option or argument: its choices, else by what its name says it takes. */
function valuesOf(
  parameter: Parameter,
  words: readonly string[],
  openInventory: (file: string | undefined) => Inventory | null,
): Completion {
  const choices = parameter.argChoices;
  if (choices !== undefined) return { candidates: choices.map(value => ({ value, about: '' })) };
  const name = takes(parameter);
  if (name === 'file') return { files: 'any' };
  if (name === 'dir') return { files: 'folders' };
  const ids = IDS[name];
  if (ids === undefined) return { candidates: [] };
  const inventory = openInventory(valueOfOption(words, '--inventory'));
  return { candidates: inventory === null ? [] : ids(inventory) };
}

/** The placeholder's name; `--machine <id>` takes a machine. */
function takes(parameter: Parameter): string {
  const placeholder =
    'flags' in parameter ? (/[<[]([^>\].]+)/.exec(parameter.flags)?.[1] ?? '') : parameter.name();
  const named = placeholder === 'id' && 'flags' in parameter ? parameter.attributeName() : placeholder;
  return named.toLowerCase();
}

/** The value that was typed for an option, as one word or with =. */
function valueOfOption(words: readonly string[], option: string): string | undefined {
  const joined = words.find(word => word.startsWith(`${option}=`));
  if (joined !== undefined) return joined.slice(option.length + 1);
  const at = words.indexOf(option);
  return at === -1 ? undefined : words[at + 1];
}

const IDS: Readonly<Record<string, (inventory: Inventory) => Candidate[]>> = {
  circuit: ({ circuits }) => circuits.map(({ id, kind }) => ({ value: id, about: kind })),
  machine: ({ machines }) =>
    machines.map(({ id, location }) => ({ value: id, about: location ?? 'machine' })),
  asset: ({ assets }) => [...assets.values()].map(({ id, type }) => ({ value: id, about: type })),
  check: ({ checks }) => checks.map(({ id, text }) => ({ value: id, about: text ?? '' })),
  supply: ({ supplies }) => supplies.map(({ id, kind }) => ({ value: id, about: kind })),
  cylinder: ({ supplies }) =>
    supplies.filter(({ kind }) => kind === 'cylinder').map(({ id }) => ({ value: id, about: 'cylinder' })),
};
