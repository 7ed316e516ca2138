/** Ids: one namespace over all assets, another over the checks. */
import type { Problem } from '../../problem/problem.ts';
import { RESERVED_WORDS } from '../select.ts';
import { type Draft, idPointer, repeated } from './draft.ts';

export function idsTwice({ inventory, assets, problem }: Draft): Problem[] {
  const ids = [
    ...assets.map(asset => ({ key: `asset ${asset.id}`, id: asset.id, pointer: idPointer(asset) })),
    ...inventory.checks.map(({ id, path }) => ({ key: `check ${id}`, id, pointer: `${path}/id` })),
  ];
  return repeated(ids).map(({ entry, first }) => {
    const { line, column } = inventory.placeOf(first.pointer);
    const message = `the id '${entry.id}' stands already on line ${line}, column ${column}`;
    return problem('id_twice', entry.pointer, message, 'give one of them another id');
  });
}

export function idsReserved({ assets, problem }: Draft): Problem[] {
  return assets
    .filter(({ id }) => RESERVED_WORDS.includes(id))
    .map(asset => {
      const message = `'${asset.id}' is the word that checks use for a whole kind`;
      return problem('id_reserved', idPointer(asset), message, `name it, for example, ${asset.id}-1`);
    });
}
