/** `holdfast return`: put back in service what was withdrawn. */
import { Command } from 'commander';
import type { Asset } from '../inventory/inventory.ts';
import { nearest } from '../problem/nearest.ts';
import type { Context } from './context.ts';
import { Desk, type WritingOptions, writingOptions } from './entering.ts';

const EXAMPLES = `
A circuit or machine that comes back needs a new leak test.

Examples:
  holdfast return bain-1 --by "M. Quill" --note "inner tube replaced"
  holdfast return theatre-1 --on 2026-11-24T17:30 --by "M. Quill"`;

export function command(context: Context): Command {
  const giveBack = new Command('return')
    .description('Puts something back in service.')
    .argument('<asset>', 'what comes back')
    .action((asset: string, options: WritingOptions) => runReturn(asset, options, context));
  return writingOptions(giveBack).addHelpText('after', EXAMPLES);
}

async function runReturn(assetId: string, options: WritingOptions, context: Context): Promise<void> {
  const desk = new Desk(context, options);
  const asset = desk.asset(assetId);
  const { assets } = desk.standing;
  const withdrawn = assets.get(assetId)?.withdrawn ?? null;
  if (asset !== null && withdrawn === null && !desk.isRetry) {
    const out = [...assets.values()].filter(one => one.withdrawn !== null).map(({ id }) => id);
    const near = nearest(assetId, out);
    const remedy =
      near !== null
        ? `did you mean '${near}'?`
        : out.length === 0
          ? 'nothing is withdrawn'
          : `withdrawn: ${out.join(', ')}`;
    desk.problem('not_withdrawn', `${assetId} was not withdrawn`, remedy);
  }
  const { inventory, ...signed } = desk.sign([asset]);
  if (withdrawn !== null && !desk.isRetry && desk.comesBefore(signed.on, withdrawn.done)) {
    const message = `${assetId} was withdrawn after that, on ${withdrawn.done.on}, and would stay withdrawn`;
    desk.problem('not_withdrawn', message, 'give the time at which it came back');
  }
  const isTested = asset?.type === 'circuit' || asset?.type === 'machine';
  const isInRound = desk.inventory.checks.some(
    ({ round, assets }) => round !== null && assets.includes(assetId),
  );
  const asked = [
    ...(isTested ? [' It needs a new leak test before a patient.'] : []),
    ...(isInRound ? [` Let a round look at it first: holdfast round opening ${machineOf(asset)}.`] : []),
  ];
  const told = `BACK IN SERVICE: ${assetId}.${asked.map(text => `\n ${text}`).join('')}\n`;
  await desk.write({ kind: 'return', ...signed, asset: assetId, inventory }, told);
}

/** The machine whose round looks at an asset; a circuit and a supply may be on several. */
function machineOf(asset: Asset | null): string {
  if (asset?.type === 'machine') return asset.id;
  return asset !== null && 'machine' in asset ? asset.machine : 'MACHINE';
}
