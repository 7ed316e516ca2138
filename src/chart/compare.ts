/** What would change: the present chart against one without some assets, or from another inventory. Weight by weight. */
import type { Timestamp } from '../calendar/zone.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { CLASS_WORDS } from '../plan/fit.ts';
import type { EquipmentState } from '../plan/request.ts';
import { formatFlow, formatNumber, formatVolume } from '../quantity/format.ts';
import { planCells } from './chart.ts';
import { edgesOfAll } from './edges.ts';
import type { Finding } from './findings.ts';
import { cellsBetween } from './grid.ts';
import type { ChartRequest, Outcome, Service } from './outcome.ts';
import { joinNeighbours, type Span } from './span.ts';

export interface Change {
  readonly span: Span;
  readonly before: Outcome;
  readonly after: Outcome;
  /** What is different, each in words: "circuit bain-1 → bain-2". */
  readonly differences: readonly string[];
}

export interface Equipped {
  readonly inventory: Inventory;
  readonly equipment: EquipmentState;
}

/** The stretches of weight at which two charts differ, with what differs, in rising order. */
export function changesBetween(
  before: Equipped,
  after: Equipped,
  request: ChartRequest,
  at: Timestamp,
): Change[] {
  const cells = cellsBetween(edgesOfAll([before.inventory, after.inventory], request));
  const [old, fresh] = [before, after].map(({ inventory, equipment }) =>
    planCells(cells, inventory, equipment, request, at),
  );
  const both = cells.flatMap(({ span }, i) => {
    const [a, b] = [old?.[i]?.outcome, fresh?.[i]?.outcome];
    return a === undefined || b === undefined ? [] : [{ span, before: a, after: b }];
  });
  const compared = both.map(cell => ({ ...cell, differences: differencesOf(cell.before, cell.after) }));
  return joinNeighbours(compared, (a, b) => sayTheSame(a, b))
    .map(({ span, items: [first] }) => ({
      ...first,
      span,
    }))
    .filter(({ before: a, after: b }) => a.key !== b.key);
}

/** Whether two cells tell the same story: what else changes from one to the other is the same on both sides. */
function sayTheSame(a: Change, b: Change): boolean {
  const isUnchanged = ({ before, after }: Change) => before.key === after.key;
  if (isUnchanged(a) || isUnchanged(b)) return isUnchanged(a) && isUnchanged(b);
  const told = ({ before, after, differences }: Change) =>
    JSON.stringify([
      before.status,
      after.status,
      ...[before, after].flatMap(outcome => [pairWords(outcome, 'main'), pairWords(outcome, 'other')]),
      differences,
    ]);
  return told(a) === told(b);
}

/** The findings of one chart that the other does not have. */
export function findingsBeyond(findings: readonly Finding[], others: readonly Finding[]): Finding[] {
  const known = new Set(others.map(({ message }) => message));
  return findings.filter(({ message }) => !known.has(message));
}

function differencesOf(before: Outcome, after: Outcome): string[] {
  const lines: string[] = [];
  const change = (what: string, a: string, b: string) => {
    // Where one of the two has no such figure, the pair says it.
    if (a !== b && a !== '' && b !== '') lines.push(`${what} ${a} → ${b}`);
  };
  change('pair', pairWords(before, 'main'), pairWords(after, 'main'));
  change('other class', pairWords(before, 'other'), pairWords(after, 'other'));
  change('bag', bagWords(before), bagWords(after));
  change('flow', flowWords(before.main), flowWords(after.main));
  change('leak test', holdWords(before.main), holdWords(after.main));
  change('class', classWords(before), classWords(after));
  if (lines.length === 0) lines.push('the other class is worked out differently');
  return lines;
}

/** @example pairWords(outcome, 'main') //=> 'bain-1 on theatre-1' */
function pairWords(outcome: Outcome, part: 'main' | 'other'): string {
  const service = outcome[part];
  if (service !== null) {
    const standIn = part === 'main' && outcome.isSubstitute ? ' (stands in)' : '';
    return `${service.circuit.id} on ${service.machine.id}${standIn}`;
  }
  if (part === 'other') return 'none';
  if (outcome.status === 'implausible') return 'hardly possible';
  return outcome.status === 'other_class_only'
    ? `none unless ${pairWords(outcome, 'other')} is named`
    : 'none';
}

function bagWords({ bag, main, other }: Outcome): string {
  // Without a circuit there is no bag to speak of.
  if (main === null && other === null) return '';
  if (bag === null) return 'not worked out';
  if (bag.sizeMl === null) return 'none in stock';
  return formatVolume(bag.sizeMl) + (bag.isLargeEnough ? '' : ' (too small)');
}

function flowWords(service: Service | null): string {
  if (service === null) return '';
  const { phases } = service;
  const [first] = phases;
  const perPhase = phases.map(
    ({ perKg: { value } }) => `${formatNumber(value[0])}–${formatNumber(value[1])}`,
  );
  return `${[...new Set(perPhase)].join(', ')} mL/kg/min, at least ${first === undefined ? '' : formatFlow(first.minimum.value)}`;
}

function holdWords(service: Service | null): string {
  if (service === null) return '';
  const { pressureCmH2O, seconds, makeUpMlPerMin, watch, fill } = service.leakHold;
  return `${pressureCmH2O} cmH2O, ${seconds} s, ${watch}, ${fill}, ${makeUpMlPerMin} mL/min`;
}

function classWords({ zone, main }: Outcome): string {
  return zone === 'between' ? 'both' : main === null ? '' : CLASS_WORDS[main.circuitClass];
}
