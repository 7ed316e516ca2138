/** `holdfast inventory check [FILE…]`: everything that is wrong with an inventory, or one line that says what is in it. */
import { Command } from 'commander';
import { todayIn } from '../../calendar/zone.ts';
import type { Inventory } from '../../inventory/inventory.ts';
import { loadInventory } from '../../inventory/load.ts';
import { type Problem, Refusal } from '../../problem/problem.ts';
import { safeJson, safeText } from '../../report/safe-text.ts';
import { counted } from '../../report/text.ts';
import type { Context } from '../context.ts';
import { inventoryFile, inventoryOption } from '../files.ts';

const EXAMPLES = `
Examples:
  holdfast inventory check                            the nearest inventory.yaml
  holdfast inventory check dublin.yaml cork.yaml      several at once`;

interface CheckOptions {
  readonly inventory?: string;
  readonly json?: boolean;
}

export function checkCommand(context: Context): Command {
  return inventoryOption(new Command('check'))
    .summary('is the inventory in order?')
    .description(
      'Says everything that is wrong with an inventory, on its own lines. Exit code 0: in order, 2: not.',
    )
    .argument('[files...]', 'inventories; else the one that --inventory or the folder means')
    .option('--json', 'print JSON')
    .addHelpText('after', EXAMPLES)
    .action((files: string[], options: CheckOptions) => {
      checkFiles(
        files.length > 0 ? files : [inventoryFile(context, options)],
        options.json ?? false,
        context,
      );
    });
}

/** Prints what is in order to stdout, and throws what is not. @throws Refusal with the problems of all files. */
function checkFiles(files: readonly string[], json: boolean, context: Context): void {
  const now = context.now();
  const sound: Inventory[] = [];
  const problems: Problem[] = [];
  for (const file of files) {
    const loaded = loadInventory(file, zone => todayIn(zone, now));
    if (loaded.ok) sound.push(loaded.inventory);
    else problems.push(...loaded.problems);
  }
  if (!json) context.out(sound.map(renderSound).join(''));
  else if (problems.length === 0) context.out(renderJson(sound));
  if (problems.length > 0) throw new Refusal(problems);
}

function renderSound(inventory: Inventory): string {
  const { machines, circuits, bags, supplies, checks } = countsOf(inventory);
  const counts = [
    counted(machines, 'machine'),
    counted(circuits, 'circuit'),
    counted(bags, 'bag'),
    counted(supplies, 'oxygen supply', 'oxygen supplies'),
    counted(checks, 'check'),
  ];
  const { file, practice, unfinishedLines } = inventory;
  const left =
    unfinishedLines === 0
      ? ''
      : `${counted(unfinishedLines, 'line')} still marked CHECK: read each off the equipment.\n`;
  return `${safeText(file)}: in order. ${safeText(practice.name)}: ${counts.join(', ')}.\n${left}`;
}

function renderJson(sound: readonly Inventory[]): string {
  const inventories = sound.map(inventory => ({
    file: inventory.file,
    blob: inventory.blob,
    practice: inventory.practice.name,
    counts: countsOf(inventory),
  }));
  return `${safeJson({ format: 'holdfast.inventory-check/1', inventories }, 2)}\n`;
}

function countsOf({ machines, circuits, bags, supplies, checks }: Inventory) {
  return {
    machines: machines.length,
    circuits: circuits.length,
    bags: bags.reduce((sum, { count }) => sum + count, 0),
    supplies: supplies.length,
    checks: checks.length,
  };
}
