/** holdfast round: the checks of one round at one machine, read, done and signed off together. */
import { Argument, Command } from 'commander';
import { refuse } from '../problem/problem.ts';
import type { EntryDraft } from '../record/draft.ts';
import { itemName, otherWay, ROUND_WORDS, renderRound } from '../report/round-text.ts';
import { wrap } from '../report/text.ts';
import { ROUNDS, type Round, type RoundName, roundOf } from '../round/round.ts';
import type { Context } from './context.ts';
import { Desk, type Signed, type WritingOptions, writingOptions } from './entering.ts';
import { recordToRead } from './files.ts';
import { withWho } from './hold/ask-who.ts';
import { readValue } from './read-value.ts';
import { cautionReading } from './read-value-cautions.ts';
import { printText } from './record/opened.ts';
import { type AnswerOptions, type Answers, answersFromOptions, hasAnswers } from './round/answers.ts';
import { guideRound, notRecorded } from './round/guide.ts';

interface RoundOptions extends WritingOptions, AnswerOptions {
  readonly circuit?: readonly string[];
  readonly list?: boolean;
}

const EXAMPLES = `
On a terminal the round is asked; elsewhere --pass, --fail and --read answer it. What is not named is not done.
Exit code: 0 all done and passed, 1 something failed or is not done, 2 or 3 not recorded.

Examples:
  holdfast round opening theatre-1 --by "M. Quill"
  holdfast round opening theatre-1 --pass all --fail suction --by "M. Quill"`;

export function command(context: Context): Command {
  const round = new Command('round')
    .description('Goes through the checks of a round at a machine, and signs them off together.')
    .addArgument(new Argument('<round>', 'which round').choices([...ROUNDS]))
    .argument('<machine>', 'at which machine; its parts and its oxygen belong to it')
    .option('--circuit <id...>', 'the checks of these circuits too')
    .option('--pass <checks>', 'passed: all, or CHECK or CHECK:ASSET, parted by commas', collect)
    .option('--fail <checks>', 'failed: CHECK or CHECK:ASSET, parted by commas', collect)
    .option('--read <asset=value>', 'what a gauge or scale shows; repeat it', collect)
    .option('--list', 'print the list and record nothing')
    .action((name: RoundName, machine: string, options: RoundOptions) =>
      runRound(name, machine, options, context),
    );
  return writingOptions(round).addHelpText('after', EXAMPLES);
}

function collect(value: string, before: readonly string[] = []): readonly string[] {
  return [...before, ...value.split(',').filter(word => word !== '')];
}

async function runRound(
  name: RoundName,
  machineId: string,
  options: RoundOptions,
  context: Context,
): Promise<void> {
  const isAsked = !options.list && !hasAnswers(options);
  const named = isAsked ? await withWho(options, context, () => notRecorded('interrupted')) : options;
  const desk = new Desk(context, named);
  const machine = desk.oneOf(machineId, desk.inventory.machines, 'machine');
  const circuits = (options.circuit ?? []).flatMap(
    id => desk.oneOf(id, desk.inventory.circuits, 'circuit')?.id ?? [],
  );
  desk.ensureSound();
  if (machine === null) return;
  if (options.list) recordToRead(context, options, desk.inventory.file);
  const round = roundOf(desk.inventory, desk.standing, name, machine, circuits);
  if (options.list) {
    printText(desk.record, renderRound(round, desk.inventory.practice.name, context.width), context);
    if (desk.record.damage.length > 0) context.exitCode = 1;
    return;
  }
  const signed = desk.sign([machine]);
  desk.ensureSound();
  const answers = await answersFor(desk, round, options);
  const drafts = draftsOf(desk, answers, signed);
  desk.ensureSound();
  if (drafts.length > 0) await desk.writeAll(drafts, told(round, answers, context.width));
  else if (answers.some(({ answer }) => answer !== null)) context.out(told(round, answers, context.width));
  else refuseUnanswered(round);
  context.exitCode = answers.every(
    ({ answer }) => answer !== null && !('result' in answer && answer.result === 'fail'),
  )
    ? 0
    : 1;
}

/** @throws Refusal that names what would answer the round: options, or the tests that it cannot sign off. */
function refuseUnanswered({ items, machine }: Round): never {
  const ways = items.flatMap(item => otherWay(item, machine.id) ?? []);
  const own =
    ways.length === items.length
      ? ways.join('; ')
      : 'add --pass all, or --pass, --fail and --read for what was done';
  refuse('usage', 'nothing of this round was answered, so nothing is recorded', own);
}

async function answersFor(desk: Desk, round: Round, options: RoundOptions): Promise<Answers> {
  if (hasAnswers(options)) {
    const answers = answersFromOptions(desk, round, options);
    desk.ensureSound();
    return answers;
  }
  const { terminal } = desk.context;
  if (terminal !== null && !options.json) return guideRound(desk, round, terminal);
  refuse(
    'usage',
    'without a terminal the round cannot be asked',
    'add --pass all, or --pass, --fail and --read; or --list to see it',
  );
}

function draftsOf(desk: Desk, answers: Answers, { inventory, ...signed }: Signed): EntryDraft[] {
  return answers.flatMap(({ item: { asset, check }, answer }): EntryDraft[] => {
    if (answer === null || 'already' in answer) return [];
    if ('result' in answer) {
      return [
        { kind: 'sign_off', ...signed, asset: asset.id, check: check.id, result: answer.result, inventory },
      ];
    }
    const read = readValue(desk, asset, answer.reading);
    if (read === null) return [];
    cautionReading(desk, asset, read.figure, { isNew: false, on: signed.on });
    return [{ kind: 'reading', ...signed, asset: asset.id, ...read.figure, new: false, inventory }];
  });
}

/** What came of it, what failed first. */
function told(round: Round, answers: Answers, width: number): string {
  const failed = answers.filter(
    ({ answer }) => answer !== null && 'result' in answer && answer.result === 'fail',
  );
  const undone = answers.filter(({ answer }) => answer === null);
  const done = answers.length - failed.length - undone.length;
  const state = failed.length > 0 ? 'FAILED' : undone.length > 0 ? 'NOT COMPLETE' : 'PASSED';
  const lines = [
    `${state}: ${ROUND_WORDS[round.name].toLowerCase()} of ${round.machine.id}, ${done} of ${answers.length} as they should be.`,
  ];
  for (const { item } of failed) lines.push(wrap(`failed: ${itemName(item)}`, width, '  ', '    '));
  for (const { item } of undone) {
    const way = otherWay(item, round.machine.id);
    lines.push(wrap(`not done: ${itemName(item)}${way === null ? '' : `; ${way}`}`, width, '  ', '    '));
  }
  return `${lines.join('\n')}\n`;
}
