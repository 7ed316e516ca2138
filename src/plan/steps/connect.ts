/** Connecting a circuit to a machine, and going back to a circle. */
import type { Circuit, Machine } from '../../inventory/inventory.ts';

/** What to push where, for this kind of circuit on this machine, with the looks that belong to it. */
export function connectSteps(machine: Machine, circuit: Circuit): string[] {
  switch (circuit.kind) {
    case 'circle_y':
      return [...circleFirst(machine), ...Y_PIECE, ...circleLast(machine)];
    case 'circle_coaxial':
      return [...circleFirst(machine), ...COAXIAL, ...circleLast(machine)];
    case 'bain':
      return [
        ...freshGas(machine, circuit),
        ...nonRebreathing(machine, "the outlet of the circuit's own pop-off", LOOK_AT_INNER_TUBE),
      ];
    case 't_piece':
      return [
        ...freshGas(machine, circuit),
        ...nonRebreathing(machine, 'the outlet at the end of the bag', []),
      ];
  }
}

const Y_PIECE = ['Push one hose on each valve, either way round, with a twist.'];

const LOOK_AT_INNER_TUBE = ['Look through the patient end: the inner tube must sit firmly at both ends.'];

const COAXIAL = [
  'Push the hose of the inner tube on the inspiratory valve and the outer one on the expiratory valve.',
  ...LOOK_AT_INNER_TUBE,
];

function circleFirst(machine: Machine): string[] {
  switch (machine.freshGasOutlet) {
    case 'at_machine':
      return [`${machine.id}: see that its own fresh-gas hose runs from the outlet to the circle.`];
    case 'at_circle':
      return [`${machine.id}: see that the fresh-gas hose is on the circle's inlet.`];
    case 'switch':
      return [`${machine.id}: turn the outlet switch to the circle.`];
  }
}

function circleLast(machine: Machine): string[] {
  return [
    'Hang the bag on its neck. Scavenging hose on the outlet of the pop-off of the circle.',
    scavengingLook(machine),
  ];
}

/** Where the circuit's fresh-gas hose goes, and whether the flush blows into it. */
function freshGas(machine: Machine, circuit: Circuit): string[] {
  const live =
    machine.flushTo === 'outlet'
      ? ['The oxygen flush is live on that hose: never press it with a patient attached.']
      : machine.flushTo === 'circle'
        ? ['The oxygen flush goes to the circle here, not to this hose. Leave it alone all the same.']
        : [];
  switch (machine.freshGasOutlet) {
    case 'at_machine':
      return [
        `${machine.id}: take the machine's own fresh-gas hose off the outlet.`,
        `Push the fresh-gas hose of ${circuit.id} on the outlet, with a twist.`,
        ...live,
      ];
    case 'at_circle':
      return [
        `${machine.id}: take the fresh-gas hose off the inlet of the circle.`,
        `Join the fresh-gas hose of ${circuit.id} to that hose.`,
        ...live,
      ];
    case 'switch':
      return [
        `${machine.id}: push the fresh-gas hose of ${circuit.id} on the second outlet.`,
        'Turn the outlet switch from the circle to that outlet.',
        ...live,
      ];
  }
}

function nonRebreathing(machine: Machine, outlet: string, look: readonly string[]): string[] {
  return [
    "Hang the bag on the circuit. Bag and pop-off are the circuit's own.",
    ...look,
    `Move the scavenging hose from the pop-off of the circle to ${outlet}.`,
    scavengingLook(machine),
    'Circle valves, absorber and the gauge of the machine are out of use.',
  ];
}

function scavengingLook(machine: Machine): string {
  const unit = machine.scavenging;
  if (unit === null) return 'See where the waste gas goes: the inventory names no scavenging here.';
  if (unit.kind === 'charcoal') return `Waste gas goes to ${unit.id}: its holes free, its weight known.`;
  return unit.airBreak
    ? `Waste gas goes to ${unit.id}: pump on, its air break open and free.`
    : `Waste gas goes to ${unit.id}: it has no air break; see that it does not pull the bag flat.`;
}

/** After a T-piece or a Bain: the machine as the next person expects it. */
export function backSteps(machine: Machine): string[] {
  const hose: Readonly<Record<Machine['freshGasOutlet'], string>> = {
    at_machine: "Circuit's hose off the outlet; the machine's own fresh-gas hose back on, with a twist.",
    at_circle: "Circuit's hose off; the fresh-gas hose back on the inlet of the circle.",
    switch: 'Turn the outlet switch back to the circle.',
  };
  return [
    hose[machine.freshGasOutlet],
    'Scavenging hose back on the pop-off of the circle.',
    'Set 2 L/min and see the bag of the circle fill.',
    'Do a new leak test with the circle that is used next.',
  ];
}
