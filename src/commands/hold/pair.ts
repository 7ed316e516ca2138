/** A leak test of a circuit on a machine: options or guide → judgement → entry. */
import { type Circuit, driveOf, type Machine } from '../../inventory/inventory.ts';
import { leakHoldFor } from '../../plan/leak-hold.ts';
import { ml } from '../../quantity/units.ts';
import { type HoldMark, type HoldSeen, type Judgement, judgeHold } from '../../record/judge.ts';
import { type Compliance, complianceOfPair, leakOfHold } from '../../record/leak.ts';
import { type PairHold, pairHold } from '../../record/pair-hold.ts';
import { pairKey } from '../../record/standing-types.ts';
import { placesToLook } from '../../record/where-to-look.ts';
import { type HoldTold, renderAfterFailure, renderVerdict } from '../../report/hold-text.ts';
import { wrap } from '../../report/text.ts';
import { type Desk, TEXT_LIMITS } from '../entering.ts';
import type { HoldOptions } from '../hold.ts';
import { cautionOfWithdrawn } from '../withdrawn.ts';
import { isMeasured, missingMeasurement, readBag, readSeen } from './options.ts';

export interface Pair {
  readonly circuit: Circuit;
  readonly machine: Machine;
  readonly mark: HoldMark;
}

/** The pair that is meant, or null with the problems on the desk. */
export function findPair(desk: Desk, circuitId: string, machineId: string): Pair | null {
  const circuit = desk.oneOf(circuitId, desk.inventory.circuits, 'circuit');
  const machine = desk.oneOf(machineId, desk.inventory.machines, 'machine');
  if (circuit === null || machine === null) return null;
  if (!machine.drives.includes(driveOf(circuit.kind))) {
    desk.caution(
      'pair_not_driven',
      `by the inventory ${machine.id} does not drive ${circuit.id}`,
      'check the ids; correct the entry if one is wrong',
    );
  }
  const hold = leakHoldFor(desk.inventory, circuit, machine);
  return { circuit, machine, mark: { ...hold, gauge: hold.watch === 'gauge' } };
}

/** Runs the test to its entry; the exit code says how it ended. */
export async function runPairHold(desk: Desk, pair: Pair | null, options: HoldOptions): Promise<void> {
  const { context } = desk;
  if (pair === null) {
    // Everything else that is wrong is said in the same breath.
    readSeen(desk, options, null);
    desk.sign([]);
    desk.ensureSound();
    return;
  }
  const bag = readBag(desk, options.bag);
  if (options.case !== undefined) desk.text('--case', options.case, TEXT_LIMITS.case);
  const signed = desk.sign([pair.circuit, pair.machine, bag?.asset ?? null]);
  cautionOfWithdrawn(desk, [pair.circuit.id, pair.machine.id, bag?.asset?.id ?? null]);
  let seen: HoldSeen;
  let judgement: Judgement;
  if (isMeasured(options) || context.terminal === null || options.json) {
    if (!isMeasured(options)) missingMeasurement(desk, pair.mark);
    seen = readSeen(desk, options, pair.mark);
    desk.ensureSound();
    judgement = judgeHold(seen, markFor(desk, pair, seen));
  } else {
    desk.ensureSound();
    const { guidePairHold } = await import('./guide-pair.ts');
    ({ seen, judgement } = await guidePairHold(desk, pair, context.terminal));
  }
  if (judgement.outcome === 'refused') {
    desk.problems.push(...judgement.problems);
    desk.ensureSound();
    return;
  }
  if (pair.mark.gauge && seen.taut !== undefined) {
    desk.caution(
      'gauge_not_read',
      'this pair has a gauge, and the bag was watched instead',
      'read the gauge: it shows a fall long before the bag does',
    );
  }
  const told = tell(desk, pair, seen, judgement, bag?.sizeMl ?? null);
  await record(desk, pair, seen, told, { bag: bag?.written, caseRef: options.case, signed });
  const { outcome } = judgement;
  if (outcome === 'fail' && !options.json) {
    context.out(
      renderAfterFailure(pair.circuit, pair.machine, desk.standingAnew(), desk.inventory, context.width),
    );
  }
  const isPass = outcome === 'pass' && seen.popOff === 'open';
  // A test of just now counts, unless the bag was watched after a gauge had shown a leak; one entered late may be overtaken.
  const isDoubtful = options.on !== undefined || (pair.mark.gauge && seen.taut !== undefined);
  const now = isPass && isDoubtful ? stateNow(desk, pair) : null;
  if (now !== null && now.state !== 'held' && !options.json)
    context.out(`${wrap(`It does not count now: ${now.because}.`, context.width, '', '  ')}\n`);
  context.exitCode = isPass && now?.state !== 'failed' ? 0 : 1;
}

/** A taut bag shows a leak later than a gauge does: where it is watched it is watched for its own time, gauge or none. */
function markFor(desk: Desk, { mark }: Pair, { taut }: HoldSeen): HoldMark {
  const { withoutGaugeSeconds } = desk.inventory.rules.leakHold;
  return taut === undefined ? mark : { ...mark, seconds: withoutGaugeSeconds.value };
}

/** Where to look after a leak; a stuck pop-off is none. */
function lookAt({ outcome, reason }: HoldTold['judgement'], { kind }: Circuit): string[] {
  return outcome === 'fail' && reason !== 'pop_off_stuck' ? placesToLook(kind) : [];
}

/** A test of earlier, entered late, may have been overtaken by what was done since. */
function stateNow(desk: Desk, { circuit, machine }: Pair): PairHold {
  return pairHold(desk.standingAnew(), desk.inventory, circuit.id, machine.id, { today: desk.today });
}

/** The judgement with the leak that the fall means. */
function tell(
  desk: Desk,
  { circuit, machine }: Pair,
  seen: HoldSeen,
  judgement: HoldTold['judgement'],
  bagMl: number | null,
): HoldTold {
  const { fall } = seen;
  let compliance: Compliance | null = null;
  // The record is read for its measured compliance only where there is a fall to be told as a leak.
  if (fall !== undefined && fall.fromCmH2O > fall.toCmH2O) {
    const pair = desk.standing.pairs.get(pairKey(circuit.id, machine.id));
    compliance = complianceOfPair(pair, circuit, machine, bagMl === null ? null : ml(bagMl));
  }
  return {
    circuit,
    machine,
    judgement,
    popOff: seen.popOff ?? 'shut',
    leak: leakOfHold(fall, compliance),
    compliance,
  };
}

interface Rest {
  readonly bag: { size_ml: number; id?: string } | undefined;
  readonly caseRef: string | undefined;
  readonly signed: ReturnType<Desk['sign']>;
}

async function record(
  desk: Desk,
  pair: Pair,
  seen: HoldSeen,
  told: HoldTold,
  { bag, caseRef, signed }: Rest,
): Promise<void> {
  const { circuit, machine } = pair;
  const { fall, taut, makeUp } = seen;
  const mark = markFor(desk, pair, seen);
  const { inventory, ...who } = signed;
  const { leak, judgement, popOff } = told;
  await desk.write(
    {
      kind: 'hold',
      ...who,
      circuit: circuit.id,
      machine: machine.id,
      ...(bag === undefined ? {} : { bag }),
      ...(caseRef === undefined ? {} : { case: caseRef }),
      ...(fall === undefined
        ? {}
        : { fall: { from_cmh2o: fall.fromCmH2O, to_cmh2o: fall.toCmH2O, seconds: fall.seconds } }),
      ...(taut === undefined ? {} : { taut: { steady: taut.steady, seconds: taut.seconds } }),
      ...(makeUp === undefined
        ? {}
        : { make_up: { flow_ml_min: makeUp.flowMlPerMin, at_cmh2o: makeUp.atCmH2O } }),
      pop_off: popOff,
      rule: {
        pressure_cmh2o: mark.pressureCmH2O,
        seconds: mark.seconds,
        drop_cmh2o: mark.dropCmH2O,
        make_up_ml_min: mark.makeUpMlPerMin,
      },
      ...(leak === undefined ? {} : { leak }),
      result: judgement.outcome,
      reason: judgement.reason,
      inventory,
    },
    renderVerdict(told, desk.context.width),
    {
      judgement: {
        outcome: judgement.outcome,
        reason: judgement.reason,
        because: judgement.because,
        counts: judgement.outcome === 'pass' && popOff === 'open',
        look: lookAt(judgement, circuit),
      },
    },
  );
}
