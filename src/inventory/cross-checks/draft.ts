/** What a cross-reference check looks at, and the signature that all of them have. */
import type { InventoryFile } from '../../generated/inventory-file.ts';
import type { Code } from '../../problem/codes.ts';
import type { Problem } from '../../problem/problem.ts';
import type { Asset, Inventory } from '../inventory.ts';
import type { ParsedDocument } from '../parse.ts';

export interface Draft {
  readonly file: InventoryFile;
  readonly document: ParsedDocument;
  readonly inventory: Inventory;
  /** Today in the practice's zone, YYYY-MM-DD; null when the zone itself is unknown. */
  readonly today: string | null;
  /** Every asset, repeated ids included. */
  readonly assets: readonly Asset[];
  /** A problem at the value of a JSON pointer. */
  problem(code: Code, pointer: string, message: string, remedy: string): Problem;
}

/** Gives all the problems that it finds, in any order. */
export type CrossCheck = (draft: Draft) => Problem[];

/** The entries whose key came before, each with the first that has it. */
export function repeated<T extends { readonly key: string }>(
  entries: readonly T[],
): { entry: T; first: T }[] {
  const firsts = new Map<string, T>();
  return entries.flatMap(entry => {
    const first = firsts.get(entry.key);
    if (first === undefined) firsts.set(entry.key, entry);
    return first === undefined ? [] : [{ entry, first }];
  });
}

/** The JSON pointer of an asset's id: a bag is nothing but its id. */
export function idPointer({ type, path }: Asset): string {
  return type === 'bag' ? path : `${path}/id`;
}
