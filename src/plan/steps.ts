/** The steps for one very pair: connect, hold, watch, and the way back to a circle. Sentences for a person at the machine. */
import { type Circuit, classOf, type Machine, type Rules } from '../inventory/inventory.ts';
import { backSteps, connectSteps } from './steps/connect.ts';
import { holdSteps } from './steps/hold.ts';
import { watchSteps } from './steps/watch.ts';

export interface Steps {
  readonly connect: readonly string[];
  readonly hold: readonly string[];
  readonly watch: readonly string[];
  /** Back to a circle after a T-piece or Bain; empty for a circle. */
  readonly back: readonly string[];
}

/**
 * @example stepsFor(machine, bain, rules).hold[0]
 *   //=> 'No patient attached. Vaporizer filled above its low mark, filler shut, dial off.'
 */
export function stepsFor(machine: Machine, circuit: Circuit, rules: Rules): Steps {
  return {
    connect: connectSteps(machine, circuit),
    hold: holdSteps(machine, circuit, rules),
    watch: watchSteps(circuit),
    back: classOf(circuit.kind) === 'rebreathing' ? [] : backSteps(machine),
  };
}
