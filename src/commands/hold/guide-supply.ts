/** The guided test of a cylinder's high-pressure side. */
import type { Cylinder } from '../../inventory/inventory.ts';
import { formatNumber } from '../../quantity/format.ts';
import { parseSupplyPressure } from '../../quantity/parse.ts';
import { minutes, type Psi } from '../../quantity/units.ts';
import { judgeSupplyHold, type SupplyMark, type SupplySeen } from '../../record/judge-supply.ts';
import type { Terminal } from '../context.ts';
import type { Desk } from '../entering.ts';
import { Dialogue, notRecorded } from './dialogue.ts';

/**
 * Leads through the test until something can be judged and is confirmed.
 *
 * @throws Refusal `hold_interrupted` (exit 2) on Ctrl-C, or where the person does not confirm.
 */
export async function guideSupplyHold(
  desk: Desk,
  cylinder: Cylinder,
  mark: SupplyMark,
  terminal: Terminal,
): Promise<SupplySeen> {
  const talk = new Dialogue(desk.context, terminal);
  try {
    talk.say(`High-pressure side of ${cylinder.id}. Ctrl-C at any step: nothing is recorded.`);
    talk.say('');
    talk.say('1. All flowmeters off. Open the cylinder, then shut it again.', '  ', '     ');
    talk.say('2. Read the gauge, and leave everything alone while the time runs.', '  ', '     ');
    talk.say('');
    for (;;) {
      const fromPsi = await readGauge(talk, cylinder, 'at the start');
      await talk.ask('Press Enter to start the time.');
      const took = await talk.countdown(mark.minutes * 60);
      const toPsi = await readGauge(talk, cylinder, 'at the end');
      const seen: SupplySeen = { fromPsi, toPsi, minutes: minutes(took / 60) };
      const judgement = judgeSupplyHold(seen, mark, cylinder);
      if (judgement.outcome !== 'refused') {
        talk.say(`${judgement.outcome === 'pass' ? 'PASS' : 'FAIL'}: ${judgement.because}.`);
        if ((await talk.choose('Record this (yes, no):', ['yes', 'no'])) === 'no')
          throw notRecorded('not confirmed');
        desk.readClockAgain();
        return { ...seen, minutes: minutes(Number(formatNumber(seen.minutes, 3))) };
      }
      for (const { message, remedy } of judgement.problems)
        talk.say(`Not judged: ${message}. ${remedy}.`, '', '  ');
      talk.say('Once more, from the start.');
    }
  } finally {
    talk.close();
  }
}

/** A bare number is in the unit in which the practice reads this gauge. */
function readGauge(talk: Dialogue, { gaugeUnit }: Cylinder, when: string): Promise<Psi> {
  return talk.quantity(`Gauge ${when} (${gaugeUnit}):`, text =>
    parseSupplyPressure(/^[\d.]+$/.test(text) ? `${text}${gaugeUnit}` : text),
  );
}
