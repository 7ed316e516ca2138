/** Where a circuit leaks, in the order in which leaks are found. */
import { type CircuitKind, classOf, hasInnerTube } from '../inventory/inventory.ts';

/**
 * The places to look at, most likely first. What a kind does not have under pressure is left out.
 *
 * @example placesToLook('t_piece')[0] //=> 'the bag and its neck'
 */
export function placesToLook(kind: CircuitKind): string[] {
  const isCircle = classOf(kind) === 'rebreathing';
  return [
    'the bag and its neck',
    isCircle
      ? 'the hose ends, at the valves and at the patient'
      : 'the hose ends, at the fresh-gas outlet and at the patient',
    ...(isCircle ? ['the absorber: its seal and its drain', 'the domes of the valves'] : []),
    'the pop-off',
    'the scavenging hose at the pop-off',
    ...(hasInnerTube(kind)
      ? ['the inner tube: about 2 L/min, block only the inner tube, the float must dip']
      : []),
  ];
}
