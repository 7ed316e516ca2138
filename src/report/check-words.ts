/** A check in words: of what, when, and how it is done. */
import type { Asset, Check } from '../inventory/inventory.ts';
import { formatNumber } from '../quantity/format.ts';
import { counted } from './text.ts';

export const DONE_BY_WORDS = {
  sign_off: 'sign-off',
  hold: 'leak test',
  supply_hold: 'high-pressure test',
  reading: 'reading',
};

const NOUNS: Readonly<Record<Asset['type'], readonly [one: string, several: string]>> = {
  machine: ['machine', 'machines'],
  absorber: ['absorber', 'absorbers'],
  vaporizer: ['vaporizer', 'vaporizers'],
  scavenging: ['scavenging', 'scavenging'],
  circuit: ['circuit', 'circuits'],
  bag: ['bag', 'bags'],
  supply: ['supply', 'supplies'],
};

/** One or two by their ids, more by their number. @example assetsWords(circuits) //=> '6 circuits' */
export function assetsWords(assets: readonly Asset[]): string {
  if (assets.length <= 2) return assets.map(({ id }) => id).join(', ');
  const counts = new Map<Asset['type'], number>();
  for (const { type } of assets) counts.set(type, (counts.get(type) ?? 0) + 1);
  return [...counts].map(([type, count]) => counted(count, ...NOUNS[type])).join(', ');
}

/** When a check is due. @example dueWords(absorbentChange) //=> 'every 30 days, after 8 h in use' */
export function dueWords({ every, after, countedFrom, starting }: Check): string {
  const words: string[] = [];
  if (every !== null) {
    const unit = every.unit.replace('_', ' ');
    const interval = every.count === 1 ? unit.replace(/s$/, '') : `${every.count} ${unit}`;
    words.push(`every ${interval}${countedFrom === 'calendar' ? ` from ${starting}` : ''}`);
  }
  if (after.hoursInUse !== null) words.push(`after ${formatNumber(after.hoursInUse)} h in use`);
  if (after.gainG !== null) words.push(`after ${formatNumber(after.gainG)} g gained`);
  return words.length > 0 ? words.join(', ') : 'in its round';
}
