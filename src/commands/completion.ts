/** holdfast completion SHELL: the script for a shell, and behind it the answers that the script asks for. */
import { Argument, Command } from 'commander';
import { todayIn } from '../calendar/zone.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { loadInventory } from '../inventory/load.ts';
import { Refusal } from '../problem/problem.ts';
import { completionScript, FILES_MARK, FOLDERS_MARK, SHELLS, type Shell } from '../report/shell-scripts.ts';
import { type Completion, completeWords } from './completion/candidates.ts';
import type { Context } from './context.ts';
import { inventoryFile } from './files.ts';
import { buildProgram } from './program.ts';

const EXAMPLES = `
Examples:
  eval "$(holdfast completion bash)"      in ~/.bashrc
  holdfast completion fish | source       in ~/.config/fish/config.fish`;

export function command(context: Context): Command {
  const completion = new Command('completion')
    .description(
      'Prints what teaches a shell to complete holdfast: commands, options, and the ids of the inventory in reach.',
    )
    .addArgument(new Argument('<shell>', 'the shell').choices([...SHELLS]))
    .addHelpText('after', EXAMPLES)
    .action((shell: Shell) => context.out(completionScript(shell)));
  completion
    .command('words', { hidden: true })
    .argument('[words...]', 'the words of the command line behind holdfast, the last one half-typed')
    .allowUnknownOption()
    .action(async (words: string[]) => {
      const program = await buildProgram(context, () => true);
      context.out(printed(completeWords(program, words, file => openQuietly(context, file))));
    });
  return completion;
}

/** A line for each candidate, its meaning behind a tab. */
function printed(completion: Completion): string {
  if ('files' in completion) return `${completion.files === 'any' ? FILES_MARK : FOLDERS_MARK}\n`;
  return completion.candidates
    .map(({ value, about }) => `${value}\t${about.replace(/\s+/g, ' ')}\n`)
    .join('');
}

/** Pressing Tab is no time for complaints: without a sound inventory there are no ids to offer. */
function openQuietly(context: Context, file: string | undefined): Inventory | null {
  const now = context.now();
  try {
    const loaded = loadInventory(inventoryFile(context, { inventory: file }), zone => todayIn(zone, now));
    return loaded.ok ? loaded.inventory : null;
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}
