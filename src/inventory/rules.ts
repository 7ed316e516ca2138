/**
 * The practice's rules with their provenance: the value that stands in the inventory, else the default.
 *
 * A default says where its figure comes from. A rule of the inventory is the practice's own; what its author noted in a
 * comment behind the value is quoted.
 */
import type { InventoryFile } from '../generated/inventory-file.ts';
import type { MlPerKg, MlPerKgMin, Range } from '../quantity/units.ts';
import { DEFAULT_RULES } from './default-rules.ts';
import type { CircuitKind, HoldRule, Rule, Rules, Species } from './inventory.ts';
import { SPECIES } from './inventory.ts';
import type { ParsedDocument } from './parse.ts';

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
    const [preset, source] = keys.reduce<unknown>(step, DEFAULT_RULES) as [T, string];
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
function provenance(document: ParsedDocument, path: string): { line: number; source: string } {
  const { value } = document.locate(path);
  const { line } = document.source.placeAt(value.start);
  const comment = document.source.commentAfter(value.end);
  return {
    line,
    source: comment === null ? "the practice's own figure" : `the practice's own figure, noted “${comment}”`,
  };
}
