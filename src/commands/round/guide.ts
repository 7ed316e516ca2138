/** A round on a terminal: read the list, then one key for everything as it should be, or one by one. */
import { problem, Refusal } from '../../problem/problem.ts';
import { itemName, otherWay, renderRound } from '../../report/round-text.ts';
import type { Round, RoundItem } from '../../round/round.ts';
import type { Terminal } from '../context.ts';
import type { Desk } from '../entering.ts';
import { Dialogue } from '../hold/dialogue.ts';
import { readValue } from '../read-value.ts';
import { type Answer, type Answers, doneAlready } from './answers.ts';

/** @throws Refusal `round_interrupted` (exit 2) on Ctrl-C, or where the person does not confirm. */
export async function guideRound(desk: Desk, round: Round, terminal: Terminal): Promise<Answers> {
  const talk = new Dialogue(desk.context, terminal, () => notRecorded('interrupted'));
  try {
    for (const line of renderRound(round, desk.inventory.practice.name, talk.width).trimEnd().split('\n'))
      talk.say(line);
    talk.say('');
    talk.say('Ctrl-C at any step: nothing is recorded.');
    const question = 'All as it should be (all), or one by one (each):';
    const way = round.items.some(({ check }) => check.doneBy === 'sign_off')
      ? await talk.choose(question, ['all', 'each'])
      : 'all';
    const answers: { item: RoundItem; answer: Answer }[] = [];
    for (const item of round.items)
      answers.push({ item, answer: await answerFor(desk, talk, item, way, round) });
    showSummary(talk, answers);
    if ((await talk.choose('Record this (yes, no):', ['yes', 'no'])) === 'no')
      throw notRecorded('not confirmed');
    desk.readClockAgain();
    return answers;
  } finally {
    talk.close();
  }
}

async function answerFor(
  desk: Desk,
  talk: Dialogue,
  item: RoundItem,
  way: 'all' | 'each',
  round: Round,
): Promise<Answer> {
  if (item.check.doneBy === 'reading') return askReading(desk, talk, item);
  if (item.check.doneBy !== 'sign_off') {
    const already = doneAlready(item, desk.today);
    if (already !== null) return already;
    talk.say(`${itemName(item)}: do it with ${otherWay(item, round.machine.id)}`);
    return null;
  }
  if (way === 'all') return { result: 'pass' };
  const said = await talk.choose(`${itemName(item)} (pass, fail, skip):`, ['pass', 'fail', 'skip']);
  return said === 'skip' ? null : { result: said };
}

async function askReading(desk: Desk, talk: Dialogue, { asset }: RoundItem): Promise<Answer> {
  for (;;) {
    const text = await talk.ask(`${asset.id} shows (Enter: not read):`);
    if (text === '') return null;
    const before = desk.problems.length;
    readValue(desk, asset, text);
    const found = desk.problems.splice(before);
    if (found.length === 0) return { reading: text };
    for (const { message, remedy } of found) talk.say(`${message}: ${remedy}.`, '  ');
  }
}

function showSummary(talk: Dialogue, answers: Answers): void {
  const with_ = (wanted: 'pass' | 'fail') =>
    answers.filter(({ answer }) => answer !== null && 'result' in answer && answer.result === wanted);
  const names = (list: Answers) => list.map(({ item }) => itemName(item)).join(', ');
  const failed = with_('fail');
  const undone = answers.filter(({ answer }) => answer === null);
  talk.say('');
  talk.say(
    `${failed.length === 0 ? 'Nothing failed' : `FAILED: ${names(failed)}`}. Passed: ${with_('pass').length}.`,
  );
  for (const { item, answer } of answers)
    if (answer !== null && 'reading' in answer) talk.say(`${item.asset.id}: ${answer.reading}`, '  ');
  if (undone.length > 0) talk.say(`Not done: ${names(undone)}`, '', '  ');
}

export function notRecorded(why: string): Refusal {
  return new Refusal([
    problem('round_interrupted', `${why}: nothing was recorded`, 'start the round again when ready'),
  ]);
}
