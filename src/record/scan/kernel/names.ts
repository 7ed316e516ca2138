/** Names as the numbers that the program gave them, found by their bytes. */
import { at, start } from './bytes';
import { FIRST_HASH, HASH_FACTOR } from './layout';

const SMALLEST_TABLE: i32 = 256;
/** A name: its length, its number, its bytes. */
const NUMBER: usize = 4;
const BYTES: usize = 8;

export class Names {
  private table: StaticArray<usize> = new StaticArray<usize>(SMALLEST_TABLE);
  private count: i32 = 0;

  /** Numbers the name at a place. It must be a new one. */
  add(place: usize, length: usize, number: i32): void {
    this.count += 1;
    if (this.count * 2 > this.table.length) this.grow();
    const name = heap.alloc(BYTES + length);
    store<u32>(name, length as u32);
    store<i32>(name + NUMBER, number);
    memory.copy(name + BYTES, place, length);
    this.put(name);
  }

  /** The number of the word that was read last, or -1. */
  find(): i32 {
    const length = at - start;
    const mask = this.table.length - 1;
    let slot = hashOf(start, length) & mask;
    while (unchecked(this.table[slot]) !== 0) {
      const name = unchecked(this.table[slot]);
      if ((load<u32>(name) as usize) === length && memory.compare(name + BYTES, start, length) === 0) {
        return load<i32>(name + NUMBER);
      }
      slot = (slot + 1) & mask;
    }
    return -1;
  }

  private grow(): void {
    const old = this.table;
    this.table = new StaticArray<usize>(old.length * 4);
    for (let i = 0; i < old.length; i++) if (old[i] !== 0) this.put(old[i]);
  }

  private put(name: usize): void {
    const mask = this.table.length - 1;
    let slot = hashOf(name + BYTES, load<u32>(name)) & mask;
    while (this.table[slot] !== 0) slot = (slot + 1) & mask;
    this.table[slot] = name;
  }
}

/** As `hashOf` in ../names.ts. */
export function hashOf(place: usize, length: usize): i32 {
  let hash: i32 = FIRST_HASH;
  for (let i: usize = 0; i < length; i++) hash = hash * HASH_FACTOR + load<u8>(place + i);
  return hash;
}
