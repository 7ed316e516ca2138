import type { CautionRow } from '../code.ts';

/** Cautions of a plan. One level per code. */
export const CAUTION_CODES = {
  // Stops: what must keep the patient off this equipment.
  weight_implausible: {
    level: 'stop',
    means:
      'The weight is hardly possible for the species: a slipped decimal point, or pounds typed as kilograms.',
    remedy: 'Weigh again. If the weight is right, add --confirm-weight.',
  },
  no_circuit: {
    level: 'stop',
    means: 'No circuit on any machine fits this patient.',
    remedy: 'Read the reason beside each circuit. Borrow or repair one that fits; do not improvise.',
  },
  circle_too_small_patient: {
    level: 'stop',
    means:
      "A circle was forced on a patient below the practice's circle_never_below_kg: too small to move its valves.",
    remedy: 'Use a T-piece or a Bain.',
  },
  circuit_withdrawn: {
    level: 'stop',
    means: 'The machine or the circuit was taken out of service.',
    remedy: 'Use another. Put it back with holdfast return once it is mended.',
  },
  hold_failed: {
    level: 'stop',
    means: 'The last leak test of this pair failed.',
    remedy: 'Find the leak and pass a leak test of the same pair.',
  },
  flow_above_maximum: {
    level: 'stop',
    means:
      "The flow that this patient needs is above what the machine's flowmeter or its oxygen supply gives.",
    remedy: 'Use another machine or another circuit.',
  },
  oxygen_out_of_service: {
    level: 'stop',
    means: 'Every oxygen supply of this machine is out of service.',
    remedy: 'Use another machine, or put a supply back in service.',
  },
  check_blocks: {
    level: 'stop',
    means: 'A check that the practice marked as blocking is overdue or failed.',
    remedy: 'Do the check and sign it off with holdfast sign-off.',
  },
  pop_off_shut: {
    level: 'stop',
    means: 'After the last leak test of this pair the pop-off was left shut, or nobody saw it open.',
    remedy: 'Open it, see the pressure fall to zero, and say so: holdfast sign-off CIRCUIT pop-off-open.',
  },
  tidal_volume_unknown: {
    level: 'stop',
    means:
      'The practice has no tidal volume for this species, so neither bag nor dead space can be worked out.',
    remedy: 'Add the species to rules: tidal_volume_by_species_ml_kg, as the veterinarian in charge decides.',
  },
  agent_not_fitted: {
    level: 'stop',
    means: 'The machine has no vaporizer in service for this agent.',
    remedy: 'Choose another machine or another agent.',
  },
  oxygen_short: {
    level: 'stop',
    means: 'The oxygen left does not last for this case.',
    remedy: 'Change the cylinder, or use another machine.',
  },
  record_damaged: {
    level: 'stop',
    means: 'The record is damaged, so that nothing it says of leak tests and checks can be relied on.',
    remedy: 'Run holdfast record verify.',
  },
  // Cautions.
  inventory_unfinished: {
    level: 'caution',
    means: 'Lines of the inventory are still marked CHECK: what the starter guessed, nobody has looked at.',
    remedy: 'Read each off the equipment, put it in, and take the mark out.',
  },
  boundary_between: {
    level: 'caution',
    means: 'The weight lies where either class of circuit may serve; both are shown.',
    remedy: 'The veterinarian in charge decides.',
  },
  boundary_near: {
    level: 'caution',
    means: 'The weight is close to the boundary between the two classes.',
    remedy: 'Weigh again if in doubt.',
  },
  class_differs: {
    level: 'caution',
    means: 'The actual and the ideal weight give different classes of circuit; both are shown.',
    remedy: 'The veterinarian in charge decides.',
  },
  class_forced: {
    level: 'caution',
    means: 'The circuit was forced, and it is of another class than the weight asks for.',
    remedy: 'The veterinarian in charge decides. Mind the flow, which goes by the class of the circuit.',
  },
  class_substituted: {
    level: 'caution',
    means:
      'No circuit of the class that the weight asks for is left; one of the other class that fits is taken.',
    remedy: 'Mind the higher flow of a non-rebreathing circuit.',
  },
  circuit_outside_weights: {
    level: 'caution',
    means: 'The circuit was forced, and the patient is outside the weights that the inventory gives for it.',
    remedy: 'Use the circuit that the plan chooses by itself.',
  },
  circuit_not_driven: {
    level: 'caution',
    means:
      'The pair was forced, and the inventory does not say that this machine drives this kind of circuit.',
    remedy: 'Check how it is to be connected, and correct drives in the inventory.',
  },
  hold_needed: {
    level: 'caution',
    means: 'No leak test of this pair counts for this case.',
    remedy: 'Do it before the patient is connected, and record it with holdfast hold.',
  },
  part_failed_elsewhere: {
    level: 'caution',
    means:
      'The machine or the circuit was part of a failed leak test with another partner and is not cleared yet.',
    remedy: 'A passed leak test of this pair clears both parts.',
  },
  check_failed: {
    level: 'caution',
    means: 'A check on this equipment failed and was not passed since.',
    remedy: 'Mend it and sign the check off.',
  },
  returned_unseen: {
    level: 'caution',
    means: 'Something came back into service, and no check of a round was passed on it since.',
    remedy: 'Do the opening round of the machine: holdfast round opening MACHINE.',
  },
  supply_hold_failed: {
    level: 'caution',
    means: 'The high-pressure test of this oxygen supply failed.',
    remedy: 'Look for the leak between cylinder and machine, and test again.',
  },
  bag_not_stocked: {
    level: 'caution',
    means: 'No bag in stock is as large as wanted, or the bag that was named is not in stock.',
    remedy: 'Use the largest there is and watch that it does not empty; order the size.',
  },
  bag_too_small: {
    level: 'caution',
    means: 'The bag that was named is smaller than this patient wants.',
    remedy: 'Take the size that the plan chooses by itself.',
  },
  dead_space_high: {
    level: 'caution',
    means: 'Circuit and adapters hold a large part of each breath, which the patient breathes again.',
    remedy: 'Take away adapters, or use a circuit with less dead space.',
  },
  flush_live: {
    level: 'caution',
    means: 'The oxygen flush blows straight into this circuit at 35 to 75 L/min.',
    remedy: 'Never press it with a patient attached.',
  },
  absorber_unknown: {
    level: 'caution',
    means: 'A circle on a machine for which the inventory names no absorber.',
    remedy: 'See that there is one and put it in the inventory; without absorbent do not use a circle.',
  },
  setting_above_dial: {
    level: 'caution',
    means: 'The dial setting is above where vaporizers for this agent usually end.',
    remedy: 'Read the dial again, and mind the decimal point.',
  },
  scavenging_out_of_service: {
    level: 'caution',
    means: 'The scavenging of this machine is out of service.',
    remedy: 'See to it that the waste gas goes where it harms nobody, or use another machine.',
  },
  scavenging_without_air_break: {
    level: 'caution',
    means: 'An active scavenging system without an air break can pull on the bag and empty the circuit.',
    remedy: 'Have an air break fitted, and say so in the inventory.',
  },
  oxygen_unknown: {
    level: 'caution',
    means: 'It is not known how much oxygen is left.',
    remedy: 'Read the gauge and enter it with holdfast reading.',
  },
  absorbent_due: {
    level: 'caution',
    means: 'The absorbent is used up, or will be before the case ends.',
    remedy: 'Change it before the case.',
  },
  charcoal_near_full: {
    level: 'caution',
    means: 'The charcoal canister is at its limit, or will be before the case ends.',
    remedy: 'Weigh it, and change it before the case.',
  },
  vaporizer_flow_low: {
    level: 'caution',
    means: "The flow to set is below the vaporizer's least flow, so that its output may not follow the dial.",
    remedy: 'Raise the flow to the least flow of the vaporizer.',
  },
  flow_near_oxygen_use: {
    level: 'caution',
    means: 'The flow to set is below twice the oxygen that a patient of this weight uses.',
    remedy: 'Raise the flow, or watch the inspired oxygen: what the patient does not breathe may gather.',
  },
  entry_in_future: {
    level: 'caution',
    means:
      'An entry of the record says that something was done on a day that has not come yet: the clock of a workplace was ahead. For plans what fails or withdraws counts all the same, and what passes does not; the due report leaves all of it out.',
    remedy:
      'Set the clock of that workplace right. Cancel the entry with holdfast correct and enter it again.',
  },
  // Notes.
  no_record: {
    level: 'note',
    means: 'There is no record folder, or nothing in it, so nothing is known of leak tests and checks.',
    remedy: 'The first entry starts the record. If it lies elsewhere, name it with --record.',
  },
  species_not_given: {
    level: 'note',
    means:
      'No species was given, so the weight could not be checked against it, and the bag is that of a dog or cat.',
    remedy: 'Add --species.',
  },
  minimum_flow_applied: {
    level: 'note',
    means: 'The flow by weight is below the least flow that the practice uses, so the least flow stands.',
    remedy: 'Nothing to do.',
  },
  set_above_range: {
    level: 'note',
    means: 'No mark of the flowmeter lies in the range, so the next mark above is set.',
    remedy: 'Nothing to do; the flow is a little higher than asked.',
  },
  capnograph_absent: {
    level: 'note',
    means: 'No capnograph on this machine shows whether the patient breathes carbon dioxide again.',
    remedy: 'Flow by weight does not suit every patient: published needs run to 400 to 500 mL/kg/min.',
  },
  small_bag: {
    level: 'note',
    means: 'A bag of 0.5 L or less fills and passes 30 cmH2O within seconds when the pop-off is shut.',
    remedy: 'Keep the pop-off open and in sight.',
  },
  wide_bore: {
    level: 'note',
    means: 'A 22 mm circle on a small patient.',
    remedy: 'A narrower circle, where there is one, moves less gas at each breath.',
  },
  flow_below_breathing: {
    level: 'note',
    means:
      'On a T-piece or a Bain the flow to set is below twice the minute volume. Published multiples and flow by weight do not agree.',
    remedy: 'Watch the inspired carbon dioxide, and raise the flow where it does not return to zero.',
  },
  no_backup_oxygen: {
    level: 'note',
    means: 'The machine has a single oxygen supply.',
    remedy: 'Know where the next cylinder is, and keep a self-inflating bag at hand.',
  },
  scavenging_unknown: {
    level: 'note',
    means: 'The inventory names no scavenging for this machine.',
    remedy: 'Say where the waste gas goes, for the sake of those in the room.',
  },
  weight_confirmed: {
    level: 'note',
    means: 'The weight is hardly possible for the species, and was confirmed.',
    remedy: 'Nothing to do.',
  },
} as const satisfies Record<string, CautionRow>;
