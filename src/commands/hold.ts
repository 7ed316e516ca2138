/** `holdfast hold` (also `leak-test`): judge a leak test and record it; guided where nothing was measured yet. */
import { Command, Option } from 'commander';
import { problem, Refusal } from '../problem/problem.ts';
import type { Context } from './context.ts';
import { Desk, type WritingOptions, writingOptions } from './entering.ts';
import { isMeasured } from './hold/options.ts';
import { findPair, runPairHold } from './hold/pair.ts';
import { runSupplyHold } from './hold/supply.ts';

export interface HoldOptions extends WritingOptions {
  readonly machine?: string;
  readonly supply?: string;
  readonly from?: string;
  readonly to?: string;
  readonly seconds?: string;
  readonly minutes?: string;
  readonly steady?: boolean;
  readonly slack?: boolean;
  readonly makeUp?: string;
  readonly atPressure?: string;
  readonly popOff?: 'open' | 'shut' | 'stuck';
  readonly bag?: string;
  readonly case?: string;
}

const EXAMPLES = `
With none of what was measured, and on a terminal, it guides you through the
test of this very pair.
A bare pressure is cmH2O. --pop-off open: opened with the end still blocked, and
the pressure seen to fall to zero.
Exit code: 0 passed, 1 failed or the pop-off left shut, 2 or 3 not recorded.

Examples:
  holdfast hold bain-1 --machine theatre-1 --by "M. Quill"                          guided
  holdfast hold bain-1 --machine theatre-1 --from 20 --to 20 --seconds 10 --pop-off open --by "M. Quill"
  holdfast hold t-piece-1 --machine theatre-1 --steady --seconds 30 --pop-off open --by "M. Quill"
  holdfast hold y-piece-1 --machine dental --make-up 150mL/min --at-pressure 30 --pop-off open --by "M. Quill"
  holdfast hold --supply ward-e-1 --from 1500psi --to 1460psi --minutes 5 --by "M. Quill"`;

export function command(context: Context): Command {
  const hold = new Command('hold')
    .description(
      'Judges a leak test of a circuit on a machine, or of the high-pressure side of a cylinder, and records it.',
    )
    .argument('[circuit]', 'the circuit')
    .option('--machine <id>', 'the machine')
    .option('--from <pressure>', 'by gauge: the pressure at the start')
    .option('--to <pressure>', 'by gauge: the pressure at the end')
    .option('--seconds <s>', 'how long it was watched')
    .option('--steady', 'without a gauge: the bag stayed taut')
    .option('--slack', 'without a gauge: the bag went slack')
    .option('--make-up <flow>', 'the flow that keeps the pressure steady; it decides')
    .option('--at-pressure <pressure>', 'the pressure that it keeps')
    .addOption(
      new Option('--pop-off <state>', 'what became of the pop-off after the test').choices([
        'open',
        'shut',
        'stuck',
      ]),
    )
    .option('--bag <size or id>', 'the bag that hung on it: 1L, or its id')
    .option('--case <ref>', "the practice's own reference of the case")
    .option(
      '--supply <cylinder>',
      'test the high-pressure side of this cylinder, shut; with --from, --to, --minutes',
    )
    .option('--minutes <n>', 'with --supply: how long the gauge was watched')
    .action((circuit: string | undefined, options: HoldOptions) => runHold(circuit, options, context));
  return writingOptions(hold).addHelpText('after', EXAMPLES);
}

async function runHold(circuitId: string | undefined, options: HoldOptions, context: Context): Promise<void> {
  if (options.supply !== undefined) {
    refuseTogether(circuitId, options);
    return runSupplyHold(new Desk(context, options), options.supply, options);
  }
  if (circuitId === undefined || options.machine === undefined) {
    const missing = [
      circuitId === undefined ? 'CIRCUIT' : null,
      options.machine === undefined ? '--machine ID' : null,
    ];
    const message = `missing: ${missing.filter(Boolean).join(' and ')}`;
    throw new Refusal([
      problem(
        'usage',
        message,
        'name the pair, as in: holdfast hold bain-1 --machine theatre-1; or a cylinder with --supply',
      ),
    ]);
  }
  if (options.minutes !== undefined) {
    throw new Refusal([
      problem('options_clash', '--minutes goes with --supply', 'of a circuit give --seconds'),
    ]);
  }
  const named = isMeasured(options) ? options : await nameAsked(options, context);
  const desk = new Desk(context, named, { timeNeeded: true });
  return runPairHold(desk, findPair(desk, circuitId, options.machine), named);
}

/** Loaded when somebody is to be asked: what reads a terminal takes some milliseconds. */
async function nameAsked(options: HoldOptions, context: Context): Promise<HoldOptions> {
  const { withWho } = await import('./hold/ask-who.ts');
  return withWho(options, context);
}

const OF_PAIRS = [
  'machine',
  'seconds',
  'steady',
  'slack',
  'makeUp',
  'atPressure',
  'popOff',
  'bag',
  'case',
] as const;

function refuseTogether(circuitId: string | undefined, options: HoldOptions): void {
  const given = OF_PAIRS.filter(key => options[key] !== undefined).map(
    key => `--${key.replace(/[A-Z]/g, letter => `-${letter.toLowerCase()}`)}`,
  );
  if (circuitId !== undefined) given.unshift(circuitId);
  if (given.length === 0) return;
  throw new Refusal([
    problem(
      'options_clash',
      `--supply does not go with ${given.join(', ')}`,
      'a cylinder is tested by --from, --to and --minutes alone',
    ),
  ]);
}
