/** `holdfast withdraw`: take something out of service. */
import { Command } from 'commander';
import { safeText } from '../report/safe-text.ts';
import type { Context } from './context.ts';
import { Desk, TEXT_LIMITS, type WritingOptions, writingOptions } from './entering.ts';

interface WithdrawOptions extends WritingOptions {
  readonly because: string;
}

const EXAMPLES = `
Plans pass it over from now on, and say why. holdfast return puts it back.

Examples:
  holdfast withdraw bain-1 --because "inner tube loose at the machine end" --by "M. Quill"
  holdfast withdraw ward-e-1 --because "regulator hisses" --on 2026-11-24 --by "M. Quill"`;

export function command(context: Context): Command {
  const withdraw = new Command('withdraw')
    .description('Takes something out of service.')
    .argument('<asset>', 'what is withdrawn')
    .requiredOption('--because <text>', 'why')
    .action((asset: string, options: WithdrawOptions) => runWithdraw(asset, options, context));
  return writingOptions(withdraw).addHelpText('after', EXAMPLES);
}

async function runWithdraw(assetId: string, options: WithdrawOptions, context: Context): Promise<void> {
  const desk = new Desk(context, options);
  const asset = desk.asset(assetId);
  const because = desk.text('--because', options.because, TEXT_LIMITS.because);
  const withdrawn = desk.standing.assets.get(assetId)?.withdrawn;
  if (asset !== null && withdrawn != null && !desk.isRetry) {
    const message = `${assetId} is out of service since ${withdrawn.done.date} (${withdrawn.done.by}): ${withdrawn.because}`;
    desk.problem(
      'already_withdrawn',
      message,
      'nothing to do; to change the reason, return it and withdraw it again',
    );
  }
  const { inventory, ...signed } = desk.sign([asset]);
  const returned = desk.standing.assets.get(assetId)?.returned ?? null;
  const isOver = returned !== null && !desk.isRetry && desk.comesBefore(signed.on, returned);
  if (isOver) {
    const message = `${assetId} was returned after that, on ${returned.on}: it stays in service`;
    desk.caution('overtaken_since', message, 'to take it out now, withdraw it without --on');
  }
  const told = `${isOver ? 'ENTERED, NOT WITHDRAWN NOW' : 'WITHDRAWN'}: ${assetId}. ${safeText(because)}\n`;
  await desk.write({ kind: 'withdraw', ...signed, asset: assetId, because, inventory }, told);
}
