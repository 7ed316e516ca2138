/** What the `of` of a check selects: words for whole kinds, or ids. */
import type { Asset } from './inventory.ts';

/** The words for whole kinds, and whether an asset is of that kind. Ids must not be one of these. */
const KIND_WORDS: Readonly<Record<string, (asset: Asset) => boolean>> = {
  machine: asset => asset.type === 'machine',
  circuit: asset => asset.type === 'circuit',
  t_piece: asset => asset.type === 'circuit' && asset.kind === 't_piece',
  bain: asset => asset.type === 'circuit' && asset.kind === 'bain',
  circle_y: asset => asset.type === 'circuit' && asset.kind === 'circle_y',
  circle_coaxial: asset => asset.type === 'circuit' && asset.kind === 'circle_coaxial',
  absorber: asset => asset.type === 'absorber',
  vaporizer: asset => asset.type === 'vaporizer',
  scavenging: asset => asset.type === 'scavenging',
  charcoal: asset => asset.type === 'scavenging' && asset.kind === 'charcoal',
  cylinder: asset => asset.type === 'supply' && asset.kind === 'cylinder',
};

export const RESERVED_WORDS: readonly string[] = Object.keys(KIND_WORDS);

/** Whether one word of `of` selects this asset. */
export function selects(word: string, asset: Asset): boolean {
  return Object.hasOwn(KIND_WORDS, word) ? (KIND_WORDS[word]?.(asset) ?? false) : asset.id === word;
}

/** The assets that any of the words selects, each once, in the order given. */
export function selectAssets(words: readonly string[], assets: Iterable<Asset>): Asset[] {
  return [...assets].filter(asset => words.some(word => selects(word, asset)));
}
