/** What a plan comes to at a weight, without the figures that move with every gram: what makes two weights one band. */

import type { Timestamp } from '../calendar/zone.ts';
import type {
  Circuit,
  CircuitClass,
  Inventory,
  Machine,
  Phase,
  Rule,
  Species,
} from '../inventory/inventory.ts';
import { PHASES } from '../inventory/inventory.ts';
import type { MisfitCode } from '../plan/fit.ts';
import { type LeakHold, leakHoldFor } from '../plan/leak-hold.ts';
import { type ClassPlan, type Plan, planCase } from '../plan/plan.ts';
import { type EquipmentState, requestFor } from '../plan/request.ts';
import { classAt, type Zone } from '../plan/zone.ts';
import type { Kg, Ml, MlPerKgMin, MlPerMin, Range } from '../quantity/units.ts';

/**
 * `served`: a plan has its pair. `other_class_only`: where both classes may serve, the leading one has none, the other has.
 * `none`: nothing fits. `implausible`: hardly possible for the species, the plan stops until the weight is confirmed.
 */
export type Status = 'served' | 'other_class_only' | 'none' | 'implausible';

/** How the flow of a phase is worked out. */
export interface PhaseFormula {
  readonly phase: Phase;
  readonly perKg: Rule<Range<MlPerKgMin>>;
  readonly minimum: Rule<MlPerMin>;
  /** Which ends of the range the floor has raised. */
  readonly minimumApplied: 'none' | 'low' | 'both';
}

/** One class's answer. */
export interface Service {
  readonly circuitClass: CircuitClass;
  readonly circuit: Circuit;
  readonly machine: Machine;
  readonly phases: readonly PhaseFormula[];
  readonly leakHold: LeakHold;
}

export interface BagChoice {
  /** null: none in stock. */
  readonly sizeMl: Ml | null;
  /** Whether it is at least as large as wanted. */
  readonly isLargeEnough: boolean;
}

/** Why a circuit does not serve. */
export interface WhyNot {
  readonly circuit: string;
  readonly code: MisfitCode;
  readonly words: string;
}

export interface Outcome {
  readonly status: Status;
  readonly zone: Zone;
  readonly main: Service | null;
  /** The other class, where both may serve. */
  readonly other: Service | null;
  /** Whether a non-rebreathing circuit stands in for a circle. */
  readonly isSubstitute: boolean;
  /** null: no tidal volume for the species, or nothing serves. */
  readonly bag: BagChoice | null;
  /** Where nothing serves: the nearest reason of each circuit. */
  readonly whyNot: readonly WhyNot[];
  /** Equal for two weights when all of the above is, but for `whyNot`. */
  readonly key: string;
}

export interface ChartRequest {
  readonly fromKg: Kg;
  readonly toKg: Kg;
  readonly species: Species | null;
  /** Only this machine. */
  readonly machine: string | null;
}

/** Plans at a weight and keeps what a band is made of. */
export function outcomeAt(
  weightKg: Kg,
  inventory: Inventory,
  equipment: EquipmentState,
  { species, machine }: Pick<ChartRequest, 'species' | 'machine'>,
  at: Timestamp,
): Outcome {
  const plan = planCase(inventory, equipment, requestFor(weightKg, { species, machine }), at);
  return outcomeOf(plan);
}

/** @example outcomeOf(planCase(…)).main?.circuit.id //=> 'bain-1' */
function outcomeOf(plan: Plan): Outcome {
  const main = serviceOf(plan.main, plan.inventory);
  const other = serviceOf(plan.other, plan.inventory);
  const status = statusOf(plan, main, other);
  const isServed = main !== null || other !== null;
  const outcome = {
    status,
    zone: plan.zone,
    main,
    other,
    isSubstitute: main !== null && main.circuitClass !== classAt(plan.inventory.rules, plan.request.weightKg),
    bag:
      plan.bag === null || !isServed
        ? null
        : { sizeMl: plan.bag.sizeMl, isLargeEnough: !plan.bag.notStocked },
  };
  return { ...outcome, whyNot: main === null ? whyNotOf(plan.main) : [], key: keyOf(outcome) };
}

function statusOf(plan: Plan, main: Service | null, other: Service | null): Status {
  if (plan.main === null) return 'implausible';
  if (main !== null) return 'served';
  return other === null ? 'none' : 'other_class_only';
}

/** A pair that only a forced machine made possible is a stop in a plan, and no service here. */
function serviceOf(part: ClassPlan | null, inventory: Inventory): Service | null {
  if (part === null || part.choice.pair === null || part.choice.misfits.length > 0) return null;
  const { circuit, machine } = part.choice.pair;
  const { mlPerKgMin, minimumMlPerMin } = inventory.rules.freshGasFlow;
  return {
    circuitClass: part.circuitClass,
    circuit,
    machine,
    phases: PHASES.map(phase => ({
      phase,
      perKg: mlPerKgMin[part.circuitClass][phase],
      minimum: minimumMlPerMin,
      minimumApplied: part.flows?.phases[phase].minimumApplied ?? 'none',
    })),
    leakHold: leakHoldFor(inventory, circuit, machine),
  };
}

/** One reason a circuit, as a plan prints them; that it is of the other class goes without saying. */
function whyNotOf(part: ClassPlan | null): WhyNot[] {
  if (part === null) return [];
  const { passedOver, pair, misfits } = part.choice;
  const forced =
    pair === null ? [] : misfits.map(({ code, reason }) => ({ circuit: pair.circuit.id, code, reason }));
  const first = new Map<string, WhyNot>();
  for (const { circuit, code, reason } of [...forced, ...passedOver]) {
    if (code === 'wrong_class' || first.has(circuit)) continue;
    // The plan names the flow at its one weight; a band has many.
    first.set(circuit, { circuit, code, words: reason.replace(/^needs [^;]*; /, 'needs more flow: ') });
  }
  return [...first.values()];
}

function keyOf({ status, zone, main, other, isSubstitute, bag }: Omit<Outcome, 'key' | 'whyNot'>): string {
  if (status === 'implausible' || status === 'none') return status;
  return JSON.stringify([zone, isSubstitute, bag, serviceKey(main), serviceKey(other)]);
}

function serviceKey(service: Service | null): unknown {
  if (service === null) return null;
  const { circuitClass, circuit, machine, phases, leakHold } = service;
  const { reasons: _, ...hold } = leakHold;
  return [
    circuitClass,
    circuit.id,
    circuit.kind,
    machine.id,
    phases.map(({ perKg, minimum, minimumApplied }) => [perKg.value, minimum.value, minimumApplied]),
    hold,
  ];
}
