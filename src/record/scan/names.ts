/** Names as small numbers: found by their bytes, so that no string is made for each line. */

const FIRST_HASH = 5381;
const SMALLEST_TABLE = 64;

/** Where the hash of a name begins. */
export const EMPTY_HASH = FIRST_HASH;

/** The hash with one more byte. */
export function hashed(hash: number, byte: number): number {
  return ((hash << 5) + hash + byte) | 0;
}

/** The hash of a text that is all ASCII. @example hashOf('') === EMPTY_HASH //=> true */
export function hashOf(text: string): number {
  let hash = EMPTY_HASH;
  for (let i = 0; i < text.length; i++) hash = hashed(hash, text.charCodeAt(i));
  return hash;
}

/** Numbers names from 0 in the order in which they come. All are ASCII. */
export class Names {
  readonly texts: string[] = [];
  readonly #bytes: Uint8Array[] = [];
  #table = new Int32Array(SMALLEST_TABLE).fill(-1);

  constructor(texts: Iterable<string>) {
    for (const text of texts) this.indexOf(text);
  }

  /** The number of a name; a new one for a new name. */
  indexOf(text: string): number {
    const bytes = Buffer.from(text, 'latin1');
    const hash = hashOf(text);
    const found = this.find(bytes, 0, bytes.length, hash);
    return found === -1 ? this.#add(text, bytes, hash) : found;
  }

  /** The number of the name between two places, whose hash is known; a new one for a new name. */
  numberAt(bytes: Uint8Array, start: number, end: number, hash: number): number {
    const found = this.find(bytes, start, end, hash);
    if (found !== -1) return found;
    const copy = Buffer.from(bytes.subarray(start, end));
    return this.#add(copy.toString('latin1'), copy, hash);
  }

  /** The number of the name between two places, or -1. */
  find(bytes: Uint8Array, start: number, end: number, hash: number): number {
    const mask = this.#table.length - 1;
    for (let slot = hash & mask; ; slot = (slot + 1) & mask) {
      const index = this.#table[slot] ?? -1;
      if (index === -1) return -1;
      if (isSame(this.#bytes[index], bytes, start, end)) return index;
    }
  }

  #add(text: string, bytes: Uint8Array, hash: number): number {
    const index = this.texts.push(text) - 1;
    this.#bytes.push(bytes);
    if (this.texts.length * 2 > this.#table.length) this.#grow();
    else this.#place(hash, index);
    return index;
  }

  #grow(): void {
    this.#table = new Int32Array(this.#table.length * 4).fill(-1);
    for (const [index, text] of this.texts.entries()) this.#place(hashOf(text), index);
  }

  #place(hash: number, index: number): void {
    const mask = this.#table.length - 1;
    let slot = hash & mask;
    while (this.#table[slot] !== -1) slot = (slot + 1) & mask;
    this.#table[slot] = index;
  }
}

function isSame(name: Uint8Array | undefined, bytes: Uint8Array, start: number, end: number): boolean {
  if (name === undefined || name.length !== end - start) return false;
  for (let i = 0; i < name.length; i++) if (name[i] !== bytes[start + i]) return false;
  return true;
}
