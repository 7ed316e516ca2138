/** A chart as holdfast.chart/1. Weights are left unrounded: an edge is exact. Flows are rounded here and nowhere before. */
import type { Band, BandService } from '../chart/bands.ts';
import type { Chart } from '../chart/chart.ts';
import type { Change } from '../chart/compare.ts';
import { bagMlPerKg } from '../chart/edges.ts';
import type { Finding } from '../chart/findings.ts';
import type { FlowStep } from '../chart/flow-steps.ts';
import type { Outcome } from '../chart/outcome.ts';
import { describeSpan, type End } from '../chart/span.ts';
import type {
  BandEnd,
  ChartBand,
  ChartChange,
  ChartDocument,
  ChartFinding,
  ChartFlowStep,
  ChartInventory,
  ChartService,
  ChartSide,
} from '../generated/chart-document.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { type RuleRef, ruleRef } from '../plan/reason.ts';
import { roundTo } from '../quantity/compare.ts';
import type { WhatIf } from './chart-text.ts';
import { safeJson } from './safe-text.ts';
import { SAFETY_LINE } from './safety.ts';

/** The document as text, indented, with a line break at the end. */
export function renderChartJson(chart: Chart, whatIf: WhatIf | null = null): string {
  return `${safeJson(chartDocument(chart, whatIf), 2)}\n`;
}

/** The document for a chart; `schemas/chart.schema.json` is its shape. */
export function chartDocument(chart: Chart, whatIf: WhatIf | null): ChartDocument {
  const { inventory, request } = chart;
  const bag = bagMlPerKg(inventory, request.species);
  return {
    format: 'holdfast.chart/1',
    at: chart.at,
    inventory: inventoryDocument(inventory),
    record: chart.record,
    entries_in_future: chart.entriesInFuture,
    species: request.species,
    machine: request.machine,
    from_kg: request.fromKg,
    to_kg: request.toKg,
    out_of_service: chart.outOfService.map(({ asset, because }) => ({ asset, because })),
    failed_pairs: chart.failedPairs.map(({ asset, because }) => ({ asset, because })),
    bag_formula:
      bag === null
        ? null
        : { ml_kg: bag.value, formula: bag.formula, rules: bag.rules.map(rule => ({ ...ruleRef(rule) })) },
    bands: chart.bands.map(bandDocument),
    findings: chart.findings.map(findingDocument),
    what_if:
      whatIf === null
        ? null
        : {
            without: [...whatIf.without],
            present: inventoryDocument(whatIf.present.inventory),
            changes: whatIf.changes.map(changeDocument),
            new_findings: whatIf.newFindings.map(findingDocument),
            gone_findings: whatIf.goneFindings.map(findingDocument),
          },
    safety: SAFETY_LINE,
  };
}

function inventoryDocument({ file, blob, practice }: Inventory): ChartInventory {
  return { file, blob, practice: practice.name };
}

function endDocument({ edge, included }: End): BandEnd {
  return {
    kg: edge.kg,
    included,
    because: edge.because.map(({ words, path, line }) => ({ words, path, line })),
  };
}

function bandDocument({ span, outcome, main, other, bagWantedMl, whyNot }: Band): ChartBand {
  const { bag } = outcome;
  return {
    from: endDocument(span.low),
    to: endDocument(span.high),
    label: describeSpan(span, 1),
    status: outcome.status,
    zone: outcome.zone,
    substitute: outcome.isSubstitute,
    main: main === null ? null : serviceDocument(main),
    other: other === null ? null : serviceDocument(other),
    reservoir_bag:
      bag === null || bagWantedMl === null
        ? null
        : {
            size_ml: bag.sizeMl,
            large_enough: bag.isLargeEnough,
            wanted_at_from_ml: roundTo(bagWantedMl[0], 0.1),
            wanted_at_to_ml: roundTo(bagWantedMl[1], 0.1),
          },
    why_not: whyNot.map(({ circuit, code, words }) => ({ circuit, code, reason: words })),
  };
}

function serviceDocument({
  circuitClass,
  circuit,
  machine,
  phases,
  flows,
  leakHold,
}: BandService): ChartService {
  return {
    class: circuitClass,
    circuit: circuit.id,
    kind: circuit.kind,
    machine: machine.id,
    phases: flows.flatMap((flow, i) => {
      const formula = phases[i];
      if (formula === undefined) return [];
      return [
        {
          phase: flow.phase,
          ml_kg_min: [formula.perKg.value[0], formula.perKg.value[1]] as [number, number],
          minimum_ml_min: formula.minimum.value,
          minimum_applied: formula.minimumApplied,
          low_at_from_ml_min: roundTo(flow.lowMlPerMin, 0.1),
          high_at_to_ml_min: roundTo(flow.highMlPerMin, 0.1),
          set_low_ml_min: roundTo(flow.setLowMlPerMin, 0.1),
          set_high_ml_min: roundTo(flow.setHighMlPerMin, 0.1),
          set_steps: flow.steps.map(stepDocument),
          rules: [formula.perKg, formula.minimum].map(rule => ({ ...ruleRef(rule) })),
        },
      ];
    }),
    leak_hold: {
      pressure_cmh2o: leakHold.pressureCmH2O,
      seconds: leakHold.seconds,
      fill: leakHold.fill,
      watch: leakHold.watch,
      drop_cmh2o: leakHold.dropCmH2O,
      make_up_ml_min: leakHold.makeUpMlPerMin,
      rules: distinctRules(leakHold.reasons.flatMap(({ rules }) => rules)),
    },
  };
}

function distinctRules(rules: readonly RuleRef[]): RuleRef[] {
  return rules
    .filter((rule, i) => rules.findIndex(({ path }) => path === rule.path) === i)
    .map(rule => ({ ...rule }));
}

function stepDocument({ span, setMlPerMin }: FlowStep): ChartFlowStep {
  return {
    from_kg: span.low.edge.kg,
    from_included: span.low.included,
    to_kg: span.high.edge.kg,
    to_included: span.high.included,
    set_ml_min: roundTo(setMlPerMin, 0.1),
  };
}

function findingDocument({ kind, asset, span, message }: Finding): ChartFinding {
  return { kind, asset, from: endDocument(span.low), to: endDocument(span.high), message };
}

function changeDocument({ span, before, after, differences }: Change): ChartChange {
  return {
    from: endDocument(span.low),
    to: endDocument(span.high),
    before: sideDocument(before),
    after: sideDocument(after),
    differences: [...differences],
  };
}

function sideDocument({ status, main, other }: Outcome): ChartSide {
  return {
    status,
    circuit: main?.circuit.id ?? null,
    machine: main?.machine.id ?? null,
    other_circuit: other?.circuit.id ?? null,
    other_machine: other?.machine.id ?? null,
  };
}
