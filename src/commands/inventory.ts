/** `holdfast inventory …`: check, list or start the inventory. */
import { Command } from 'commander';
import type { Context } from './context.ts';
import { checkCommand } from './inventory/check.ts';
import { listCommand } from './inventory/list.ts';
import { newCommand } from './inventory/new.ts';

const EXAMPLES = `
Examples:
  holdfast inventory check inventory.yaml   is it in order?
  holdfast inventory list --kind circuit    the circuits with their figures`;

export function command(context: Context): Command {
  return new Command('inventory')
    .description('Checks, lists or starts the inventory: the one file in which a practice says what it owns.')
    .addCommand(checkCommand(context))
    .addCommand(listCommand(context))
    .addCommand(newCommand(context))
    .addHelpText('after', EXAMPLES);
}
