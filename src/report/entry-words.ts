/** An entry of the record in one line of words. */
import type { Entry, HoldEntry, SupplyHoldEntry } from '../generated/entry.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { formatFlow, formatGauge, formatNumber, formatVolume } from '../quantity/format.ts';
import { ml, mlPerMin, psi } from '../quantity/units.ts';
import { holdReasonWords } from '../record/counting.ts';
import { safeText } from './safe-text.ts';

/**
 * What an entry says, without id, time and person. Control characters are made visible.
 *
 * @param inventory says in which unit each cylinder's gauge reads, so that a person finds the figure that was entered
 * @example entryWords(entry, inventory) //=> 'PASS bain-1 on theatre-1: 20 → 20 cmH2O in 10 s'
 */
export function entryWords(entry: Entry, inventory: Pick<Inventory, 'assets'>): string {
  switch (entry.kind) {
    case 'hold':
      return holdWords(entry);
    case 'supply_hold':
      return supplyHoldWords(entry, inventory);
    case 'sign_off':
      return `${entry.result === 'pass' ? 'PASSED' : 'FAILED'} ${entry.check} of ${entry.asset}`;
    case 'reading': {
      const shown =
        entry.psi === undefined
          ? `${formatNumber(entry.g ?? 0)} g`
          : gaugeWords(entry.psi, entry.asset, inventory);
      return `read ${entry.asset}: ${shown}${entry.new ? ', a fresh one' : ''}`;
    }
    case 'withdraw':
      return `withdrew ${entry.asset}: ${safeText(entry.because)}`;
    case 'return':
      return `returned ${entry.asset} to service`;
    case 'usage': {
      const agent =
        entry.agent === undefined
          ? ''
          : `, ${entry.agent}${entry.setting_percent === undefined ? '' : ` ${formatNumber(entry.setting_percent)} %`}`;
      const flow = formatFlow(mlPerMin(entry.flow_ml_min));
      return `used ${entry.circuit} on ${entry.machine}: ${formatNumber(entry.minutes)} min at ${flow}${agent}${caseWords(entry.case)}`;
    }
    case 'correct':
      return `cancelled ${entry.entry}: ${safeText(entry.because)}`;
    case 'compliance':
      return `measured ${entry.circuit} on ${entry.machine}: ${formatNumber(entry.compliance_ml_cmh2o)} mL/cmH2O`;
  }
}

function holdWords(entry: HoldEntry): string {
  const verdict = entry.result === 'pass' ? 'PASS' : 'FAIL';
  const bag =
    entry.bag === undefined
      ? ''
      : ` with ${safeText(entry.bag.id ?? `a ${formatVolume(ml(entry.bag.size_ml))} bag`)}`;
  const popOff =
    entry.pop_off === 'open'
      ? ''
      : `; pop-off ${entry.pop_off}${entry.result === 'pass' ? ', so that it does not count' : ''}`;
  const reason = entry.result === 'fail' ? ` (${holdReasonWords(entry.reason)})` : '';
  return `${verdict} ${entry.circuit} on ${entry.machine}${bag}: ${seenWords(entry)}${reason}${popOff}${caseWords(entry.case)}`;
}

/** What was seen at a hold. @example seenWords(entry) //=> '30 → 22 cmH2O in 10 s' */
export function seenWords({ fall, taut, make_up: makeUp }: HoldEntry): string {
  const seen: string[] = [];
  if (fall !== undefined) {
    seen.push(
      `${formatNumber(fall.from_cmh2o)} → ${formatNumber(fall.to_cmh2o)} cmH2O in ${formatNumber(fall.seconds)} s`,
    );
  }
  if (taut !== undefined)
    seen.push(
      `the bag ${taut.steady ? 'stayed taut for' : 'went slack within'} ${formatNumber(taut.seconds)} s`,
    );
  if (makeUp !== undefined)
    seen.push(
      `make-up flow ${formatNumber(makeUp.flow_ml_min)} mL/min at ${formatNumber(makeUp.at_cmh2o)} cmH2O`,
    );
  return seen.join(', ');
}

/** In the unit of the gauge, as it was most likely entered; in both where the inventory does not know the gauge. */
function gaugeWords(value: number, supply: string, { assets }: Pick<Inventory, 'assets'>): string {
  const asset = assets.get(supply);
  if (asset?.type === 'supply' && asset.kind === 'cylinder') return formatGauge(psi(value), asset.gaugeUnit);
  return `${formatGauge(psi(value), 'psi')} = ${formatGauge(psi(value), 'bar')}`;
}

function supplyHoldWords(
  { supply, from_psi: from, to_psi: to, minutes, result }: SupplyHoldEntry,
  inventory: Pick<Inventory, 'assets'>,
): string {
  const [first, last] = [from, to].map(value => gaugeWords(value, supply, inventory));
  const fall = `${first} → ${last} in ${formatNumber(minutes)} min`;
  return `${result === 'pass' ? 'PASS' : 'FAIL'} high-pressure side of ${supply}: ${fall}`;
}

function caseWords(ref: string | undefined): string {
  return ref === undefined ? '' : `, case ${safeText(ref)}`;
}
