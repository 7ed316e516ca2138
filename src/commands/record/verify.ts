/** `holdfast record verify`: every line of the record, checked anew. Needs no inventory where the record is named. */
import { Command } from 'commander';
import { refuse } from '../../problem/problem.ts';
import { stateFolder } from '../../record/head.ts';
import { type GivenHead, verifyRecord } from '../../record/verify.ts';
import { printCautions } from '../../report/cautions.ts';
import { renderVerify, renderVerifyJson } from '../../report/verify.ts';
import type { Context } from '../context.ts';
import { type FileOptions, inventoryFile, inventoryOption, recordFolder, recordOption } from '../files.ts';

const EXAMPLES = `
Examples:
  holdfast record verify
  holdfast record verify --record /srv/clinic/record --json
  holdfast record verify --head prep=3f0c…       the head that an earlier report printed

Exit code 0: as it was written, 1: damage found, 3: it cannot be read.`;

interface VerifyCommandOptions extends FileOptions {
  readonly head: readonly string[];
  readonly json?: boolean;
}

export function verifyCommand(context: Context): Command {
  const command = new Command('verify')
    .summary('is every line as it was written?')
    .description(
      'Reads every line of the record, checks that each follows the one before, and that the last ones seen here are ' +
        'still there. Names file, line and byte of what is not as it was written.',
    )
    .option('--head <[station=]hash>', 'a head that must be in the record; may be repeated', addHead, [])
    .option('--json', 'print JSON')
    .addHelpText('after', EXAMPLES)
    .action((options: VerifyCommandOptions) => verify(options, context));
  return recordOption(inventoryOption(command));
}

function verify(options: VerifyCommandOptions, context: Context): void {
  const heads = options.head.map(readHead);
  const verified = verifyRecord(folderOf(options, context), { stateDir: stateFolder(context.env), heads });
  if (options.json) context.out(renderVerifyJson(verified));
  else {
    printCautions(verified.cautions, context);
    context.out(renderVerify(verified, context));
  }
  if (verified.damage.length > 0) context.exitCode = 1;
}

/** Asks for an inventory only where the record lies beside it. */
function folderOf(options: FileOptions, context: Context): string {
  const isNamed = Boolean(options.record || context.env.HOLDFAST_RECORD);
  return recordFolder(context, options, isNamed ? '' : inventoryFile(context, options));
}

function addHead(head: string, others: readonly string[]): readonly string[] {
  return [...others, head];
}

function readHead(text: string): GivenHead {
  const [, station = null, head] = /^(?:([a-z0-9][a-z0-9-]{0,39})=)?([0-9a-f]{64})$/.exec(text.trim()) ?? [];
  if (head !== undefined) return { station, head };
  return refuse(
    'option_value',
    `--head ${text} is no head`,
    'write the 64 digits that a report printed, or STATION= and these',
  );
}
