/** `holdfast correct`: cancel an earlier entry. Nothing is deleted. */
import { Command } from 'commander';
import { nearest } from '../problem/nearest.ts';
import { cancelledIds } from '../record/cancelled.ts';
import { entryWords } from '../report/entry-words.ts';
import type { Context } from './context.ts';
import { Desk, TEXT_LIMITS, type WritingOptions, writingOptions } from './entering.ts';

interface CorrectOptions extends WritingOptions {
  readonly because: string;
}

const EXAMPLES = `
The entry stays in the record and counts no longer. Enter what is right as a new
one.

Examples:
  holdfast correct 20261125-081403127-7q2k9d --because "was on dental" --by "M. Quill"
  holdfast record show --since 2026-11-25     to find the id`;

export function command(context: Context): Command {
  const correct = new Command('correct')
    .description('Cancels an earlier entry, which stays in the record and counts no longer.')
    .argument('<entry>', 'the id of the entry')
    .requiredOption('--because <text>', 'why')
    .action((entry: string, options: CorrectOptions) => runCorrect(entry, options, context));
  return writingOptions(correct).addHelpText('after', EXAMPLES);
}

async function runCorrect(entryId: string, options: CorrectOptions, context: Context): Promise<void> {
  const desk = new Desk(context, options);
  const { entries } = desk.record;
  const target = entries.find(({ id }) => id === entryId);
  if (target === undefined) {
    const near = nearest(
      entryId,
      entries.map(({ id }) => id),
    );
    const remedy = near === null ? 'take the id from holdfast record show' : `did you mean '${near}'?`;
    desk.problem('entry_unknown', `the record has no entry '${entryId}'`, remedy);
  } else if (target.kind === 'correct') {
    desk.problem(
      'entry_not_correctable',
      `${entryId} is a correction itself`,
      `enter anew what ${target.entry} said`,
    );
  } else if (cancelledIds(entries).has(entryId) && !desk.isRetry) {
    desk.problem('entry_not_correctable', `${entryId} was cancelled already`, 'nothing to do');
  }
  const because = desk.text('--because', options.because, TEXT_LIMITS.because);
  const { inventory, ...signed } = desk.sign([]);
  const told = `CANCELLED: ${target === undefined ? entryId : entryWords(target, desk.inventory)}.\n`;
  await desk.write({ kind: 'correct', ...signed, entry: entryId, because, inventory }, told);
}
