/** The guided leak test of a pair: steps, countdown, end reading, pop-off, summary, confirmation. Nothing is written here. */
import { stepsFor } from '../../plan/steps.ts';
import { isAbove, isAtLeast } from '../../quantity/compare.ts';
import { formatNumber } from '../../quantity/format.ts';
import { parseCircuitPressure, parseFlow } from '../../quantity/parse.ts';
import { type CmH2O, seconds } from '../../quantity/units.ts';
import { type HoldSeen, type Judgement, judgeHold } from '../../record/judge.ts';
import { renderVerdict } from '../../report/hold-text.ts';
import type { Terminal } from '../context.ts';
import type { Desk } from '../entering.ts';
import { Dialogue, notRecorded } from './dialogue.ts';
import type { Pair } from './pair.ts';

export interface Guided {
  readonly seen: HoldSeen;
  readonly judgement: Judgement;
}

/**
 * Leads through the test until something can be judged and is confirmed.
 *
 * @throws Refusal `hold_interrupted` (exit 2) on Ctrl-C, or where the person does not confirm.
 */
export async function guidePairHold(desk: Desk, pair: Pair, terminal: Terminal): Promise<Guided> {
  const talk = new Dialogue(desk.context, terminal);
  try {
    showSteps(talk, desk, pair);
    for (;;) {
      const seen = await watch(talk, pair);
      const judgement = judgeHold(seen, pair.mark);
      if (judgement.outcome !== 'refused') {
        await confirm(talk, pair, { seen, judgement });
        desk.readClockAgain();
        return { seen, judgement };
      }
      for (const { message, remedy } of judgement.problems)
        talk.say(`Not judged: ${message}. ${remedy}.`, '', '  ');
      talk.say('Once more, from the start.');
    }
  } finally {
    talk.close();
  }
}

function showSteps(talk: Dialogue, desk: Desk, { circuit, machine }: Pair): void {
  const { connect, hold } = stepsFor(machine, circuit, desk.inventory.rules);
  talk.say(`Leak test of ${circuit.id} on ${machine.id}. Ctrl-C at any step: nothing is recorded.`);
  for (const [title, steps] of [
    ['Connect', connect],
    ['Hold', hold],
  ] as const) {
    talk.say('');
    talk.say(title);
    for (const [i, step] of steps.entries()) talk.say(`${i + 1}. ${step}`, '  ', '     ');
  }
  talk.say('');
}

async function watch(talk: Dialogue, { mark }: Pair): Promise<HoldSeen> {
  const seen = mark.gauge ? await watchGauge(talk, mark) : await watchBag(talk, mark.seconds);
  talk.say(
    'Now open the pop-off, with the end still blocked, and see the pressure fall to zero or the bag empty.',
  );
  talk.say(
    'open: it fell to zero. shut: the pop-off is still shut. stuck: it was opened, and the pressure stayed.',
    '  ',
  );
  const popOff = await talk.choose('Pop-off (open, shut, stuck):', ['open', 'shut', 'stuck']);
  return { ...seen, popOff };
}

async function watchGauge(talk: Dialogue, mark: Pair['mark']): Promise<Omit<HoldSeen, 'popOff'>> {
  const wanted = `${formatNumber(mark.pressureCmH2O)} cmH2O`;
  talk.say(`Fill to ${wanted} or a little above, shut all flow, and read the gauge.`);
  const from = await talk.quantity('Pressure at the start (cmH2O):', parseCircuitPressure);
  if (!isAtLeast(from, mark.pressureCmH2O))
    talk.say(
      `That is below ${wanted}. If it does not go higher, go on: the test fails. Else Ctrl-C, and fill again.`,
      '  ',
    );
  await talk.ask('Press Enter to start the time.');
  const took = seconds(await talk.countdown(mark.seconds));
  const to = await talk.quantity('Pressure at the end (cmH2O):', parseCircuitPressure);
  const fall = { fromCmH2O: from, toCmH2O: to, seconds: took };
  // A rise is refused by the judgement, and the test begins again.
  if (!isAbove(from - to, mark.dropCmH2O) || !isAtLeast(from, mark.pressureCmH2O)) return { fall };
  return { fall, ...(await askMakeUp(talk, mark.pressureCmH2O, mark.makeUpMlPerMin)) };
}

/** After a fall the make-up flow decides, where somebody measures it. */
async function askMakeUp(talk: Dialogue, wanted: CmH2O, most: number): Promise<Pick<HoldSeen, 'makeUp'>> {
  talk.say(
    `It fell. The make-up flow decides: find the flow that holds ${formatNumber(wanted)} cmH2O or more steady; up to ${formatNumber(most)} mL/min passes.`,
  );
  if ((await talk.choose('Did you measure it (yes, no):', ['yes', 'no'])) === 'no') return {};
  const flowMlPerMin = await talk.quantity('Make-up flow (such as 150mL/min):', parseFlow);
  const atCmH2O = await talk.quantity('At what pressure (cmH2O):', parseCircuitPressure);
  return { makeUp: { flowMlPerMin, atCmH2O } };
}

async function watchBag(talk: Dialogue, neededS: number): Promise<Omit<HoldSeen, 'popOff'>> {
  talk.say('No gauge shows the pressure of this pair: fill until the bag is taut, then shut all flow.');
  await talk.ask('Press Enter to start the time.');
  const took = seconds(await talk.countdown(neededS));
  const steady = (await talk.choose('Did the bag stay taut (yes, no):', ['yes', 'no'])) === 'yes';
  return { taut: { steady, seconds: took } };
}

async function confirm(
  talk: Dialogue,
  { circuit, machine }: Pair,
  { seen, judgement }: Guided,
): Promise<void> {
  if (judgement.outcome === 'refused') return;
  const popOff = seen.popOff ?? 'shut';
  talk.say('');
  for (const line of renderVerdict(
    { circuit, machine, judgement, popOff, leak: undefined, compliance: null },
    talk.width,
  )
    .trimEnd()
    .split('\n'))
    talk.say(line);
  const answer = await talk.choose('Record this (yes, no):', ['yes', 'no']);
  if (answer === 'no') throw notRecorded('not confirmed');
}
