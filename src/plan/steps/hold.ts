/** The leak test of a pair, step by step, and what it does not prove. */
import {
  type Circuit,
  classOf,
  hasGauge,
  hasInnerTube,
  type Machine,
  type Rules,
} from '../../inventory/inventory.ts';

export function holdSteps(machine: Machine, circuit: Circuit, rules: Rules): string[] {
  return [
    'No patient attached. Vaporizer filled above its low mark, filler shut, dial off.',
    'Block the patient end with a thumb or a plug, and shut the pop-off.',
    ...fillAndWatch(machine, circuit, rules),
    emptying(machine, circuit),
    'Press what is left in the bag out into the scavenging.',
    ...(hasInnerTube(circuit.kind) ? [INNER_TUBE] : []),
    ...notProved(circuit),
  ];
}

function fillAndWatch(machine: Machine, circuit: Circuit, rules: Rules): string[] {
  const { pressureCmH2O, seconds, dropCmH2O, makeUpMlPerMin } = rules.leakHold[circuit.kind];
  const rebreathing = classOf(circuit.kind) === 'rebreathing';
  const fill =
    rebreathing && machine.flushTo !== 'none'
      ? 'Fill with short presses on the oxygen flush'
      : rebreathing
        ? 'Fill by the flowmeter'
        : 'Fill by the flowmeter, never by the flush';
  const orMakeUp = `If it falls, find the flow that holds ${pressureCmH2O.value} cmH2O steady: at most ${makeUpMlPerMin.value} mL/min passes.`;
  if (!hasGauge(circuit, machine)) {
    return [
      `${fill}, until the bag is taut; then all flow off.`,
      `Watch the bag for ${rules.leakHold.withoutGaugeSeconds.value} s: it must stay taut. Slack fails.`,
    ];
  }
  const allowed =
    dropCmH2O.value === 0 ? 'it must not fall' : `it may fall by ${dropCmH2O.value} cmH2O at most`;
  // The machine's gauge is out of use on a T-piece or Bain, and would show nothing.
  const where = rebreathing ? 'the gauge' : 'the gauge of the circuit';
  return [
    `${fill}, to ${pressureCmH2O.value} cmH2O on ${where}; then all flow off.`,
    `Watch the gauge for ${seconds.value} s: ${allowed}.`,
    orMakeUp,
  ];
}

/** The step that a tired person leaves out, and the one that kills. */
function emptying(machine: Machine, circuit: Circuit): string {
  const seen = hasGauge(circuit, machine) ? 'the gauge fall to zero' : 'the bag empty';
  return `THEN OPEN THE POP-OFF with the end still blocked, and see ${seen}.`;
}

const INNER_TUBE =
  'Inner tube, a test of its own: 2 L/min, block only the inner tube at the patient end; the float must dip.';

function notProved(circuit: Circuit): string[] {
  const rebreathing = classOf(circuit.kind) === 'rebreathing';
  const inner = hasInnerTube(circuit.kind) ? 'the inner tube (test above), ' : '';
  const discs = rebreathing ? 'the valve discs (breathe through with a second bag), ' : '';
  return [
    `${LIMIT} ${inner}${discs}a free way (squeeze the bag, feel it at the patient end), the vaporizer (suction-bulb test), or the scavenging (look at it).`,
  ];
}

/** How the last step begins, which is none to do. */
const LIMIT = 'This does not prove';

/** Whether a step only says what the test does not prove. */
export function isLimit(step: string): boolean {
  return step.startsWith(LIMIT);
}
