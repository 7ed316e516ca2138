/** Goes back to single lines, by their places. */
import { closeSync } from 'node:fs';
import type { Entry } from '../../generated/entry.ts';
import type { Refusal } from '../../problem/problem.ts';
import { openToRead, storeRefusal } from '../folder.ts';
import { isEntry, nothingKnown, parseLine } from '../parse-line.ts';
import { readExactly } from '../tail.ts';
import { whileReading } from '../while-open.ts';
import { fileAndByte } from './key.ts';

const NEWLINE = 0x0a;
const FIRST_LOOK = 1024;

export class Fetch {
  readonly #files: readonly string[];
  readonly #open = new Map<number, number>();

  constructor(files: readonly string[]) {
    this.#files = files;
  }

  /** The entry in the line that begins there; it was one when the record was read. */
  entry(place: number): Entry {
    const parsed = parseLine(this.#line(place), nothingKnown());
    if (isEntry(parsed)) return parsed;
    throw this.#changed(place);
  }

  /** The id of that entry, for which not all of it need be looked at. */
  id(place: number): string {
    try {
      // It may be null by now, which has no id to ask for.
      const line: { id?: unknown } | null = JSON.parse(this.#line(place));
      if (typeof line?.id === 'string') return line.id;
    } catch (error) {
      if (!(error instanceof SyntaxError)) throw error;
    }
    throw this.#changed(place);
  }

  #line(place: number): string {
    const { file, byte } = fileAndByte(place);
    const fd = this.#opened(file);
    for (let length = FIRST_LOOK; ; length *= 8) {
      const bytes = whileReading(this.#files[file] ?? '', () => readExactly(fd, byte, length));
      const newline = bytes.indexOf(NEWLINE);
      if (newline !== -1) return bytes.toString('utf8', 0, newline);
      if (bytes.length < length) throw this.#changed(place);
    }
  }

  #changed(place: number): Refusal {
    const { file, byte } = fileAndByte(place);
    const name = this.#files[file] ?? '';
    const message = `${name} was changed while it was read, at byte ${byte}`;
    return storeRefusal('record_not_readable', name, message, 'type the command again');
  }

  close(): void {
    for (const fd of this.#open.values()) closeSync(fd);
    this.#open.clear();
  }

  #opened(file: number): number {
    const found = this.#open.get(file);
    if (found !== undefined) return found;
    const fd = openToRead(this.#files[file] ?? '');
    this.#open.set(file, fd);
    return fd;
  }
}
