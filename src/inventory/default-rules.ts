/** The rules that hold where an inventory says nothing, each with the source of its figure. */

import type { CircuitKind } from './inventory.ts';

/** A value with the source of its figure. */
export type RuleLeaf = readonly [value: string | number | readonly [number, number], source: string];

/** Rules in the shape of the inventory. */
export interface RuleTree {
  readonly [key: string]: RuleTree | RuleLeaf;
}

const PRACTICE = 'common practice, no published source';
const FLOW_FLOOR = 'common practice; the same floor in AAFP Feline Anesthesia Guidelines 2018, Table 4';
const NON_REBREATHING_FLOW =
  'common practice; 200–300 mL/kg/min is called reasonably safe in Massey University veterinary pharmacology notes';
const ENDS_FLOW = 'Thomas & Lerche, Anesthesia and Analgesia for Veterinary Technicians (from memory)';
const CIRCLE_HOLD =
  'FDA Anesthesia Apparatus Checkout Recommendations 1993, step 11: 30 cmH2O for at least 10 s';
const NON_REBREATHING_HOLD = 'common practice, no published source: coaxial and Bain above 20 cmH2O';
const MAKE_UP = 'common practice; stricter than the 300 mL/min at 30 cmH2O that published procedures print';

const holdDefaults = (pressure: number, makeUp: number, source: string): RuleTree => ({
  pressure_cmh2o: [pressure, source],
  seconds: [10, CIRCLE_HOLD],
  drop_cmh2o: [0, 'common practice: no fall'],
  make_up_ml_min: [makeUp, MAKE_UP],
});

/** Every default with its source, in the shape of the inventory. */
export const DEFAULT_RULES = {
  boundary: {
    non_rebreathing_below_kg: [
      7,
      `${PRACTICE}; others put it at 3 kg (AAFP 2018, cats) or 5 kg (survey, Vet Anaesth Analg 2024)`,
    ],
    rebreathing_above_kg: [
      8,
      `${PRACTICE}; others put it at 3 kg (AAFP 2018, cats) or 5 kg (survey, Vet Anaesth Analg 2024)`,
    ],
    between: ['non_rebreathing', PRACTICE],
    near_kg: [0.5, PRACTICE],
  },
  fresh_gas_flow: {
    minimum_ml_min: [500, FLOW_FLOOR],
    rebreathing_ml_kg_min: {
      induction: [[50, 100], ENDS_FLOW],
      maintenance: [[20, 30], PRACTICE],
      recovery: [[50, 100], ENDS_FLOW],
    },
    non_rebreathing_ml_kg_min: {
      induction: [[200, 300], NON_REBREATHING_FLOW],
      maintenance: [[200, 300], NON_REBREATHING_FLOW],
      recovery: [[200, 300], NON_REBREATHING_FLOW],
    },
  },
  circle_never_below_kg: [3, 'common practice; AAFP 2018 puts the boundary for cats at 3 kg'],
  tidal_volume_ml_kg: [[10, 20], 'Donati et al., J Vet Sci 2019;20:e21 (literature range, dogs)'],
  reservoir_bag: {
    tidal_volumes: [6, PRACTICE],
    size_at_ml_kg: [15, `${PRACTICE}: the middle of 10 to 20 mL/kg`],
  },
  leak_hold: {
    circle_y: holdDefaults(30, 200, CIRCLE_HOLD),
    circle_coaxial: holdDefaults(30, 200, CIRCLE_HOLD),
    bain: holdDefaults(20, 150, NON_REBREATHING_HOLD),
    t_piece: holdDefaults(20, 150, NON_REBREATHING_HOLD),
    without_gauge: { seconds: [30, `${PRACTICE}: without a gauge the bag is watched longer`] },
    valid_for: ['case', PRACTICE],
    high_pressure_fall_psi: [100, 'University of Ottawa machine check 1997: less than 100 psi in 5 min'],
    high_pressure_minutes: [5, 'University of Ottawa machine check 1997: less than 100 psi in 5 min'],
  },
  phase_minutes: {
    induction: [15, 'AAFP Feline Anesthesia Guidelines 2018: the higher flow for the first 15 min'],
    recovery: [5, PRACTICE],
  },
  turnover_minutes: [10, PRACTICE],
  absorbent_litres_per_100_g: [
    12,
    'Jorgensen & Jorgensen, Acta Anaesthesiol Scand 1977;21:437-444: at least 12 L per 100 g',
  ],
  dead_space_fraction: [0.2, 'AAHA Anesthesia and Monitoring Guidelines 2020 (from memory)'],
  wide_bore_below_kg: [7, PRACTICE],
} as const satisfies RuleTree & { readonly leak_hold: RuleTree & Readonly<Record<CircuitKind, RuleTree>> };
