/** What the `of` of a check selects: words for whole kinds, or ids. */
import { type Asset, CIRCUIT_KINDS } from './inventory.ts';

/** The words for whole kinds, and whether an asset is of that kind. Ids must not be one of these. */
const KIND_WORDS = new Map<string, (asset: Asset) => boolean>([
  ['machine', asset => asset.type === 'machine'],
  ['circuit', asset => asset.type === 'circuit'],
  ...CIRCUIT_KINDS.map(
    kind => [kind, (asset: Asset) => asset.type === 'circuit' && asset.kind === kind] as const,
  ),
  ['absorber', asset => asset.type === 'absorber'],
  ['vaporizer', asset => asset.type === 'vaporizer'],
  ['scavenging', asset => asset.type === 'scavenging'],
  ['charcoal', asset => asset.type === 'scavenging' && asset.kind === 'charcoal'],
  ['cylinder', asset => asset.type === 'supply' && asset.kind === 'cylinder'],
]);

export const RESERVED_WORDS: readonly string[] = [...KIND_WORDS.keys()];

/**
 * The assets that any of the words selects, each once, in the order of the inventory.
 *
 * @example selectAssets(['bain', 'theatre-1'], assets) //=> the machine theatre-1 and every Bain
 */
export function selectAssets(words: readonly string[], assets: Iterable<Asset>): Asset[] {
  const ids = new Set(words);
  const kinds = words.flatMap(word => KIND_WORDS.get(word) ?? []);
  return [...assets].filter(asset => ids.has(asset.id) || kinds.some(isOfKind => isOfKind(asset)));
}
