/** What may serve a case: pairs of circuit and machine, and sizes of bag, each in the practice's order of preference. */
import { type CircuitClass, classOf, type Inventory, type OxygenSupply } from '../inventory/inventory.ts';
import { type ReservoirBag, stockedSizes } from '../plan/bag.ts';
import { type FitCase, misfitsOf, type Pair, pairFlows, supplyOf } from '../plan/fit.ts';
import { hasStop, type Plan, planCase } from '../plan/plan.ts';
import { type EquipmentState, type PlanRequest, requestFor } from '../plan/request.ts';
import { vaporizersFor } from '../plan/supplies/agent.ts';
import { classAt, otherClass } from '../plan/zone.ts';
import { isAtLeast } from '../quantity/compare.ts';
import type { Ml, MlPerMin } from '../quantity/units.ts';
import type { DayCase } from './day-case.ts';

export interface CandidatePair {
  readonly pair: Pair;
  /** Whether it stands in for a circuit of the class that the weight asks for. */
  readonly standsIn: boolean;
  /** What the pair draws from its supply at most, where that gives only so much. */
  readonly draws: {
    readonly supply: OxygenSupply & { readonly kind: 'concentrator' };
    readonly flowMlPerMin: MlPerMin;
  } | null;
}

export interface Candidates {
  readonly request: PlanRequest;
  /** Empty where the case cannot be served at all; the plan then says why. */
  readonly pairs: readonly CandidatePair[];
  /** The plan for the case alone, as `holdfast plan` gives it. */
  readonly alone: Plan;
  /** The size wanted and the next larger one; empty where no bag is worked out or none is in stock. */
  readonly bagSizes: readonly Ml[];
}

export interface DayScene {
  readonly inventory: Inventory;
  /** What is known of the equipment on that day, for a case with this reference. */
  equipmentFor(caseRef: string | null): EquipmentState;
  /** When it is planned, with the practice's offset. */
  readonly at: string;
}

function requestOf(dayCase: DayCase): PlanRequest {
  const { weightKg, species, idealWeightKg, machine, circuit, minutes, agent, settingPercent, ref } = dayCase;
  return requestFor(weightKg, {
    species,
    idealWeightKg,
    machine,
    circuit,
    minutes,
    agent,
    settingPercent,
    caseRef: ref,
    weightConfirmed: dayCase.weightConfirmed,
  });
}

/**
 * The pairs in order: those of the class that the weight asks for, then those that may stand in, each in the order of the
 * inventory. With an agent, only machines with a vaporizer for it. What the list names is kept. Where nothing fits but what
 * it names goes with a caution, that is the one pair.
 */
export function candidatesFor(dayCase: DayCase, scene: DayScene): Candidates {
  const { inventory } = scene;
  const request = requestOf(dayCase);
  const equipment = scene.equipmentFor(dayCase.ref);
  const alone = planCase(inventory, equipment, request, scene.at);
  if (alone.main === null) return { request, alone, pairs: [], bagSizes: [] };
  const fit = fitOf(dayCase, inventory, equipment);
  const pairs = classesFor(dayCase, inventory).flatMap(step => pairsOf(step, dayCase, fit));
  const { pair } = alone.main.choice;
  if (pairs.length === 0 && pair !== null && !isBarred(alone)) pairs.push(candidate(pair, false, fit));
  return { request, alone, pairs, bagSizes: bagSizesFor(alone.bag, inventory, equipment) };
}

/** The pairs of the other class, which the veterinarian may choose for a weight between the two; empty for other weights. */
export function otherClassPairs(dayCase: DayCase, scene: DayScene, zone: Plan['zone']): CandidatePair[] {
  if (zone !== 'between' || dayCase.circuit !== null) return [];
  const { inventory } = scene;
  const fit = fitOf(dayCase, inventory, scene.equipmentFor(dayCase.ref));
  const circuitClass = otherClass(classAt(inventory.rules, fit.weights.classKg));
  return pairsOf({ circuitClass, standsIn: false, statedOnly: false }, dayCase, fit);
}

interface Step {
  readonly circuitClass: CircuitClass;
  readonly standsIn: boolean;
  /** Only circuits that state the weights they are for. */
  readonly statedOnly: boolean;
}

/** The classes in the order in which they may serve, as for a single plan. */
function classesFor(
  { weightKg, idealWeightKg, circuit: named }: DayCase,
  { rules, circuits }: Inventory,
): Step[] {
  const forced = circuits.find(({ id }) => id === named);
  if (forced !== undefined)
    return [{ circuitClass: classOf(forced.kind), standsIn: false, statedOnly: false }];
  const wanted = classAt(rules, idealWeightKg ?? weightKg);
  const steps: Step[] = [{ circuitClass: wanted, standsIn: false, statedOnly: false }];
  if (wanted === 'rebreathing')
    steps.push({ circuitClass: 'non_rebreathing', standsIn: true, statedOnly: true });
  // Where actual and ideal weight ask for different classes, either may serve.
  else if (classAt(rules, weightKg) !== wanted)
    steps.push({ circuitClass: 'rebreathing', standsIn: true, statedOnly: false });
  return steps;
}

function pairsOf(
  { circuitClass, standsIn, statedOnly }: Step,
  dayCase: DayCase,
  fit: FitCase,
): CandidatePair[] {
  const { inventory, equipment } = fit;
  const circuits = inventory.circuits.filter(
    ({ id, kind, weightsKg }) =>
      classOf(kind) === circuitClass &&
      (dayCase.circuit === null || dayCase.circuit === id) &&
      (!statedOnly || weightsKg !== null),
  );
  const machines = inventory.machines.filter(
    machine =>
      (dayCase.machine === null || dayCase.machine === machine.id) &&
      (dayCase.agent === null || vaporizersFor(machine, dayCase.agent, equipment).length > 0),
  );
  return circuits.flatMap(circuit =>
    machines
      .filter(machine => misfitsOf({ circuit, machine }, fit).length === 0)
      .map(machine => candidate({ circuit, machine }, standsIn, fit)),
  );
}

function candidate(pair: Pair, standsIn: boolean, fit: FitCase): CandidatePair {
  const supply = supplyOf(pair.machine, fit.inventory, fit.equipment);
  const draws =
    supply?.kind === 'concentrator'
      ? { supply, flowMlPerMin: pairFlows(pair, fit).highestSetMlPerMin }
      : null;
  return { pair, standsIn, draws };
}

function fitOf(
  { weightKg, idealWeightKg }: DayCase,
  inventory: Inventory,
  equipment: EquipmentState,
): FitCase {
  return { inventory, equipment, weights: { actualKg: weightKg, classKg: idealWeightKg ?? weightKg } };
}

/** Stops that a check, a hold or a reading before the case can clear do not keep the pair from being assigned. */
const CLEARED_BEFORE = new Set([
  'check_blocks',
  'pop_off_shut',
  'tidal_volume_unknown',
  'oxygen_short',
  'record_damaged',
]);

function isBarred(plan: Plan): boolean {
  return (
    hasStop(plan) && plan.cautions.some(({ level, code }) => level === 'stop' && !CLEARED_BEFORE.has(code))
  );
}

/** The smallest stocked size that is large enough and the next above it, no more; the largest where none is. */
function bagSizesFor(bag: ReservoirBag | null, inventory: Inventory, equipment: EquipmentState): Ml[] {
  if (bag === null) return [];
  const sizes = stockedSizes(inventory, equipment).map(({ sizeMl }) => sizeMl);
  const large = sizes.filter(size => isAtLeast(size, bag.wantedMl));
  return large.length > 0 ? large.slice(0, 2) : sizes.slice(-1);
}

/** The plan for a case on the pair and with the bag that it was given. */
export function planOn(
  candidates: Candidates,
  { pair, standsIn }: CandidatePair,
  bagMl: Ml | null,
  scene: DayScene,
): Plan {
  const { request, alone, bagSizes } = candidates;
  const { inventory } = scene;
  const { circuit, machine } = pair;
  const choice = alone.main?.choice;
  const isSameBag = bagMl === null || bagMl === bagSizes[0];
  const withBag = { ...request, bagMl: isSameBag ? null : bagMl };
  if (choice?.pair?.circuit === circuit && choice.pair.machine === machine && isSameBag) return alone;
  const equipment = scene.equipmentFor(request.caseRef);
  if (!standsIn)
    return planCase(inventory, equipment, { ...withBag, circuit: circuit.id, machine: machine.id }, scene.at);
  // As in a practice that has this pair alone, where it stands in by itself.
  const only = { ...inventory, circuits: [circuit], machines: [machine] };
  return planCase(only, equipment, { ...withBag, circuit: null }, scene.at);
}
