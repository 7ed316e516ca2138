/** What of a hold counts, and how it is called. */
import type { HoldEntry } from '../generated/entry.ts';
import { hasGauge, type Inventory } from '../inventory/inventory.ts';

/** Whether a hold is a pass that counts: with the pop-off left shut it is recorded as a pass and counts for nothing. */
export function isCountingPass({ result, pop_off }: HoldEntry): boolean {
  return result === 'pass' && pop_off === 'open';
}

/** Whether a gauge was read at a hold, or the flow that makes up for a leak measured. */
export function isMeasured({ fall, make_up }: HoldEntry): boolean {
  return fall !== undefined || make_up !== undefined;
}

/** Whether a hold is a pass that acquits: a taut bag shows a leak late or not at all, so where there is a gauge it proves nothing. */
export function isProof(entry: HoldEntry, { circuits, machines }: Inventory): boolean {
  if (!isCountingPass(entry) || isMeasured(entry)) return isCountingPass(entry);
  const circuit = circuits.find(({ id }) => id === entry.circuit);
  const machine = machines.find(({ id }) => id === entry.machine);
  return circuit === undefined || machine === undefined || !hasGauge(circuit, machine);
}

const REASON_WORDS: Readonly<Record<HoldEntry['reason'], string>> = {
  held: 'the pressure or the taut bag held',
  make_up_within: 'the make-up flow was within the limit',
  pressure_not_reached: 'the pressure could not be reached',
  make_up_above: 'the make-up flow was above the limit',
  fell: 'the pressure fell',
  went_slack: 'the bag went slack',
  pop_off_stuck: 'the pop-off was stuck',
};

/** What decided a hold, in words. @example holdReasonWords('fell') //=> 'the pressure fell' */
export function holdReasonWords(reason: HoldEntry['reason']): string {
  return REASON_WORDS[reason];
}
