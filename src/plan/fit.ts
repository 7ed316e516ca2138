/**
 * Whether a circuit on a machine fits a patient. An ordered list of checks of one signature: the first misfit is the reason
 * that a person reads, all of them count when the pair is forced.
 */
import {
  type Circuit,
  type CircuitClass,
  type CircuitKind,
  classOf,
  driveOf,
  type Inventory,
  type Machine,
  type OxygenSupply,
} from '../inventory/inventory.ts';
import type { CautionCode } from '../problem/codes.ts';
import { isAbove, isAtLeast } from '../quantity/compare.ts';
import { formatFlow, formatNumber } from '../quantity/format.ts';
import type { Kg } from '../quantity/units.ts';
import { type Flows, flowsFor, highestMark } from './flow.ts';
import type { EquipmentState } from './request.ts';

export interface Pair {
  readonly circuit: Circuit;
  readonly machine: Machine;
}

/** The weights that matter for the choice. `classKg` is the ideal weight where there is one, else the actual. */
export interface Weights {
  readonly actualKg: Kg;
  readonly classKg: Kg;
}

export interface FitCase {
  readonly inventory: Inventory;
  readonly equipment: EquipmentState;
  readonly weights: Weights;
}

/** Why a pair does not fit, in the order in which the checks look: the further down, the nearer the pair came. */
export const MISFIT_CODES = [
  'wrong_class',
  'circuit_out_of_service',
  'machine_out_of_service',
  'not_driven',
  'outside_weights',
  'too_small_for_circle',
  'oxygen_out_of_service',
  'flow_above_flowmeter',
  'flow_above_supply',
  'hold_failed',
] as const;

export type MisfitCode = (typeof MISFIT_CODES)[number];

/** Misfits whose reason begins with the machine: no circuit is put before it. */
export const REASONS_OF_MACHINE: readonly MisfitCode[] = [
  'machine_out_of_service',
  'not_driven',
  'oxygen_out_of_service',
];

export interface Misfit {
  readonly code: MisfitCode;
  /** Which part is to blame: forcing the other part does not excuse it. */
  readonly part: 'circuit' | 'machine' | 'pair';
  /** What it becomes when the pair is forced. */
  readonly caution: CautionCode;
  /** In words, without the ids of the pair: "is for 2 to 12 kg". */
  readonly reason: string;
}

type FitCheck = (pair: Pair, fit: FitCase) => Misfit | null;

/** In the order in which a person would want to hear of them. */
const FIT_CHECKS: readonly FitCheck[] = [
  circuitInService,
  machineInService,
  absorberInService,
  driven,
  withinWeights,
  largeEnoughForCircle,
  oxygenInService,
  withinFlowmeter,
  withinSupply,
  notFailed,
];

/** Every reason for which a pair does not fit; empty where it does. */
export function misfitsOf(pair: Pair, fit: FitCase): Misfit[] {
  return FIT_CHECKS.flatMap(check => check(pair, fit) ?? []);
}

export function wrongClass(wanted: CircuitClass): Misfit {
  const reason = wanted === 'rebreathing' ? 'not a rebreathing circuit' : 'not a non-rebreathing circuit';
  return { code: 'wrong_class', part: 'circuit', caution: 'class_forced', reason };
}

function circuitInService({ circuit }: Pair, { equipment }: FitCase): Misfit | null {
  const why = equipment.outOfService(circuit.id);
  return why === null
    ? null
    : {
        code: 'circuit_out_of_service',
        part: 'circuit',
        caution: 'circuit_withdrawn',
        reason: `out of service: ${why}`,
      };
}

function machineInService({ machine }: Pair, { equipment }: FitCase): Misfit | null {
  const why = equipment.outOfService(machine.id);
  return why === null
    ? null
    : {
        code: 'machine_out_of_service',
        part: 'machine',
        caution: 'circuit_withdrawn',
        reason: `${machine.id} is out of service: ${why}`,
      };
}

/** A circle breathes through the absorber of the machine. */
function absorberInService({ circuit, machine }: Pair, { equipment }: FitCase): Misfit | null {
  const why = machine.absorber === null ? null : equipment.outOfService(machine.absorber.id);
  if (why === null || machine.absorber === null || classOf(circuit.kind) === 'non_rebreathing') return null;
  return {
    code: 'machine_out_of_service',
    part: 'machine',
    caution: 'circuit_withdrawn',
    reason: `${machine.absorber.id} is out of service: ${why}`,
  };
}

function driven({ circuit, machine }: Pair): Misfit | null {
  if (machine.drives.includes(driveOf(circuit.kind))) return null;
  const reason = `${machine.id} does not drive a ${KIND_WORDS[circuit.kind]}`;
  return { code: 'not_driven', part: 'pair', caution: 'circuit_not_driven', reason };
}

function withinWeights({ circuit }: Pair, { weights }: FitCase): Misfit | null {
  if (circuit.weightsKg === null) return null;
  const [low, high] = circuit.weightsKg;
  if (isAtLeast(weights.classKg, low) && isAtLeast(high, weights.classKg)) return null;
  return {
    code: 'outside_weights',
    part: 'circuit',
    caution: 'circuit_outside_weights',
    reason: `is for ${low} to ${high} kg`,
  };
}

function largeEnoughForCircle({ circuit }: Pair, { inventory, weights }: FitCase): Misfit | null {
  const limit = inventory.rules.circleNeverBelowKg.value;
  // The smaller of the two weights: lungs do not grow with fat, and thin patients are as weak as they weigh.
  const smaller = Math.min(weights.actualKg, weights.classKg);
  if (classOf(circuit.kind) === 'non_rebreathing' || isAtLeast(smaller, limit)) return null;
  const reason = `is a circle; none is used below ${formatNumber(limit)} kg`;
  return { code: 'too_small_for_circle', part: 'circuit', caution: 'circle_too_small_patient', reason };
}

function oxygenInService({ machine }: Pair, { inventory, equipment }: FitCase): Misfit | null {
  if (supplyOf(machine, inventory, equipment) !== null) return null;
  const reason = `no oxygen supply of ${machine.id} is in service`;
  return { code: 'oxygen_out_of_service', part: 'machine', caution: 'oxygen_out_of_service', reason };
}

function withinFlowmeter(pair: Pair, fit: FitCase): Misfit | null {
  const { highestSetMlPerMin: highest } = pairFlows(pair, fit);
  const limit = highestMark(pair.machine.flowmeter);
  if (!isAbove(highest, limit)) return null;
  const reason = `needs ${formatFlow(highest)}; the flowmeter of ${pair.machine.id} ends at ${formatFlow(limit)}`;
  return { code: 'flow_above_flowmeter', part: 'pair', caution: 'flow_above_maximum', reason };
}

function withinSupply(pair: Pair, fit: FitCase): Misfit | null {
  const supply = supplyOf(pair.machine, fit.inventory, fit.equipment);
  if (supply?.kind !== 'concentrator') return null;
  const { highestSetMlPerMin: highest } = pairFlows(pair, fit);
  if (!isAbove(highest, supply.maxMlPerMin)) return null;
  const reason = `needs ${formatFlow(highest)}; ${supply.id} gives at most ${formatFlow(supply.maxMlPerMin)}`;
  return { code: 'flow_above_supply', part: 'pair', caution: 'flow_above_maximum', reason };
}

function notFailed({ circuit, machine }: Pair, { equipment }: FitCase): Misfit | null {
  const { state, last } = equipment.hold(circuit.id, machine.id);
  if (state !== 'failed') return null;
  const failed = `failed its leak test on ${machine.id}`;
  const words = last === null ? failed : `${failed}: ${last.words}`;
  return { code: 'hold_failed', part: 'pair', caution: 'hold_failed', reason: words };
}

/** The flows of a pair go by the actual weight. */
export function pairFlows({ circuit, machine }: Pair, { inventory, weights }: FitCase): Flows {
  return flowsFor(inventory, machine, classOf(circuit.kind), weights.actualKg);
}

/** The first of a machine's oxygen supplies that is in service. */
export function supplyOf(
  machine: Machine,
  inventory: Inventory,
  equipment: EquipmentState,
): OxygenSupply | null {
  const inService = machine.oxygen.filter(id => equipment.outOfService(id) === null);
  return inventory.supplies.find(({ id }) => id === inService[0]) ?? null;
}

/** The trade's words for the kinds. */
export const KIND_WORDS: Readonly<Record<CircuitKind, string>> = {
  t_piece: 'T-piece',
  bain: 'Bain',
  circle_y: 'circle with Y-piece',
  circle_coaxial: 'coaxial circle',
};

/** "rebreathing" and "non-rebreathing" as the trade writes them. */
export const CLASS_WORDS: Readonly<Record<CircuitClass, string>> = {
  rebreathing: 'rebreathing',
  non_rebreathing: 'non-rebreathing',
};
