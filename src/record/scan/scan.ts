/**
 * Reads a record for the due report: what `foldStanding` would say of the entries that `readRecord` would give, in one pass
 * that makes no object of a line and keeps only what may still count.
 *
 *   blocks → LineReader, else parseLine → ScanFold → standingOf
 */
import type { CalendarDate } from '../../calendar/zone.ts';
import type { Inventory } from '../../inventory/inventory.ts';
import type { Problem } from '../../problem/problem.ts';
import { cancelledBy } from '../cancelled.ts';
import { FIRST_PREV, lineHash } from '../chain.ts';
import { foreignLine } from '../classify.ts';
import type { Damage } from '../damage.ts';
import { openRecord } from '../folder.ts';
import { readBlocks } from '../lines.ts';
import { doneAtMs, doneOnDateMs } from '../order.ts';
import { isEntry, nothingKnown, parseLine } from '../parse-line.ts';
import { type StationHead, tornTail } from '../read.ts';
import type { DueStanding } from '../standing-types.ts';
import { fileEnd, lastLine } from '../tail.ts';
import { whileOpen } from '../while-open.ts';
import { dateNumber, factsOf } from './facts.ts';
import { Fetch } from './fetch.ts';
import { ScanFold } from './fold.ts';
import { placeOf } from './key.ts';
import { LineReader } from './line-reader.ts';
import { standingOf } from './standing.ts';

const NEWLINE = 0x0a;

export interface ScanOptions {
  readonly inventory: Inventory;
  /** Today in the practice's zone. What is dated later cannot have been done. */
  readonly today: CalendarDate;
  /** What was done later is left out, whenever it was entered. */
  readonly asOf: CalendarDate;
  /** How much is kept before it is looked what no longer counts; only tests have a reason to set it. */
  readonly pruneAt?: number | undefined;
}

export interface RecordScan {
  /** False where there is no record at all: nothing is known. */
  readonly exists: boolean;
  /** Up to and including the earlier of `today` and `asOf`. Corrections hold whatever date they bear. */
  readonly standing: DueStanding;
  /** Entries dated after today, corrections apart: the earliest few, and how many there are. */
  readonly future: {
    readonly count: number;
    readonly first: readonly { readonly id: string; readonly station: string; readonly date: CalendarDate }[];
  };
  readonly stations: readonly StationHead[];
  /** As `readRecord` without the chain has it: where it is not empty, nothing can be relied on. */
  readonly damage: readonly Damage[];
  readonly cautions: readonly Problem[];
}

/**
 * Reads all stations. A damaged record is read as far as it can be.
 *
 * @throws Refusal (exit 3) where the record cannot be read at all, or something stands in its place.
 * @example scanRecord('record', { inventory, today, asOf: today }).standing.assets.get('bain-1')?.withdrawn //=> null
 */
export function scanRecord(dir: string, { inventory, today, asOf, pruneAt }: ScanOptions): RecordScan {
  const { exists, stations, cautions } = openRecord(dir);
  const files = stations.flatMap(({ station, files: own }) =>
    own.map(file => ({ station, file, end: Infinity })),
  );
  const days = { today: dateNumber(today), last: dateNumber(asOf < today ? asOf : today) };
  const newPass = (cancelled: ReadonlySet<string> | null) =>
    new Pass(
      new ScanFold(inventory, days, cancelled !== null, pruneAt),
      inventory.practice.timeZone,
      cancelled,
    );
  const fetch = new Fetch(files.map(({ file }) => file));
  try {
    const first = newPass(null);
    const read = files.map((file, number) => {
      const seen = first.file(file, number);
      file.end = seen.end;
      return { station: file.station, ...seen };
    });
    const cancelled = cancelledBy(first.fold.corrections);
    const standing =
      standingOf(first.fold, cancelled, fetch) ?? readAgain(newPass(cancelled), files, cancelled, fetch);
    return {
      exists,
      standing,
      future: {
        count: first.fold.futureCount,
        first: first.fold.future.map(({ place }) => {
          const { id, station, on } = fetch.entry(place);
          return { id, station, date: on.slice(0, 10) };
        }),
      },
      stations: stations.map(({ station }) => headOf(station, read)),
      damage: read.flatMap(({ damage }) => damage),
      cautions,
    };
  } finally {
    fetch.close();
  }
}

/** The same lines once more, now that it is known which are cancelled. */
function readAgain(
  second: Pass,
  files: readonly RecordFile[],
  cancelled: ReadonlySet<string>,
  fetch: Fetch,
): DueStanding {
  for (const [number, file] of files.entries()) second.file(file, number);
  const standing = standingOf(second.fold, cancelled, fetch);
  if (standing === null) throw new Error('a second pass did not keep what counts');
  return standing;
}

interface RecordFile {
  readonly station: string;
  readonly file: string;
  /** No line at or behind this byte is looked at. */
  readonly end: number;
}

interface FileRead {
  readonly entries: number;
  /** The hash of the last complete line, or null where there is none. */
  readonly head: string | null;
  /** Behind the last line that was looked at. */
  readonly end: number;
  readonly damage: readonly Damage[];
}

function headOf(station: string, read: readonly (FileRead & { station: string })[]): StationHead {
  const own = read.filter(file => file.station === station);
  return {
    station,
    head: own.findLast(({ head }) => head !== null)?.head ?? FIRST_PREV,
    entries: own.reduce((sum, { entries }) => sum + entries, 0),
  };
}

/** One way through the files. */
class Pass {
  readonly fold: ScanFold;
  readonly #reader: LineReader;
  readonly #doneAt: ReturnType<typeof doneAtMs>;
  readonly #cancelled: ReadonlySet<string> | null;
  #known = nothingKnown();

  /** @param cancelled - null: not known yet. */
  constructor(fold: ScanFold, timeZone: string, cancelled: ReadonlySet<string> | null) {
    this.fold = fold;
    this.#cancelled = cancelled;
    this.#doneAt = doneAtMs(timeZone);
    this.#reader = new LineReader(this.fold.facts, this.fold.words, doneOnDateMs(timeZone));
  }

  file({ station, file, end }: RecordFile, number: number): FileRead {
    const damage: Damage[] = [];
    let entries = 0;
    let seenTo = 0;
    let last: Buffer | null = null;
    const parsed = (text: string, line: number, byte: number) => {
      const reason = this.#parse(text, placeOf(number, byte));
      if (reason === null) entries += 1;
      else damage.push(foreignLine(station, { file, line, byte, index: 0, hash: '', reason }));
    };
    return whileOpen(file, fd => {
      const tail = readBlocks(
        fd,
        {
          block: (block, firstLine, byte) => {
            let line = firstLine;
            for (let start = 0; start < block.length; line += 1) {
              let newline = this.#reader.read(block, start);
              if (newline === -1) {
                newline = block.indexOf(NEWLINE, start);
                parsed(block.toString('utf8', start, newline), line, byte + start);
              } else {
                entries += 1;
                this.fold.facts.place = placeOf(number, byte + start);
                this.fold.take(this.#isCancelled(block));
              }
              start = newline + 1;
            }
            const lastStart = block.lastIndexOf(NEWLINE, -2) + 1;
            last = Buffer.from(block.subarray(lastStart, -1));
            seenTo = byte + block.length;
            return line - firstLine;
          },
          tooLong: (beginning, line, byte) => {
            last = null;
            parsed(beginning.toString('latin1'), line, byte);
          },
        },
        end,
      );
      if (tail !== null) damage.push(tornTail(station, file, tail));
      last ??= lastLine(fd, fileEnd(fd))?.bytes ?? null;
      return { entries, head: last === null ? null : lineHash(last), end: seenTo, damage };
    });
  }

  /** Takes a line in the parser's way. @returns why it is no entry; null where it is one. */
  #parse(text: string, place: number): string | null {
    const entry = parseLine(text, this.#known);
    if (!isEntry(entry)) return entry.reason;
    factsOf(entry, this.fold.facts, this.fold.words, this.#doneAt);
    this.fold.facts.place = place;
    this.fold.take(this.#cancelled?.has(entry.id) ?? false);
    return null;
  }

  #isCancelled(block: Buffer): boolean {
    if (this.#cancelled === null) return false;
    const { idStart, idEnd } = this.fold.facts;
    return this.#cancelled.has(block.toString('latin1', idStart, idEnd));
  }
}
