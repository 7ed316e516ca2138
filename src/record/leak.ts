/** The leak that a fall of pressure means. Pure. */
import type { HoldEntry } from '../generated/entry.ts';
import { type Circuit, classOf, type Machine } from '../inventory/inventory.ts';
import { isAtLeast, roundTo } from '../quantity/compare.ts';
import {
  type CmH2O,
  type Ml,
  type MlPerCmH2O,
  type MlPerMin,
  ml,
  mlPerCmH2O,
  mlPerMin,
  type Seconds,
} from '../quantity/units.ts';
import type { PairStanding } from './standing-types.ts';

/** Atmospheric pressure at sea level, 101 325 Pa, in cmH2O. */
const ATMOSPHERE_CMH2O = 1033;

export interface Fall {
  readonly fromCmH2O: CmH2O;
  readonly toCmH2O: CmH2O;
  readonly seconds: Seconds;
}

/** How much gas an assembly takes up for each cmH2O, and whether walls that stretch are counted. */
export interface Compliance {
  readonly mlPerCmH2O: MlPerCmH2O;
  /** Worked out from the gas alone, so that the leak is at least as large. */
  readonly atLeast: boolean;
  readonly source: string;
}

/**
 * The leak of a fall: compliance × fall ÷ seconds × 60.
 *
 * @example leakFromFall({ fromCmH2O: 30, toCmH2O: 25, seconds: 10 }, { mlPerCmH2O: 8, … }) //=> 240
 */
export function leakFromFall(
  { fromCmH2O, toCmH2O, seconds }: Fall,
  { mlPerCmH2O: compliance }: Compliance,
): MlPerMin {
  return mlPerMin(((compliance * (fromCmH2O - toCmH2O)) / seconds) * 60);
}

/**
 * The compliance of a timed rise: the gas that flowed in ÷ the rise.
 *
 * @example complianceOfRise({ flowMlPerMin: 1000, fromCmH2O: 10, toCmH2O: 30, seconds: 9.6 }) //=> 8
 */
export function complianceOfRise(rise: Fall & { readonly flowMlPerMin: MlPerMin }): MlPerCmH2O {
  return mlPerCmH2O((rise.flowMlPerMin * rise.seconds) / 60 / (rise.toCmH2O - rise.fromCmH2O));
}

/** The volume under pressure, as far as the inventory knows it. null: nothing of it. */
export function knownVolumeMl(circuit: Circuit, machine: Machine, bagMl: Ml | null): Ml | null {
  const internal = classOf(circuit.kind) === 'rebreathing' ? machine.internalVolumeMl : null;
  const known = [circuit.volumeMl, internal, bagMl].filter(volume => volume !== null);
  return known.length === 0 ? null : ml(known.reduce((sum, volume) => sum + volume, 0));
}

/**
 * What the gas in a volume takes up, with stiff walls: an ideal gas at constant temperature takes up its own share for each
 * part of the atmosphere's pressure. The least compliance that a volume can have.
 *
 * @example gasCompliance(ml(1033)) //=> 1
 */
export function gasCompliance(volume: Ml): MlPerCmH2O {
  return mlPerCmH2O(volume / ATMOSPHERE_CMH2O);
}

/**
 * The compliance of a pair: as last measured, as the inventory states it, or at least that of the gas in the known volume.
 * The gas alone is the floor: a figure below it cannot be, whoever gave it, and would make a leak look harmless.
 */
export function complianceOfPair(
  pair: PairStanding | undefined,
  circuit: Circuit,
  machine: Machine,
  bagMl: Ml | null,
): Compliance | null {
  const volume = knownVolumeMl(circuit, machine, bagMl);
  const given = givenCompliance(pair, circuit);
  if (volume === null) return given;
  const floor = gasCompliance(volume);
  const isPossible = given === null || isAtLeast(given.mlPerCmH2O, floor);
  if (given !== null && isPossible) return given;
  const gas = `the gas alone in the ${volume} mL that are known`;
  const source = isPossible ? gas : `${gas}; the figure ${given?.source ?? ''} is less`;
  return { mlPerCmH2O: floor, atLeast: true, source };
}

function givenCompliance(pair: PairStanding | undefined, circuit: Circuit): Compliance | null {
  const measured = pair?.compliances.at(-1);
  if (measured !== undefined) {
    return { mlPerCmH2O: measured.mlPerCmH2O, atLeast: false, source: `measured on ${measured.done.date}` };
  }
  if (circuit.complianceMlPerCmH2O === null) return null;
  return {
    mlPerCmH2O: circuit.complianceMlPerCmH2O,
    atLeast: false,
    source: `compliance_ml_cmh2o of ${circuit.id} in the inventory`,
  };
}

/** The leak as a hold's line keeps it, to 0.1 mL/min; undefined where nothing fell or nothing is known of the volume. */
export function leakOfHold(fall: Fall | undefined, compliance: Compliance | null): HoldEntry['leak'] {
  if (fall === undefined || compliance === null || fall.fromCmH2O <= fall.toCmH2O) return undefined;
  return { ml_min: roundTo(leakFromFall(fall, compliance), 0.1), at_least: compliance.atLeast };
}
