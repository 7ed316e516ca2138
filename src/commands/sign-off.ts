/** `holdfast sign-off`: a check that was done, or that failed. */
import { Command } from 'commander';
import type { Asset, Check } from '../inventory/inventory.ts';
import { didYouMean } from '../problem/nearest.ts';
import { POP_OFF_CHECK } from '../record/pop-off.ts';
import type { Context } from './context.ts';
import { Desk, type WritingOptions, writingOptions } from './entering.ts';

interface SignOffOptions extends WritingOptions {
  readonly failed?: boolean;
}

const EXAMPLES = `
pop-off-open is always there for a circuit: it answers a leak test after which
the pop-off was left shut.
Exit code: 0 passed, 1 signed off as failed, 2 or 3 not recorded.

Examples:
  holdfast sign-off theatre-1-absorber absorbent-change --by "M. Quill"
  holdfast sign-off bain-1 inner-tube --failed --note "float did not dip" --by "M. Quill"`;

export function command(context: Context): Command {
  const signOff = new Command('sign-off')
    .description('Records a check as done, or as failed.')
    .argument('<asset>', 'what was checked')
    .argument('<check>', 'the check, as the inventory names it')
    .option('--failed', 'it did not pass')
    .action((asset: string, check: string, options: SignOffOptions) =>
      runSignOff(asset, check, options, context),
    );
  return writingOptions(signOff).addHelpText('after', EXAMPLES);
}

async function runSignOff(
  assetId: string,
  checkId: string,
  options: SignOffOptions,
  context: Context,
): Promise<void> {
  const desk = new Desk(context, options);
  const asset = desk.asset(assetId);
  if (asset !== null) lookForCheck(desk, asset, checkId);
  const result = options.failed ? 'fail' : 'pass';
  const told = options.failed ? `FAILED: ${checkId} of ${assetId}.\n` : `PASSED: ${checkId} of ${assetId}.\n`;
  const { inventory, ...signed } = desk.sign([asset]);
  await desk.write({ kind: 'sign_off', ...signed, asset: assetId, check: checkId, result, inventory }, told);
  context.exitCode = options.failed ? 1 : 0;
}

/** A check that is answered by a hold or a reading is not signed off: that would go round its judgement. */
function lookForCheck(desk: Desk, asset: Asset, checkId: string): void {
  if (checkId === POP_OFF_CHECK) {
    if (asset.type === 'circuit') return;
    const circuits = desk.inventory.circuits.map(({ id }) => id).join(', ');
    desk.problem(
      'asset_kind',
      `${checkId} is signed off on the circuit that was tested, and ${asset.id} is none`,
      `circuits: ${circuits}`,
    );
    return;
  }
  const { checks } = desk.inventory;
  const check = checks.find(({ id }) => id === checkId);
  const ofAsset = checks.filter(({ assets }) => assets.includes(asset.id)).map(({ id }) => id);
  const known = asset.type === 'circuit' ? [...ofAsset, POP_OFF_CHECK] : ofAsset;
  if (check === undefined) {
    desk.problem('check_unknown', `the inventory has no check '${checkId}'`, didYouMean(checkId, known));
  } else if (!check.assets.includes(asset.id)) {
    desk.problem('check_unknown', `${checkId} does not apply to ${asset.id}`, didYouMean(checkId, known));
  } else if (check.doneBy !== 'sign_off') {
    desk.problem(
      'check_by_other_means',
      `${checkId} is done by ${OTHER_MEANS[check.doneBy].what}`,
      `enter it with ${OTHER_MEANS[check.doneBy].command(asset.id)}`,
    );
  }
}

const OTHER_MEANS: Readonly<
  Record<Exclude<Check['doneBy'], 'sign_off'>, { what: string; command(asset: string): string }>
> = {
  hold: { what: 'a leak test', command: id => `holdfast hold ${id} --machine ID` },
  supply_hold: { what: 'a high-pressure test', command: id => `holdfast hold --supply ${id}` },
  reading: { what: 'a reading', command: id => `holdfast reading ${id} VALUE` },
};
