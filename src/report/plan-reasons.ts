/** Where every figure of a plan comes from, for a person. */
import type { Inventory } from '../inventory/inventory.ts';
import type { Reason, RuleRef } from '../plan/reason.ts';
import { formatNumber } from '../quantity/format.ts';
import { safeText } from './safe-text.ts';
import { SUPPLY_NAMES, supplyUnit } from './supplies-words.ts';
import { wrap } from './text.ts';

/**
 * One entry a figure: what it is, its value with the formula, where the constants stand, their source. Maintenance stands
 * twice in the JSON, as the top-level flow and as a phase; a person reads it once. Phases that say the same share an entry.
 */
export function renderReasons(reasons: readonly Reason[], inventory: Inventory, width: number): string[] {
  const shown = reasons.filter(({ figure }) => !figure.startsWith('fresh_gas_flow.'));
  const entries = new Map<string, Reason[]>();
  for (const reason of shown) {
    const key = `${nameOf(reason.figure)} ${shownValue(reason)} ${reason.formula} ${reason.source}`;
    entries.set(key, [...(entries.get(key) ?? []), reason]);
  }
  return [
    'WHERE THE FIGURES COME FROM',
    ...[...entries.values()].flatMap(entry => renderEntry(entry, inventory, width)),
  ];
}

function renderEntry(same: readonly Reason[], inventory: Inventory, width: number): string[] {
  const [reason] = same;
  if (reason === undefined) return [];
  const phases = same.map(({ figure }) => phaseOf(figure)).filter(phase => phase !== '');
  const when = phases.length === 0 || phases.length === 3 ? '' : ` (${phases.join(', ')})`;
  const title = `${nameOf(reason.figure)}${when}: ${shownValue(reason)}`;
  const rules = same.flatMap(({ rules }) => rules);
  const sources = rules.length > 0 ? rules.map(rule => place(rule, inventory)) : [reason.source];
  return [
    wrap(`${title} = ${safeText(reason.formula)}`, width, '  ', '    '),
    ...[...new Set(sources)].map(line => wrap(safeText(line), width, '    ', '      ')),
  ];
}

/** The trade's words for the figures; a figure of the other class says so. */
function nameOf(figure: string): string {
  const own = figure.replace(/^between\./, '').replace(/^phases\.[a-z]+\./, 'fresh_gas_flow.');
  const name = NAMES[own] ?? own;
  return figure.startsWith('between.') ? `Other class: ${name}` : name;
}

const NAMES: Readonly<Record<string, string>> = {
  'fresh_gas_flow.low_ml_min': 'Oxygen flow, low end',
  'fresh_gas_flow.high_ml_min': 'Oxygen flow, high end',
  'fresh_gas_flow.set_ml_min': 'Flowmeter mark to set',
  'reservoir_bag.wanted_low_ml': 'Bag, low end',
  'reservoir_bag.wanted_high_ml': 'Bag, high end',
  'reservoir_bag.wanted_ml': 'Bag wanted',
  'reservoir_bag.size_ml': 'Bag to hang',
  'reservoir_bag.covers_high': 'Bag covers the high end',
  'leak_hold.pressure_cmh2o': 'Leak test, pressure',
  'leak_hold.seconds': 'Leak test, time',
  'leak_hold.drop_cmh2o': 'Leak test, fall that passes',
  'leak_hold.make_up_ml_min': 'Leak test, make-up flow that passes',
  ...SUPPLY_NAMES,
};

function phaseOf(figure: string): string {
  return /^phases\.([a-z]+)\./.exec(figure)?.[1] ?? '';
}

function shownValue({ figure, value }: Reason): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value !== 'number') return String(value);
  return `${formatNumber(value, 1)} ${unitOf(figure)}`.trimEnd();
}

/** The unit stands in the key. */
function unitOf(figure: string): string {
  if (figure.startsWith('supplies.')) return supplyUnit(figure);
  if (figure.endsWith('_ml_min')) return 'mL/min';
  if (figure.endsWith('_ml')) return 'mL';
  if (figure.endsWith('_cmh2o')) return 'cmH2O';
  return figure.endsWith('seconds') ? 's' : '';
}

/** "inventory.yaml:42 rules reservoir_bag tidal_volumes, the practice's own figure" */
function place({ path, line, from, source }: RuleRef, { file, assets }: Inventory): string {
  // An asset goes by its id, not by its number in the list.
  const asset = [...assets.values()].find(one => path.startsWith(`${one.path}/`));
  const name = (asset === undefined ? path.slice(1) : `${asset.id}${path.slice(asset.path.length)}`)
    .replaceAll('/', ' ')
    .replace(/^bags \d+$/, 'bags');
  return `${from === 'default' ? 'default' : `${file}:${line}`} ${name}: ${source}`;
}
