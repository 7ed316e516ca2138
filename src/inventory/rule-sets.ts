/** Named sets of published rules to start an inventory from. Each figure has its source, as it is known here. */
import { DEFAULT_RULES, type RuleLeaf, type RuleTree } from './default-rules.ts';

export interface RuleSet {
  readonly name: string;
  readonly summary: string;
  /** What the source says and format 1 cannot. */
  readonly notes: readonly string[];
  /** What is left out has its default. */
  readonly rules: RuleTree;
}

const CATS = 'AAFP Feline Anesthesia Guidelines, J Feline Med Surg 2018;20:602-634';
const TABLE = `${CATS}, Table 4`;
const DOGS_CATS = 'AAHA Anesthesia and Monitoring Guidelines, JAAHA 2020;56:59-82 (from memory)';
const CHECKOUT = 'FDA Anesthesia Apparatus Checkout Recommendations 1993, step 11';

const samePhases = (leaf: RuleLeaf): RuleTree => ({ induction: leaf, maintenance: leaf, recovery: leaf });

const house: RuleSet = {
  name: 'house',
  summary: 'the defaults, written out',
  notes: [],
  rules: DEFAULT_RULES,
};

const cats2018: RuleSet = {
  name: 'cats-2018',
  summary: 'cats, AAFP Feline Anesthesia Guidelines 2018',
  notes: [
    'Made for cats. Format 1 has one boundary and one set of flows for all species: dogs would go by it too.',
    'The source prints a least flow for non-rebreathing circuits, no range: both ends are that flow.',
    'The source gives 1.5 L/min at 7 kg, where 200 mL/kg/min makes 1.4: the weight decides here.',
    'The source wants 2 to 3 L/min on a circle for the first 15 min whatever the weight. Format 1 knows flow by weight',
    'alone: the induction range gives just that at 4 kg, 1.5 to 2.25 L/min at 3 kg, and 3 to 4.5 L/min at 6 kg.',
  ],
  rules: {
    boundary: {
      non_rebreathing_below_kg: [3, CATS],
      rebreathing_above_kg: [3, CATS],
    },
    fresh_gas_flow: {
      minimum_ml_min: [500, `${TABLE}; also the least flow for maintenance on a circle`],
      rebreathing_ml_kg_min: {
        induction: [[500, 750], `${CATS}: 2 to 3 L/min for the first 15 min, here for a cat of 4 kg`],
      },
      non_rebreathing_ml_kg_min: samePhases([[200, 200], `${TABLE}: the least flow`]),
    },
    reservoir_bag: {
      tidal_volumes: [6, `with size_at_ml_kg this gives the bags of ${TABLE}`],
      size_at_ml_kg: [15, `with tidal_volumes this gives the bags of ${TABLE}`],
    },
    phase_minutes: { induction: [15, CATS] },
  },
};

const dogsCats2020: RuleSet = {
  name: 'dogs-cats-2020',
  summary: 'dogs and cats, AAHA Anesthesia and Monitoring Guidelines 2020 (from memory)',
  notes: ['Quoted from memory: read the source before you rely on a figure.'],
  rules: {
    fresh_gas_flow: {
      minimum_ml_min: [500, DOGS_CATS],
      rebreathing_ml_kg_min: { maintenance: [[20, 40], DOGS_CATS] },
      non_rebreathing_ml_kg_min: samePhases([[200, 400], DOGS_CATS]),
    },
    dead_space_fraction: [0.2, DOGS_CATS],
  },
};

const circleHold = {
  pressure_cmh2o: [30, CHECKOUT],
  seconds: [10, `${CHECKOUT}: at least`],
  drop_cmh2o: [0, `${CHECKOUT}: the pressure remains fixed`],
} as const;

const holds1993: RuleSet = {
  name: 'holds-1993',
  summary: 'leak tests of the circle, FDA Checkout Recommendations 1993',
  notes: [
    'The source tests the circle. For a T-piece or a Bain it gives no figures: the defaults hold.',
    'It also wants a backup cylinder of at least about 1000 psi (step 2) and the low-pressure side tested with a',
    'suction bulb (step 5): format 1 has no rule for these, so they stand among the checks below.',
  ],
  rules: { leak_hold: { circle_y: circleHold, circle_coaxial: circleHold } },
};

export const RULE_SETS: readonly RuleSet[] = [house, cats2018, dogsCats2020, holds1993];
