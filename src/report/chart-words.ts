/** Words and figures that the printers of a chart share. */
import type { Band } from '../chart/bands.ts';
import type { Chart } from '../chart/chart.ts';
import { bagMlPerKg } from '../chart/edges.ts';
import type { PhaseFormula } from '../chart/outcome.ts';
import type { ChartRow, RowService } from '../chart/rows.ts';
import { CLASS_WORDS, KIND_WORDS } from '../plan/fit.ts';
import { plausibleKg } from '../plan/patient.ts';
import { formatFlow, formatNumber, formatVolume } from '../quantity/format.ts';
import type { MlPerMin } from '../quantity/units.ts';
import { safeText } from './safe-text.ts';

/** In L/min without the unit. @example inLitres(mlPerMin(1250)) //=> '1.25' */
export function inLitres(flow: MlPerMin): string {
  return formatNumber(flow / 1000, 3);
}

/** Whether the three phases are set alike, and by the same rule. */
export function isThroughout({ setMlPerMin, phases }: RowService): boolean {
  const [formula] = phases;
  const { induction, maintenance, recovery } = setMlPerMin;
  return (
    induction === maintenance &&
    maintenance === recovery &&
    formula !== undefined &&
    phases.every(({ perKg }) => perKgWords({ perKg }) === perKgWords(formula))
  );
}

/** How the edges on paper are to be read. @example edgeWords(chart) //=> 'Edges are rounded down to 10 g: …' */
export function edgeWords({ labelStepG }: Pick<Chart, 'labelStepG'>): string {
  const step = labelStepG === 1 ? '1 g' : '10 g';
  return `Edges are rounded down to ${step}: every weight in whole ${step} is in its right row; one given more finely, just above an edge: holdfast plan.`;
}

/** @example perKgWords(formula) //=> '200–300' */
function perKgWords({ perKg: { value } }: Pick<PhaseFormula, 'perKg'>): string {
  const [low, high] = value;
  return low === high ? formatNumber(low) : `${formatNumber(low)}–${formatNumber(high)}`;
}

/** @example formulaWords(service) //=> 'start 50–100, then 20–30, wake 50–100 mL/kg/min, never less than 500 mL/min' */
export function formulaWords({ phases }: Pick<RowService, 'phases'>): string {
  const [first] = phases;
  if (first === undefined) return '';
  const floor = `never less than ${formatFlow(first.minimum.value)}`;
  if (phases.every(phase => perKgWords(phase) === perKgWords(first)))
    return `${perKgWords(first)} mL/kg/min throughout, ${floor}`;
  const each = phases.map(phase => `${PHASE_WORDS[phase.phase]} ${perKgWords(phase)}`);
  return `${each.join(', ')} mL/kg/min, ${floor}`;
}

export const PHASE_WORDS = { induction: 'start', maintenance: 'then', recovery: 'wake' } as const;

/** The distinct lines of flow, one a class. @example 'non-rebreathing 200–300 mL/kg/min throughout, …' */
export function formulaLines(bands: readonly Band[]): string[] {
  const lines = bands
    .flatMap(({ main, other }) => [main, other])
    .flatMap(service =>
      service === null ? [] : [`${CLASS_WORDS[service.circuitClass]}: ${formulaWords(service)}`],
    );
  return [...new Set(lines)];
}

/** @example bagFormula(chart) //=> '6 × 15 mL/kg, rounded up to the next bag in stock' */
export function bagFormula({ inventory, request }: Chart): string {
  const perKg = bagMlPerKg(inventory, request.species);
  if (perKg === null)
    return `not worked out: no tidal volume for ${request.species}; add it to rules: tidal_volume_by_species_ml_kg`;
  return `${perKg.formula}, rounded up to the next bag in stock`;
}

/** The bag of a band. @example bagWords(band) //=> '3 L, too small' */
export function bagWords({ outcome: { bag } }: Pick<ChartRow, 'outcome'>): string {
  if (bag === null) return 'not worked out';
  if (bag.sizeMl === null) return 'none in stock';
  return formatVolume(bag.sizeMl) + (bag.isLargeEnough ? '' : ', too small');
}

/** @example holdWords(service) //=> '20 cmH2O for 10 s on the gauge, filled by flowmeter, no fall or at most 150 mL/min' */
export function holdWords({ leakHold }: Pick<RowService, 'leakHold'>): string {
  const { pressureCmH2O, seconds, watch, fill, dropCmH2O, makeUpMlPerMin } = leakHold;
  const filled = fill === 'flush' ? 'flushed' : 'filled by flowmeter';
  if (watch === 'bag') return `${filled} until the bag is taut; it stays taut for ${seconds} s`;
  const fall = dropCmH2O === 0 ? 'no fall' : `a fall of at most ${dropCmH2O} cmH2O`;
  return `${filled} to ${pressureCmH2O} cmH2O; in ${seconds} s ${fall} on the gauge, or at most ${makeUpMlPerMin} mL/min holds it`;
}

/** The distinct pairs with how each is held. @example ['bain-1 on theatre-1 (Bain): filled by …'] */
export function holdLines(bands: readonly Band[]): string[] {
  const lines = bands
    .flatMap(({ main, other }) => [main, other])
    .flatMap(service => {
      if (service === null) return [];
      const { circuit, machine } = service;
      return [`${circuit.id} on ${machine.id} (${KIND_WORDS[circuit.kind]}): ${holdWords(service)}`];
    });
  return [...new Set(lines)];
}

/** Why nothing serves. @example 'bain-1 is for 2 to 12 kg; coaxial-1 out of service: withdrawn' */
export function whyNotWords({ whyNot }: Pick<ChartRow, 'whyNot'>): string {
  return whyNot.map(({ circuit, words }) => `${circuit} ${safeText(words)}`).join('; ');
}

/** What stands instead of a pair where there is none. */
export function emptyWords(band: Pick<ChartRow, 'outcome'>, { request: { species } }: Chart): string {
  if (band.outcome.status === 'implausible') {
    const range = species === null ? null : plausibleKg(species);
    const [low, high] = range ?? [];
    return `hardly possible for a ${species} (${low} to ${high} kg): weigh again`;
  }
  return 'NO CIRCUIT IN SERVICE';
}

/** For which patients the chart holds. */
export function speciesWords({ request: { species } }: Chart): string {
  return species === null
    ? 'dogs, cats, species not given'
    : `for a ${species === 'other' ? 'species that is not listed' : species}`;
}

/** What a reader must know of how far the chart can be trusted; empty where there is nothing to say. */
export function recordWords({ record, entriesInFuture, outOfService, failedPairs }: Chart): string[] {
  const lines: string[] = [];
  if (record === 'none') lines.push('No record yet: what is withdrawn or failed is not known.');
  if (record === 'damaged')
    lines.push(
      'THE RECORD IS DAMAGED: what is withdrawn or failed may be missing here. Run holdfast record verify.',
    );
  if (entriesInFuture !== null) lines.push(`CAUTION: ${safeText(entriesInFuture)}.`);
  for (const { asset, because } of [...outOfService, ...failedPairs])
    lines.push(`Not in service when this was drawn up: ${asset}: ${safeText(because)}.`);
  return lines;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** The date of a chart on paper. @example dateWords('2026-11-25T08:14:03+00:00') //=> '25 Nov 2026' */
export function dateWords(at: string): string {
  const [year, month, day] = at.slice(0, 10).split('-');
  return `${Number(day)} ${MONTHS[Number(month) - 1] ?? ''} ${year}`;
}
