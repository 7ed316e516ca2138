/**
 * The practice's rules with their provenance: the value that stands in the inventory, else the default.
 *
 * A default says where its figure comes from. A rule of the inventory is the practice's own; what its author noted in a
 * comment behind the value is quoted.
 */
import type { InventoryFile } from '../generated/inventory-file.ts';
import type { MlPerKg, MlPerKgMin, Range } from '../quantity/units.ts';
import type { CircuitKind, HoldRule, Rule, Rules, Species } from './inventory.ts';
import { SPECIES } from './inventory.ts';
import type { ParsedDocument } from './parse.ts';

const PRACTICE = 'common practice, no published source';
const FLOW_FLOOR = 'common practice; the same floor in AAFP Feline Anesthesia Guidelines 2018, Table 4';
const NON_REBREATHING_FLOW =
  'common practice; 200–300 mL/kg/min is called reasonably safe in Massey University veterinary pharmacology notes';
const ENDS_FLOW = 'Thomas & Lerche, Anesthesia and Analgesia for Veterinary Technicians (from memory)';
const CIRCLE_HOLD =
  'FDA Anesthesia Apparatus Checkout Recommendations 1993, step 11: 30 cmH2O for at least 10 s';
const NON_REBREATHING_HOLD = 'common practice, no published source: coaxial and Bain above 20 cmH2O';
const MAKE_UP = 'common practice; stricter than the 300 mL/min at 30 cmH2O that published procedures print';

const holdDefaults = (pressure: number, makeUp: number, source: string) => ({
  pressure_cmh2o: [pressure, source],
  seconds: [10, CIRCLE_HOLD],
  drop_cmh2o: [0, 'common practice: no fall'],
  make_up_ml_min: [makeUp, MAKE_UP],
});

/** Every default with its source, in the shape of the inventory. A pair [value, source] is a leaf. */
const DEFAULTS = {
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
} as const;

type Node = Record<string, unknown> | undefined;

/** The rules of a validated file: each leaf from the inventory where it stands there, else from the defaults. */
export function buildRules(file: InventoryFile, document: ParsedDocument): Rules {
  const written = file.rules as Node;

  const step = (node: unknown, name: string): unknown => (node as Node)?.[name];
  /** The rule at a path of keys below /rules. The schema vouches for its type. */
  function rule<T>(...keys: string[]): Rule<T> {
    const path = `/rules/${keys.join('/')}`;
    const value = keys.reduce<unknown>(step, written);
    if (value !== undefined)
      return { value: value as T, path, from: 'inventory', ...provenance(document, path) };
    const [preset, source] = keys.reduce<unknown>(step, DEFAULTS) as [T, string];
    return { value: preset, path, line: null, from: 'default', source };
  }
  const range = (name: string, phase: string) => rule<Range<MlPerKgMin>>('fresh_gas_flow', name, phase);
  const phases = (name: string) => ({
    induction: range(name, 'induction'),
    maintenance: range(name, 'maintenance'),
    recovery: range(name, 'recovery'),
  });
  const hold = (kind: CircuitKind): HoldRule => ({
    pressureCmH2O: rule('leak_hold', kind, 'pressure_cmh2o'),
    seconds: rule('leak_hold', kind, 'seconds'),
    dropCmH2O: rule('leak_hold', kind, 'drop_cmh2o'),
    makeUpMlPerMin: rule('leak_hold', kind, 'make_up_ml_min'),
  });
  const bySpecies: Partial<Record<Species, Rule<Range<MlPerKg>>>> = {};
  for (const species of SPECIES) {
    if (file.rules?.tidal_volume_by_species_ml_kg?.[species] !== undefined) {
      bySpecies[species] = rule('tidal_volume_by_species_ml_kg', species);
    }
  }

  return {
    boundary: {
      nonRebreathingBelowKg: rule('boundary', 'non_rebreathing_below_kg'),
      rebreathingAboveKg: rule('boundary', 'rebreathing_above_kg'),
      between: rule('boundary', 'between'),
      nearKg: rule('boundary', 'near_kg'),
    },
    freshGasFlow: {
      minimumMlPerMin: rule('fresh_gas_flow', 'minimum_ml_min'),
      mlPerKgMin: {
        rebreathing: phases('rebreathing_ml_kg_min'),
        non_rebreathing: phases('non_rebreathing_ml_kg_min'),
      },
    },
    circleNeverBelowKg: rule('circle_never_below_kg'),
    tidalVolumeMlPerKg: rule('tidal_volume_ml_kg'),
    tidalVolumeBySpecies: bySpecies,
    reservoirBag: {
      tidalVolumes: rule('reservoir_bag', 'tidal_volumes'),
      sizeAtMlPerKg: rule('reservoir_bag', 'size_at_ml_kg'),
    },
    leakHold: {
      circle_y: hold('circle_y'),
      circle_coaxial: hold('circle_coaxial'),
      bain: hold('bain'),
      t_piece: hold('t_piece'),
      withoutGaugeSeconds: rule('leak_hold', 'without_gauge', 'seconds'),
      validFor: rule('leak_hold', 'valid_for'),
      highPressureFallPsi: rule('leak_hold', 'high_pressure_fall_psi'),
      highPressureMinutes: rule('leak_hold', 'high_pressure_minutes'),
    },
    phaseMinutes: {
      induction: rule('phase_minutes', 'induction'),
      recovery: rule('phase_minutes', 'recovery'),
    },
    turnoverMinutes: rule('turnover_minutes'),
    absorbentLitresPer100G: rule('absorbent_litres_per_100_g'),
    deadSpaceFraction: rule('dead_space_fraction'),
    wideBoreBelowKg: rule('wide_bore_below_kg'),
  };
}

/** Line and source of something that the practice wrote: its own figure, and the comment behind it where there is one. */
export function provenance(document: ParsedDocument, path: string): { line: number; source: string } {
  const { value } = document.locate(path);
  const { line } = document.source.placeAt(value.start);
  const comment = document.source.commentAfter(value.end);
  return {
    line,
    source: comment === null ? "the practice's own figure" : `the practice's own figure, noted “${comment}”`,
  };
}
