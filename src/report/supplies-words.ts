/** The trade's words for the figures of the supplies, as a person reads them among the reasons. */
export const SUPPLY_NAMES: Readonly<Record<string, string>> = {
  'supplies.oxygen.left_l': 'Oxygen left',
  'supplies.oxygen.minutes_left_at_set': 'Oxygen lasts at the flow set',
  'supplies.oxygen.use_l': 'Oxygen for the case',
  'supplies.oxygen.enough': 'Oxygen is enough',
  'supplies.absorbent.co2_ml_min': 'Carbon dioxide made',
  'supplies.absorbent.hours_used': 'Absorbent, hours used',
  'supplies.absorbent.hours_when_fresh': 'Absorbent, hours when fresh',
  'supplies.absorbent.hours_left_by_rule': "Absorbent, hours left by the practice's check",
  'supplies.absorbent.hours_left_by_capacity': 'Absorbent, hours left by what it takes up',
  'supplies.agent.ml_per_hour': 'Liquid agent an hour',
  'supplies.agent.liquid_ml': 'Liquid agent for the case',
  'supplies.charcoal.gain_g_so_far': 'Charcoal, gained so far',
  'supplies.charcoal.limit_g': 'Charcoal, most it may gain',
  'supplies.charcoal.expected_g': 'Charcoal, this case adds',
  'supplies.charcoal.hours_left': 'Charcoal, hours left',
  'supplies.wash_in.volume_ml': 'Volume to wash in',
  'supplies.wash_in.time_constant_min': 'Time constant',
  'supplies.wash_in.t63_min': '63 % of a change at the dial',
  'supplies.wash_in.t95_min': '95 % of a change at the dial',
  'supplies.breathing.minute_volume_ml_min': 'Minute volume',
  'supplies.breathing.flow_over_minute_volume': 'Flow, in minute volumes',
  'supplies.dead_space.apparatus_ml': 'Dead space of the apparatus',
  'supplies.dead_space.tidal_volume_ml': 'Tidal volume, low end',
  'supplies.dead_space.fraction': 'Dead space of a breath',
  'supplies.metabolism.oxygen_ml_min': 'Oxygen that the patient uses',
};

/** The unit of a figure of the supplies: it stands in the key. '' for shares and yes or no. */
export function supplyUnit(figure: string): string {
  if (figure.endsWith('_ml_min')) return 'mL/min';
  if (figure.endsWith('ml_per_hour')) return 'mL/h';
  if (figure.endsWith('_ml')) return 'mL';
  if (figure.endsWith('_l')) return 'L';
  if (figure.endsWith('_min') || figure.includes('.minutes_')) return 'min';
  if (figure.includes('.hours_')) return 'h';
  return figure.includes('_g') ? 'g' : '';
}
