/** Lines into a file, many at a time: a million single writes would take longer than what is measured. */
import { closeSync, mkdirSync, openSync, writeSync } from 'node:fs';
import path from 'node:path';

const BLOCK_LINES = 10_000;

export class LineFile {
  readonly #fd: number;
  #block: string[] = [];

  constructor(name: string) {
    mkdirSync(path.dirname(name), { recursive: true });
    this.#fd = openSync(name, 'w');
  }

  write(line: string): void {
    this.#block.push(line);
    if (this.#block.length === BLOCK_LINES) this.#flush();
  }

  close(): void {
    this.#flush();
    closeSync(this.#fd);
  }

  #flush(): void {
    if (this.#block.length > 0) writeSync(this.#fd, `${this.#block.join('\n')}\n`);
    this.#block = [];
  }
}
