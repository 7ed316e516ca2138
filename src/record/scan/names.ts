/** Names as small numbers. */
import { FIRST_HASH, HASH_FACTOR } from './kernel/layout.ts';

/** The hash of a text that is all ASCII, in 32 bits. @example hashOf('') //=> 5381 */
export function hashOf(text: string): number {
  let hash = FIRST_HASH;
  for (let i = 0; i < text.length; i++) hash = (Math.imul(hash, HASH_FACTOR) + text.charCodeAt(i)) | 0;
  return hash;
}

/** Numbers names from 0 in the order in which they come. */
export class Names {
  readonly texts: string[] = [];
  readonly #numbers = new Map<string, number>();

  constructor(texts: Iterable<string>) {
    for (const text of texts) this.indexOf(text);
  }

  /** The number of a name; a new one for a new name. */
  indexOf(text: string): number {
    const found = this.#numbers.get(text);
    if (found !== undefined) return found;
    this.#numbers.set(text, this.texts.length);
    return this.texts.push(text) - 1;
  }
}
