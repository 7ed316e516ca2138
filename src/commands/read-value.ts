/** A gauge or a scale read for one asset, as `reading` and `round` take it. */
import type { Asset, Cylinder } from '../inventory/inventory.ts';
import { isAbove } from '../quantity/compare.ts';
import { formatGauge, formatNumber } from '../quantity/format.ts';
import { parseMass, parseSupplyPressure } from '../quantity/parse.ts';
import { highestReadingPsi } from '../record/reading-limits.ts';
import type { Desk } from './entering.ts';

export interface Read {
  readonly figure: { psi: number } | { g: number };
  readonly shown: string;
}

/** The figure for the record, or null with a problem at the desk: the wrong unit, out of range, nothing to read. */
export function readValue(desk: Desk, asset: Asset, text: string): Read | null {
  if (asset.type === 'supply' && asset.kind === 'cylinder') return readGauge(desk, asset, text);
  if (asset.type === 'scavenging' && asset.kind === 'charcoal') return readScale(desk, asset.id, text);
  desk.problem(
    'asset_kind',
    `${asset.id} has neither a gauge nor a weight to read`,
    'name a cylinder or a charcoal canister',
  );
  return null;
}

function readGauge(desk: Desk, cylinder: Cylinder, text: string): Read | null {
  if (parseMass(text).ok) {
    desk.problem(
      'reading_unit',
      `${cylinder.id} is a cylinder, and '${text}' is a mass`,
      'write it as 1450psi or 100bar',
    );
    return null;
  }
  const psi = desk.quantity(cylinder.id, text, parseSupplyPressure);
  if (psi === undefined) return null;
  const highest = highestReadingPsi(cylinder);
  const shown = formatGauge(psi, cylinder.gaugeUnit);
  if (isAbove(psi, highest)) {
    const message = `${shown} is above ${formatGauge(highest, cylinder.gaugeUnit)}, 1.3 times what ${cylinder.id} reads when full`;
    desk.problem('reading_out_of_range', message, 'read the gauge again, and mind the unit');
  }
  return { figure: { psi }, shown };
}

/** The scale of a canister: heavier than this is no canister. */
const HEAVIEST_G = 100_000;

function readScale(desk: Desk, id: string, text: string): Read | null {
  if (parseSupplyPressure(text).ok) {
    desk.problem(
      'reading_unit',
      `${id} is a charcoal canister, and '${text}' is a pressure`,
      'weigh it, and write it as 812g',
    );
    return null;
  }
  const g = desk.quantity(id, text, parseMass);
  if (g === undefined) return null;
  if (g <= 0) desk.problem('entry_value', `${id}: a canister weighs more than nothing`, 'weigh it again');
  desk.within(id, g, 0, HEAVIEST_G, 'g');
  return { figure: { g }, shown: `${formatNumber(g)} g` };
}
