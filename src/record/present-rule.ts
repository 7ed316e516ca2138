/** Whether an earlier pass would be one by the rule as the inventory has it now. Pure. */
import type { HoldEntry } from '../generated/entry.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { formatNumber } from '../quantity/format.ts';
import { cmH2O, mlPerMin, seconds } from '../quantity/units.ts';
import { type HoldSeen, judgeHold } from './judge.ts';

/**
 * Judges what was seen at a hold once more, by the present rule for this kind of circuit.
 *
 * @returns why it is not enough, in words; null: it is, or the circuit has left the inventory.
 * @example shortOfPresentRule(entry, inventory) //=> 'the rule is now 30 cmH2O for 20 s, which the leak test did not reach'
 */
export function shortOfPresentRule(entry: HoldEntry, { circuits, rules }: Inventory): string | null {
  const kind = circuits.find(({ id }) => id === entry.circuit)?.kind;
  if (kind === undefined) return null;
  const { pressureCmH2O, seconds: time, dropCmH2O, makeUpMlPerMin } = rules.leakHold[kind];
  const mark = {
    pressureCmH2O: pressureCmH2O.value,
    seconds: (entry.taut === undefined ? time : rules.leakHold.withoutGaugeSeconds).value,
    dropCmH2O: dropCmH2O.value,
    makeUpMlPerMin: makeUpMlPerMin.value,
    // Whether there is one still is another question.
    gauge: true,
  };
  if (judgeHold(seenAt(entry), mark).outcome === 'pass') return null;
  const held = `${formatNumber(mark.pressureCmH2O)} cmH2O for ${formatNumber(mark.seconds)} s`;
  return `the rule is now ${held}, which the leak test did not reach`;
}

function seenAt({ fall, taut, make_up, pop_off }: HoldEntry): HoldSeen {
  return {
    fall: fall && {
      fromCmH2O: cmH2O(fall.from_cmh2o),
      toCmH2O: cmH2O(fall.to_cmh2o),
      seconds: seconds(fall.seconds),
    },
    taut: taut && { steady: taut.steady, seconds: seconds(taut.seconds) },
    makeUp: make_up && { flowMlPerMin: mlPerMin(make_up.flow_ml_min), atCmH2O: cmH2O(make_up.at_cmh2o) },
    popOff: pop_off,
  };
}
