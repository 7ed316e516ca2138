/** A plan as holdfast.plan/1. Figures are rounded here, at the last step, and nowhere before. */
import type { Bag, Flow, Phase, PlanDocument, System } from '../generated/plan-document.ts';
import { PHASES } from '../inventory/inventory.ts';
import type { ReservoirBag } from '../plan/bag.ts';
import type { PhaseFlow } from '../plan/flow.ts';
import type { ClassPlan, Plan } from '../plan/plan.ts';
import type { Reason } from '../plan/reason.ts';
import { roundTo } from '../quantity/compare.ts';
import { poundsFromKg } from '../quantity/convert.ts';
import { SAFETY_LINE } from './safety.ts';
import { suppliesDocument } from './supplies-json.ts';

/** The document for a plan; `schemas/plan.schema.json` is its shape. */
export function planDocument(plan: Plan): PlanDocument {
  const { request, main, other, inventory } = plan;
  const flows = main?.flows ?? null;
  return {
    format: 'holdfast.plan/1',
    at: plan.at,
    inventory: { file: inventory.file, blob: inventory.blob, practice: inventory.practice.name },
    patient: {
      weight_kg: roundTo(request.weightKg, 0.001),
      weight_lb: roundTo(poundsFromKg(request.weightKg), 0.01),
      species: request.species,
      ideal_weight_kg: request.idealWeightKg === null ? null : roundTo(request.idealWeightKg, 0.001),
      case: request.caseRef,
    },
    system: systemDocument(main, plan),
    fresh_gas_flow: flows === null ? null : flowDocument(flows.phases.maintenance),
    phases:
      flows === null ? [] : PHASES.map((phase): Phase => ({ phase, ...flowDocument(flows.phases[phase]) })),
    reservoir_bag: main?.choice.pair ? bagDocument(plan.bag) : null,
    leak_hold: leakHoldDocument(plan),
    steps: mutable(plan.steps ?? { connect: [], hold: [], watch: [], back: [] }),
    between: other === null ? null : otherDocument(other, plan),
    supplies: suppliesDocument(plan.supplies),
    cautions: plan.cautions.map(({ code, level, message }) => ({ code, level, message })),
    reasons: plan.reasons.map(reasonDocument),
    safety: SAFETY_LINE,
  };
}

function systemDocument(part: ClassPlan | null, { zone }: Plan): System {
  if (part === null) {
    return { class: null, zone: null, circuit: null, kind: null, machine: null, passed_over: [] };
  }
  const { pair, passedOver } = part.choice;
  return {
    class: part.circuitClass,
    zone,
    circuit: pair?.circuit.id ?? null,
    kind: pair?.circuit.kind ?? null,
    machine: pair?.machine.id ?? null,
    passed_over: passedOver.map(({ circuit, machine, code, reason }) => ({ circuit, machine, code, reason })),
  };
}

function flowDocument({ lowMlPerMin, highMlPerMin, setMlPerMin, minimumApplied }: PhaseFlow): Flow {
  return {
    low_ml_min: roundTo(lowMlPerMin, 0.1),
    high_ml_min: roundTo(highMlPerMin, 0.1),
    set_ml_min: roundTo(setMlPerMin, 0.1),
    minimum_applied: minimumApplied,
  };
}

function bagDocument(bag: ReservoirBag | null): Bag | null {
  if (bag === null) return null;
  return {
    wanted_low_ml: roundTo(bag.wantedLowMl, 0.1),
    wanted_high_ml: roundTo(bag.wantedHighMl, 0.1),
    wanted_ml: roundTo(bag.wantedMl, 0.1),
    size_ml: bag.sizeMl === null ? null : roundTo(bag.sizeMl, 0.1),
    covers_high: bag.coversHigh,
  };
}

function leakHoldDocument({ leakHold }: Plan): PlanDocument['leak_hold'] {
  if (leakHold === null) return null;
  return {
    pressure_cmh2o: leakHold.pressureCmH2O,
    seconds: leakHold.seconds,
    fill: leakHold.fill,
    watch: leakHold.watch,
    drop_cmh2o: leakHold.dropCmH2O,
    make_up_ml_min: roundTo(leakHold.makeUpMlPerMin, 0.1),
    state: leakHold.state,
    last: leakHold.last,
    because: leakHold.because,
  };
}

function otherDocument(other: ClassPlan, plan: Plan): NonNullable<PlanDocument['between']> {
  return {
    system: systemDocument(other, plan),
    fresh_gas_flow: other.flows === null ? null : flowDocument(other.flows.phases.maintenance),
    reservoir_bag: other.choice.pair === null ? null : bagDocument(plan.bag),
  };
}

function reasonDocument({
  figure,
  value,
  formula,
  inputs,
  rules,
  source,
}: Reason): PlanDocument['reasons'][number] {
  return {
    figure,
    value: typeof value === 'number' ? roundAsFigure(figure, value) : value,
    formula,
    inputs: { ...inputs },
    rule: rules[0] ?? null,
    rules: [...rules],
    source,
  };
}

/** Rounded as the figure itself, so that the two are the same number. The unit stands in the figure's key. */
function roundAsFigure(figure: string, value: number): number {
  if (/_ml(_min)?$/.test(figure)) return roundTo(value, 0.1);
  if (/_(min|minutes|h|hours|l|g)$/.test(figure)) return roundTo(value, 0.01);
  return /_fraction$/.test(figure) ? roundTo(value, 0.001) : value;
}

function mutable({ connect, hold, watch, back }: NonNullable<Plan['steps']>): PlanDocument['steps'] {
  return { connect: [...connect], hold: [...hold], watch: [...watch], back: [...back] };
}
