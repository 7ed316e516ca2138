/** `holdfast reading`: what a cylinder's gauge or a canister's scale shows. */
import { Command } from 'commander';
import type { Asset, Cylinder } from '../inventory/inventory.ts';
import { isAbove } from '../quantity/compare.ts';
import { formatGauge, formatNumber } from '../quantity/format.ts';
import { parseMass, parseSupplyPressure } from '../quantity/parse.ts';
import { highestReadingPsi } from '../record/reading-limits.ts';
import type { Context } from './context.ts';
import { Desk, type WritingOptions, writingOptions } from './entering.ts';

interface ReadingOptions extends WritingOptions {
  readonly new?: boolean;
}

const EXAMPLES = `
A cylinder is read in psi or bar, a charcoal canister is weighed in g or kg; the unit is always written.
--new begins a fresh cylinder or canister: the baseline from which its use is counted.

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
  const told = `READ: ${assetId} ${read.shown}${isNew ? ', a fresh one' : ''}.\n`;
  await desk.write(
    { kind: 'reading', ...signed, asset: assetId, ...read.figure, new: isNew, inventory },
    told,
  );
}

interface Read {
  readonly figure: { psi: number } | { g: number };
  readonly shown: string;
}

function readValue(desk: Desk, asset: Asset, text: string): Read | null {
  if (asset.type === 'supply' && asset.kind === 'cylinder') return readGauge(desk, asset, text);
  if (asset.type === 'scavenging' && asset.kind === 'charcoal') return readScale(desk, asset.id, text);
  desk.problem(
    'asset_kind',
    `${asset.id} has neither a gauge nor a weight to read`,
    'name a cylinder or a charcoal canister',
  );
  return null;
}

function readGauge(desk: Desk, cylinder: Cylinder, text: string): Read | null {
  if (parseMass(text).ok) {
    desk.problem(
      'reading_unit',
      `${cylinder.id} is a cylinder, and '${text}' is a mass`,
      'write it as 1450psi or 100bar',
    );
    return null;
  }
  const psi = desk.quantity(cylinder.id, text, parseSupplyPressure);
  if (psi === undefined) return null;
  const highest = highestReadingPsi(cylinder);
  const shown = formatGauge(psi, cylinder.gaugeUnit);
  if (isAbove(psi, highest)) {
    const message = `${shown} is above ${formatGauge(highest, cylinder.gaugeUnit)}, 1.3 times what ${cylinder.id} reads when full`;
    desk.problem('reading_out_of_range', message, 'read the gauge again, and mind the unit');
  }
  return { figure: { psi }, shown };
}

/** The scale of a canister: heavier than this is no canister. */
const HEAVIEST_G = 100_000;

function readScale(desk: Desk, id: string, text: string): Read | null {
  if (parseSupplyPressure(text).ok) {
    desk.problem(
      'reading_unit',
      `${id} is a charcoal canister, and '${text}' is a pressure`,
      'weigh it, and write it as 812g',
    );
    return null;
  }
  const g = desk.quantity(id, text, parseMass);
  if (g === undefined) return null;
  if (g <= 0) desk.problem('entry_value', `${id}: a canister weighs more than nothing`, 'weigh it again');
  desk.within(id, g, 0, HEAVIEST_G, 'g');
  return { figure: { g }, shown: `${formatNumber(g)} g` };
}
