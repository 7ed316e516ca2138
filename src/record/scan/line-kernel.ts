/** The program's side of the kernel (kernel/index.ts): its memory, and the names it knows. */
import kernelBytes from '../../generated/line-kernel.ts';
import { ROW_BYTES } from './kernel/layout.ts';
import type { Names } from './names.ts';

/** The longest run of lines that it takes at once. */
const BLOCK_BYTES = 262_144;
const MOST_ROWS = 4096;
/** More names than any practice has assets. Lines with others are parsed: the kernel's memory does not grow. */
const MOST_NAMES = 16_384;
const NEWLINE = 0x0a;

interface Exports {
  readonly memory: WebAssembly.Memory;
  makeRoom(bytes: number, most: number): void;
  inputAt(): number;
  rowsAt(): number;
  addAsset(length: number, number: number): void;
  addCheck(length: number, number: number): void;
  takeAnyName(): void;
  readLines(length: number, most: number): number;
}

/** The assets and checks by which lines are read. */
export interface LineNames {
  readonly assets: Names;
  readonly checks: Names;
}

let compiled: WebAssembly.Module | null = null;

export class LineKernel {
  /** The rows of the lines read last, by figures of four bytes and of eight. */
  readonly integers: Int32Array;
  readonly figures: Float64Array;
  readonly #exports: Exports;
  readonly #input: Uint8Array;
  readonly #names: LineNames | null;
  #namesKnown = 0;

  /** @param names - null: of which assets and checks a line speaks makes no difference. */
  constructor(names: LineNames | null) {
    compiled ??= new WebAssembly.Module(Buffer.from(kernelBytes, 'base64'));
    // What it was compiled from says what it exports; the type is this file's word for it.
    this.#exports = new WebAssembly.Instance(compiled).exports as Exports;
    this.#exports.makeRoom(BLOCK_BYTES, MOST_ROWS);
    const { buffer } = this.#exports.memory;
    const rows = this.#exports.rowsAt();
    this.#input = new Uint8Array(buffer, this.#exports.inputAt(), BLOCK_BYTES);
    this.integers = new Int32Array(buffer, rows, (MOST_ROWS * ROW_BYTES) / 4);
    this.figures = new Float64Array(buffer, rows, (MOST_ROWS * ROW_BYTES) / 8);
    this.#names = names;
    if (names === null) this.#exports.takeAnyName();
    for (const [number, name] of names?.checks.texts.slice(0, MOST_NAMES).entries() ?? []) {
      this.#exports.addCheck(this.#put(name), number);
    }
  }

  /**
   * Reads the lines of a block from a place on, as many as it takes at once.
   *
   * @param block - whole lines.
   * @returns how many rows there are; 0 where the line there is too long.
   */
  read(block: Uint8Array, start: number): number {
    this.#learnNames();
    let end = block.length;
    if (end - start > BLOCK_BYTES) end = block.lastIndexOf(NEWLINE, start + BLOCK_BYTES - 1) + 1;
    if (end <= start) return 0;
    this.#input.set(block.subarray(start, end));
    return this.#exports.readLines(end - start, MOST_ROWS);
  }

  /** Names that the parser found since the last block. */
  #learnNames(): void {
    const texts = this.#names?.assets.texts ?? [];
    while (this.#namesKnown < Math.min(texts.length, MOST_NAMES)) {
      this.#exports.addAsset(this.#put(texts[this.#namesKnown] ?? ''), this.#namesKnown);
      this.#namesKnown += 1;
    }
  }

  #put(name: string): number {
    return Buffer.from(this.#input.buffer, this.#input.byteOffset, BLOCK_BYTES).write(name, 'latin1');
  }
}

/** null where this machine runs no such kernel: very old processors, `node --jitless`, too little memory to set aside. */
export function lineKernel(names: LineNames | null): LineKernel | null {
  try {
    return new LineKernel(names);
  } catch (error) {
    if (typeof WebAssembly === 'undefined') return null;
    if (error instanceof WebAssembly.CompileError || error instanceof RangeError) return null;
    throw error;
  }
}
