/**
 * One case: from the weight to circuit, machine, flow, bag and leak test, with every caution and every reason.
 *
 * Pure: no file, no clock. What the record knows comes in as `EquipmentState`.
 */
import type { Timestamp } from '../calendar/zone.ts';
import { type CircuitClass, classOf, type Inventory } from '../inventory/inventory.ts';
import { chooseBag, type ReservoirBag } from './bag.ts';
import { type Caution, worstFirst } from './caution.ts';
import { cautionsOf } from './cautions.ts';
import {
  type Choice,
  chooseFitting,
  choosePair,
  chooseSubstitute,
  type Forced,
  type PassedOver,
} from './choose.ts';
import { type FitCase, type Pair, pairFlows, supplyOf } from './fit.ts';
import type { Flows } from './flow.ts';
import { type LeakHold, leakHoldFor } from './leak-hold.ts';
import { implausibleIdeal, implausibleWeight } from './patient.ts';
import type { Reason } from './reason.ts';
import type { EquipmentState, HoldState, PlanRequest } from './request.ts';
import { type Steps, stepsFor } from './steps.ts';
import type { SupplyCase } from './supplies/case.ts';
import { supplyCautions } from './supplies/cautions.ts';
import { type Supplies, suppliesOf } from './supplies/supplies.ts';
import { classAt, otherClass, type Zone, zoneOf } from './zone.ts';

/** What one class of circuit comes to: the main answer, or the other one beside it. */
export interface ClassPlan {
  readonly circuitClass: CircuitClass;
  readonly choice: Choice;
  /** null where no pair fits. */
  readonly flows: Flows | null;
}

export interface Plan {
  readonly at: Timestamp;
  readonly inventory: Inventory;
  readonly request: PlanRequest;
  readonly zone: Zone;
  /** null where the weight is implausible and not confirmed: then nothing is worked out. */
  readonly main: ClassPlan | null;
  /** The other class, where two are shown. */
  readonly other: ClassPlan | null;
  /** The same for both classes. null where the practice has no tidal volume for the species. */
  readonly bag: ReservoirBag | null;
  readonly leakHold: (LeakHold & HoldState) | null;
  readonly steps: Steps | null;
  /** null where there is no pair. */
  readonly supplies: Supplies | null;
  /** Worst first. */
  readonly cautions: readonly Caution[];
  readonly reasons: readonly Reason[];
}

/** What the cautions are worked out from: the plan so far and how it came about. */
export interface Draft extends Omit<Plan, 'cautions' | 'supplies'> {
  readonly fit: FitCase;
  readonly equipment: EquipmentState;
  /** Why the weight is implausible; null where it is plausible. */
  readonly implausible: string | null;
  /** Whether actual and ideal weight give different classes. */
  readonly classDiffers: boolean;
  /** The class that the weight asked for, where one of the other class was taken. */
  readonly substitutedFor: CircuitClass | null;
}

/**
 * Plans a case.
 *
 * @example planCase(inventory, NO_RECORD, { weightKg: kg(6.8), species: 'dog', … }, at).main?.choice.pair?.circuit.id //=> 'bain-1'
 */
export function planCase(
  inventory: Inventory,
  equipment: EquipmentState,
  request: PlanRequest,
  at: Timestamp,
): Plan {
  const draft = draftCase(inventory, equipment, request, at);
  const { fit, equipment: _, implausible, classDiffers, substitutedFor, ...plan } = draft;
  const supplyCase = supplyCaseOf(draft);
  const supplies = supplyCase === null ? null : suppliesOf(supplyCase);
  const ofSupplies = supplyCase === null || supplies === null ? [] : supplyCautions(supplies, supplyCase);
  return {
    ...plan,
    supplies,
    cautions: worstFirst([...cautionsOf(draft), ...ofSupplies]),
    reasons: [...plan.reasons, ...(supplies?.reasons ?? [])],
  };
}

function supplyCaseOf({ main, fit, inventory, equipment, request, bag }: Draft): SupplyCase | null {
  const pair = main?.choice.pair;
  if (!pair || main?.flows == null) return null;
  const supply = supplyOf(pair.machine, inventory, equipment);
  return { inventory, equipment, request, weights: fit.weights, pair, flows: main.flows, bag, supply };
}

function draftCase(
  inventory: Inventory,
  equipment: EquipmentState,
  request: PlanRequest,
  at: Timestamp,
): Draft {
  const { rules } = inventory;
  const { weightKg, idealWeightKg, species } = request;
  const classKg = idealWeightKg ?? weightKg;
  const fit: FitCase = { inventory, equipment, weights: { actualKg: weightKg, classKg } };
  const implausible =
    implausibleWeight(weightKg, species) ??
    implausibleWeight(classKg, species) ??
    implausibleIdeal(weightKg, classKg);
  const actualClass = classAt(rules, weightKg);
  const base = {
    at,
    inventory,
    request,
    fit,
    equipment,
    implausible,
    zone: zoneOf(rules, classKg),
    classDiffers: classAt(rules, classKg) !== actualClass,
  };
  if (implausible !== null && !request.weightConfirmed) {
    return {
      ...base,
      main: null,
      other: null,
      bag: null,
      leakHold: null,
      steps: null,
      reasons: [],
      substitutedFor: null,
    };
  }

  const { main, substitutedFor } = chooseMain(base);
  const pair = main.choice.pair;
  const showsOther = base.zone === 'between' || base.classDiffers;
  const other = showsOther ? otherPlan(otherClass(main.circuitClass), fit, request) : null;
  const bag = chooseBag(inventory, equipment, classKg, species, request.bagMl);
  const leakHold = pair === null ? null : holdOf(pair, inventory, equipment);
  return {
    ...base,
    main,
    other,
    bag,
    leakHold,
    steps: pair === null || leakHold === null ? null : stepsFor(pair.machine, pair.circuit, rules),
    reasons: reasonsOf(main, other, bag, leakHold),
    substitutedFor,
  };
}

/** The main answer: a forced circuit sets the class, else the weight does; where nothing fits, what may stand in. */
function chooseMain(draft: Pick<Draft, 'inventory' | 'request' | 'fit' | 'classDiffers'>): {
  main: ClassPlan;
  substitutedFor: CircuitClass | null;
} {
  const { inventory, request, fit, classDiffers } = draft;
  const forced: Forced = { circuit: request.circuit, machine: request.machine };
  const forcedCircuit = inventory.circuits.find(({ id }) => id === request.circuit);
  const wanted =
    forcedCircuit === undefined ? classAt(inventory.rules, fit.weights.classKg) : classOf(forcedCircuit.kind);
  const main = classPlan(wanted, fit, forced);
  if (main.choice.pair !== null || forcedCircuit !== undefined) return { main, substitutedFor: null };

  const standIn = substitute(wanted, fit, forced, classDiffers);
  // A circuit that was looked at as a stand-in has a better reason than that it is of the other class.
  const passedOver = withReasonsOf(standIn?.choice.passedOver ?? [], main.choice.passedOver).filter(
    ({ circuit, machine }) =>
      circuit !== standIn?.choice.pair?.circuit.id || machine !== standIn.choice.pair.machine.id,
  );
  if (standIn === null || standIn.choice.pair === null)
    return { main: { ...main, choice: { ...main.choice, passedOver } }, substitutedFor: null };
  return { main: { ...standIn, choice: { ...standIn.choice, passedOver } }, substitutedFor: wanted };
}

/**
 * What may stand in, or why nothing may. A patient for a circle may go on a non-rebreathing circuit that is made for its
 * weight. Never the other way round, unless actual and ideal weight give different classes: then either may serve.
 */
function substitute(
  wanted: CircuitClass,
  fit: FitCase,
  forced: Forced,
  classDiffers: boolean,
): ClassPlan | null {
  const standIn =
    wanted === 'rebreathing'
      ? withFlows('non_rebreathing', chooseSubstitute(fit, forced.machine), fit)
      : null;
  if (standIn?.choice.pair != null || !classDiffers) return standIn;
  return classPlan(otherClass(wanted), fit, forced);
}

function withReasonsOf(better: readonly PassedOver[], all: readonly PassedOver[]): PassedOver[] {
  return all.map(
    entry =>
      better.find(
        ({ circuit, machine, code }) =>
          code !== 'wrong_class' && circuit === entry.circuit && machine === entry.machine,
      ) ?? entry,
  );
}

function classPlan(circuitClass: CircuitClass, fit: FitCase, forced: Forced): ClassPlan {
  return withFlows(circuitClass, choosePair(circuitClass, fit, forced), fit);
}

/** The class beside the main one. A machine that was named holds for both: the person stands in front of it. */
function otherPlan(circuitClass: CircuitClass, fit: FitCase, { machine }: PlanRequest): ClassPlan {
  return withFlows(circuitClass, chooseFitting(circuitClass, fit, machine), fit);
}

function withFlows(circuitClass: CircuitClass, choice: Choice, fit: FitCase): ClassPlan {
  return { circuitClass, choice, flows: choice.pair === null ? null : pairFlows(choice.pair, fit) };
}

/** Every figure that is shown has its reasons; those of the other class stand under `between`. */
function reasonsOf(
  main: ClassPlan,
  other: ClassPlan | null,
  bag: ReservoirBag | null,
  leakHold: LeakHold | null,
): Reason[] {
  const own =
    main.choice.pair === null ? [] : [main.flows, bag, leakHold].flatMap(part => part?.reasons ?? []);
  if (other === null || other.choice.pair === null) return own;
  const beside = [other.flows, bag]
    .flatMap(part => part?.reasons ?? [])
    .filter(({ figure }) => !figure.startsWith('phases.'));
  return [...own, ...beside.map(reason => ({ ...reason, figure: `between.${reason.figure}` }))];
}

function holdOf(
  { circuit, machine }: Pair,
  inventory: Inventory,
  equipment: EquipmentState,
): LeakHold & HoldState {
  const hold = equipment.hold(circuit.id, machine.id);
  // A damaged record may have lost the entry that undid the pass.
  const known =
    equipment.record === 'damaged' && hold.state === 'held'
      ? { ...hold, state: 'needed' as const, because: 'the record is damaged' }
      : hold;
  return { ...leakHoldFor(inventory, circuit, machine), ...known };
}

/** Whether a plan holds something that must keep the patient off this equipment (exit 1). */
export function hasStop({ cautions }: Pick<Plan, 'cautions'>): boolean {
  return cautions.some(({ level }) => level === 'stop');
}
