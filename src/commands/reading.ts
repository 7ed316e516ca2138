/** `holdfast reading`: what a cylinder's gauge or a canister's scale shows. */
import { Command } from 'commander';
import type { Context } from './context.ts';
import { Desk, type WritingOptions, writingOptions } from './entering.ts';
import { readValue } from './read-value.ts';
import { cautionReading } from './read-value-cautions.ts';

interface ReadingOptions extends WritingOptions {
  readonly new?: boolean;
}

const EXAMPLES = `
A cylinder is read in psi or bar, a charcoal canister is weighed in g or kg; the
unit is always written.
--new begins a fresh cylinder or canister: the baseline from which its use is
counted.

Examples:
  holdfast reading ward-e-1 1450psi --by "M. Quill"
  holdfast reading theatre-1-charcoal 812g --new --by "M. Quill"`;

export function command(context: Context): Command {
  const reading = new Command('reading')
    .description("Records what a cylinder's gauge or a charcoal canister's scale shows.")
    .argument('<asset>', 'the cylinder or canister')
    .argument('<value>', 'what it shows, with its unit: 1450psi, 100bar, 812g')
    .option('--new', 'it is a fresh one')
    .action((asset: string, value: string, options: ReadingOptions) =>
      runReading(asset, value, options, context),
    );
  return writingOptions(reading).addHelpText('after', EXAMPLES);
}

async function runReading(
  assetId: string,
  value: string,
  options: ReadingOptions,
  context: Context,
): Promise<void> {
  const desk = new Desk(context, options);
  const asset = desk.asset(assetId);
  const read = asset === null ? null : readValue(desk, asset, value);
  const { inventory, ...signed } = desk.sign([asset]);
  desk.ensureSound();
  // Without a problem there is a value.
  if (read === null) return;
  const isNew = options.new ?? false;
  if (asset !== null) cautionReading(desk, asset, read.figure, { isNew, on: signed.on });
  const told = `READ: ${assetId} ${read.shown}${isNew ? ', a fresh one' : ''}.\n`;
  await desk.write(
    { kind: 'reading', ...signed, asset: assetId, ...read.figure, new: isNew, inventory },
    told,
  );
}
