/** Bands of weight: neighbouring cells with the same outcome, joined. */
import type { Inventory, Species } from '../inventory/inventory.ts';
import { type Kg, type Ml, ml, type Range } from '../quantity/units.ts';
import { bagMlPerKg } from './edges.ts';
import { type FlowRange, flowRanges } from './flow-steps.ts';
import type { Outcome, Service, WhyNot } from './outcome.ts';
import { isFrom, isUpTo, joinNeighbours, type Span } from './span.ts';

/** A cell of the grid with what the plan comes to there. */
export interface PlannedCell {
  readonly span: Span;
  readonly sampleKg: Kg;
  readonly outcome: Outcome;
}

export interface BandService extends Service {
  /** The three phases over the band. */
  readonly flows: readonly FlowRange[];
}

export interface Band {
  readonly span: Span;
  readonly outcome: Outcome;
  readonly main: BandService | null;
  readonly other: BandService | null;
  /** The bag volume that is wanted, at the least and the greatest weight; null where no bag is worked out. */
  readonly bagWantedMl: Range<Ml> | null;
  /** Every reason that holds somewhere in the band. */
  readonly whyNot: readonly WhyNot[];
}

/** @param cells in rising order, without holes */
export function bandsOf(
  cells: readonly PlannedCell[],
  inventory: Inventory,
  species: Species | null,
): Band[] {
  const perKg = bagMlPerKg(inventory, species);
  return joinNeighbours(cells, (a, b) => a.outcome.key === b.outcome.key).map(({ span, items }) => {
    const [{ outcome }] = items;
    const withFlows = (service: Service | null): BandService | null =>
      service === null
        ? null
        : { ...service, flows: flowRanges(inventory, service.machine, service.circuitClass, span) };
    const wanted = ({ kg }: { kg: Kg }) => ml((perKg?.value ?? Number.NaN) * kg);
    return {
      span,
      outcome,
      main: withFlows(outcome.main),
      other: withFlows(outcome.other),
      bagWantedMl:
        outcome.bag === null || perKg === null ? null : [wanted(span.low.edge), wanted(span.high.edge)],
      whyNot: distinct(items.flatMap(({ outcome }) => outcome.whyNot)),
    };
  });
}

function distinct(reasons: readonly WhyNot[]): WhyNot[] {
  const same = (a: WhyNot, b: WhyNot) => a.circuit === b.circuit && a.words === b.words;
  return reasons.filter((reason, i) => reasons.findIndex(other => same(other, reason)) === i);
}

/**
 * The band of a weight; undefined outside the range of the chart.
 *
 * @example bandAt(chart.bands, kg(7))?.outcome.zone //=> 'between'
 */
export function bandAt(bands: readonly Band[], weightKg: Kg): Band | undefined {
  const [lowest] = bands;
  if (lowest === undefined || !isFrom(lowest.span.low, weightKg)) return undefined;
  return bands.find(({ span }) => isUpTo(span.high, weightKg));
}
