/** What to keep an eye on while the patient is connected. */
import { type Circuit, classOf } from '../../inventory/inventory.ts';

export function watchSteps(circuit: Circuit): string[] {
  const bag =
    classOf(circuit.kind) === 'rebreathing'
      ? 'Bag in sight, filling and emptying; pop-off open. See both valve discs move.'
      : 'Bag and pop-off of the circuit in sight: uncovered, unkinked, open.';
  return [
    bag,
    'Cuff: the least volume that seals, 20–30 cmH2O by manometer. Pop-off open again after the cuff check.',
    'Disconnect the patient from the circuit before turning it.',
  ];
}
