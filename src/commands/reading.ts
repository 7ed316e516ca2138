/** `holdfast reading`: what a cylinder's gauge or a canister's scale shows. */
import { Command } from 'commander';
import type { Asset } from '../inventory/inventory.ts';
import { formatGauge, formatNumber } from '../quantity/format.ts';
import type { Context } from './context.ts';
import { Desk, type WritingOptions, writingOptions } from './entering.ts';
import { type Read, readValue } from './read-value.ts';

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
  if (asset !== null && !isNew) lookForFreshOne(desk, asset, read.figure);
  const told = `READ: ${assetId} ${read.shown}${isNew ? ', a fresh one' : ''}.\n`;
  await desk.write(
    { kind: 'reading', ...signed, asset: assetId, ...read.figure, new: isNew, inventory },
    told,
  );
}

/** A gauge may rise by this share of full from the warmth of a room. */
const WARMTH = 0.1;

/** A cylinder fuller, or a canister lighter, than it was: somebody may have changed it and left --new out. */
function lookForFreshOne(desk: Desk, asset: Asset, figure: Read['figure']): void {
  const readings = desk.standing.assets.get(asset.id)?.readings ?? [];
  const say = (message: string) =>
    desk.caution(
      'fresh_one_unsaid',
      message,
      'if it is a fresh one, cancel this entry with holdfast correct and enter it with --new',
    );
  if ('psi' in figure && asset.type === 'supply' && asset.kind === 'cylinder') {
    const before = readings.findLast(({ psi }) => psi !== null);
    if (before?.psi == null || figure.psi <= before.psi + WARMTH * asset.fullPsi) return;
    say(
      `${asset.id} read ${formatGauge(before.psi, asset.gaugeUnit)} on ${before.done.date}, and is fuller now`,
    );
  } else if ('g' in figure) {
    const fresh = readings.findLast(({ g, isNew }) => g !== null && isNew);
    if (fresh?.g == null || figure.g >= fresh.g) return;
    say(
      `${asset.id} weighed ${formatNumber(fresh.g)} g when it was fresh, on ${fresh.done.date}, and is lighter now`,
    );
  }
}
