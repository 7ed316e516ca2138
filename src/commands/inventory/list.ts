/** `holdfast inventory list`: what there is, with its key figures. */
import { Command } from 'commander';
import type { Inventory } from '../../inventory/inventory.ts';
import { RESERVED_WORDS, selectAssets } from '../../inventory/select.ts';
import { didYouMean } from '../../problem/nearest.ts';
import { refuse } from '../../problem/problem.ts';
import {
  LISTED,
  type Listed,
  type Meant,
  renderInventoryList,
  renderInventoryListJson,
} from '../../report/inventory-list.ts';
import type { Context } from '../context.ts';
import { inventoryOption, openInventory } from '../files.ts';

/** The sorts that are listed whole, and the words by which checks select. */
const KINDS: readonly string[] = [...new Set([...LISTED, ...RESERVED_WORDS])];

const EXAMPLES = `
Examples:
  holdfast inventory list                   all there is
  holdfast inventory list --kind cylinder   the oxygen cylinders`;

interface ListOptions {
  readonly inventory?: string;
  readonly kind?: string;
  readonly json?: boolean;
}

export function listCommand(context: Context): Command {
  return inventoryOption(new Command('list'))
    .summary('what there is, as tables')
    .description('Prints what the inventory holds, with its key figures.')
    .option('--kind <kind>', `only these: ${KINDS.join(', ')}`)
    .option('--json', 'print JSON')
    .addHelpText('after', EXAMPLES)
    .action((options: ListOptions) => {
      const inventory = readInventory(context, options);
      const { sorts, isMeant } = selection(inventory, options.kind);
      context.out(
        options.json
          ? renderInventoryListJson(inventory, sorts, isMeant)
          : renderInventoryList(inventory, sorts, isMeant, context.width) ||
              `no ${options.kind} in the inventory\n`,
      );
    });
}

/** A mistyped kind is said before the inventory is read. */
function readInventory(context: Context, { kind, ...files }: ListOptions): Inventory {
  if (kind !== undefined && !KINDS.includes(kind)) {
    refuse('option_value', `there is no kind '${kind}'`, didYouMean(kind, KINDS));
  }
  return openInventory(context, files);
}

function selection(
  inventory: Inventory,
  kind: string | undefined,
): { sorts: readonly Listed[]; isMeant: Meant } {
  const sort = LISTED.find(listed => listed === kind);
  if (kind === undefined || sort !== undefined)
    return { sorts: sort === undefined ? LISTED : [sort], isMeant: () => true };
  const paths = new Set(selectAssets([kind], inventory.assets.values()).map(({ path }) => path));
  return { sorts: LISTED, isMeant: path => paths.has(path) };
}
