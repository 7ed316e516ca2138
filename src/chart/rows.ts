/**
 * The rows of a chart that a person reads: one mark to set a phase in each, so that no range is left to be guessed within.
 * The exact bands are cut wherever a mark changes, and neighbours that show the same are joined: what differs between them
 * (a floor that is met by chance at the same mark, say) is for programs.
 */
import { PHASES, type Phase } from '../inventory/inventory.ts';
import { isAbove } from '../quantity/compare.ts';
import { kg, type MlPerMin } from '../quantity/units.ts';
import type { Band, BandService } from './bands.ts';
import type { Outcome, Service, WhyNot } from './outcome.ts';
import { contains, type End, isFinerThan, joinNeighbours, type LabelStepG, type Span } from './span.ts';

export interface RowService extends Service {
  /** The one mark to set at every weight of the row. */
  readonly setMlPerMin: Readonly<Record<Phase, MlPerMin>>;
}

export interface ChartRow {
  readonly span: Span;
  readonly outcome: Outcome;
  readonly main: RowService | null;
  readonly other: RowService | null;
  readonly whyNot: readonly WhyNot[];
}

/** Neighbouring rows that differ in their flows and weights alone. */
export interface RowGroup {
  readonly span: Span;
  readonly rows: readonly [ChartRow, ...ChartRow[]];
}

/**
 * @param labelStepG - to what the edges are printed: a row that holds no such weight is left out
 * @example rowsOf(chart.bands, 10).map(({ main }) => main?.setMlPerMin.induction) //=> [500, 600, 700, …]
 */
export function rowsOf(bands: readonly Band[], labelStepG: LabelStepG): ChartRow[] {
  const rows = bands.flatMap(cut).filter(({ span }) => !isFinerThan(span, labelStepG));
  return joinNeighbours(rows, (a, b) => shown(a, true) === shown(b, true)).map(
    ({ span, items: [first] }) => ({
      ...first,
      span,
    }),
  );
}

/** The rows under one heading each, for a reader who has no room for a table. */
export function rowGroups(rows: readonly ChartRow[]): RowGroup[] {
  return joinNeighbours(rows, (a, b) => shown(a, false) === shown(b, false)).map(({ span, items }) => ({
    span,
    rows: items,
  }));
}

function cut(band: Band): ChartRow[] {
  const { main, other, outcome, whyNot } = band;
  return spansOf(band).map(span => ({
    span,
    outcome,
    main: main === null ? null : serviceIn(main, span),
    other: other === null ? null : serviceIn(other, span),
    whyNot,
  }));
}

/** The stretches of a band within which no mark changes. */
function spansOf({ span, main, other }: Band): Span[] {
  const ends = [main, other]
    .flatMap(service => service?.flows ?? [])
    .flatMap(({ steps }) => steps.slice(0, -1).map(step => step.span.high))
    .sort(inOrder);
  const spans: Span[] = [];
  let low = span.low;
  for (const high of ends) {
    // Two phases may change at one weight.
    if (spans.length > 0 && inOrder(spans[spans.length - 1]?.high ?? high, high) === 0) continue;
    spans.push({ low, high });
    low = { edge: high.edge, included: !high.included };
  }
  return [...spans, { low, high: span.high }];
}

/** The end that leaves the weight at its edge out comes before the one that takes it in. */
function inOrder(a: End, b: End): number {
  if (isAbove(a.edge.kg, b.edge.kg)) return 1;
  if (isAbove(b.edge.kg, a.edge.kg)) return -1;
  return Number(a.included) - Number(b.included);
}

function serviceIn(service: BandService, span: Span): RowService {
  const { flows, ...rest } = service;
  const sample = kg((span.low.edge.kg + span.high.edge.kg) / 2);
  const set = (phase: Phase): MlPerMin => {
    const steps = flows.find(flow => flow.phase === phase)?.steps ?? [];
    const step = steps.find(one => contains(one.span, sample));
    if (step === undefined) throw new Error(`no mark at ${sample} kg for ${phase}`);
    return step.setMlPerMin;
  };
  const [induction, maintenance, recovery] = [set('induction'), set('maintenance'), set('recovery')];
  return { ...rest, setMlPerMin: { induction, maintenance, recovery } };
}

/** All that a printed row says but its weights. */
function shown(
  { outcome: { status, isSubstitute, bag }, main, other, whyNot }: ChartRow,
  flows: boolean,
): string {
  return JSON.stringify([status, isSubstitute, bag, whyNot, shownOf(main, flows), shownOf(other, flows)]);
}

function shownOf(service: RowService | null, flows: boolean): unknown {
  if (service === null) return null;
  const { circuitClass, circuit, machine, phases, setMlPerMin, leakHold } = service;
  const { reasons: _, ...hold } = leakHold;
  const formulas = phases.map(({ perKg, minimum }) => [perKg.value, minimum.value]);
  const marks = flows ? PHASES.map(phase => setMlPerMin[phase]) : null;
  return [circuitClass, circuit.id, machine.id, formulas, marks, hold];
}
