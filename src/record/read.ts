/** Reading a record: all stations' entries in one order, and all that is wrong with it. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';
import type { Problem } from '../problem/problem.ts';
import { FIRST_PREV, lineHash } from './chain.ts';
import { checkStation, type VisitEntry } from './check-station.ts';
import { foreignLine } from './classify.ts';
import { type Damage, damageAt } from './damage.ts';
import { openRecord, type StationFiles } from './folder.ts';
import { recallHead } from './head.ts';
import { readLines, type TornTail } from './lines.ts';
import { byOrder, doneAtMs, type OrderKey } from './order.ts';
import { isEntry, nothingKnown, parseLine } from './parse-line.ts';
import { fileEnd, lastLine } from './tail.ts';
import { whileOpen } from './while-open.ts';

/** Where an entry stands. Lines count from 1; bytes from 0, to the line's first. */
export interface EntryPlace {
  readonly file: string;
  readonly line: number;
  readonly byte: number;
}

/** A station's newest line: what a report prints as a witness. */
export interface StationHead {
  readonly station: string;
  /** SHA-256 of the last complete line; 64 zeros where there is none. */
  readonly head: string;
  /** Lines that are entries. */
  readonly entries: number;
}

export interface RecordRead {
  readonly dir: string;
  /** False where there is no record at all: nothing is known. */
  readonly exists: boolean;
  /** In the order on, at, station, line. Also from a damaged record: all lines that are entries. */
  readonly entries: readonly Entry[];
  /** The places of the entries, in the same order. */
  readonly places: readonly EntryPlace[];
  readonly stations: readonly StationHead[];
  /** Where it is not empty, nothing that the record says can be relied on: caution `record_damaged`. */
  readonly damage: readonly Damage[];
  /** Untidy, not damaged: to be printed on stderr. */
  readonly cautions: readonly Problem[];
}

export interface ReadOptions {
  /** The practice's zone: a bare date counts as the end of that day there. */
  readonly timeZone: string;
  /** Leaves out what was done after this day, whenever it was entered. */
  readonly asOf?: CalendarDate | undefined;
  /** Whether each line's hash is compared with the next line's `prev`. Default true. */
  readonly checkChain?: boolean | undefined;
  /** Where heads are remembered (`stateFolder(env)`), to notice a cut tail; null or not given: it is not looked for. */
  readonly stateDir?: string | null | undefined;
}

interface Placed extends OrderKey {
  readonly entry: Entry;
  readonly place: EntryPlace;
}

/** What is said of a station besides its entries. */
interface StationRead extends StationHead {
  readonly damage: readonly Damage[];
}

/**
 * Reads all stations. A damaged record is read as far as it can be: the caller says so loudly and relies on nothing.
 *
 * @throws Refusal (exit 3) where the record cannot be read at all, or something stands in its place.
 * @example readRecord('record', { timeZone: 'Europe/Dublin' }).entries.length //=> 42
 */
export function readRecord(dir: string, options: ReadOptions): RecordRead {
  const record = openRecord(dir);
  const { asOf } = options;
  const doneAt = doneAtMs(options.timeZone);
  const placed: Placed[] = [];
  const stations: StationHead[] = [];
  const damage: Damage[] = [];
  for (const files of record.stations) {
    const { station } = files;
    let index = 0;
    const { damage: found, ...head } = readStation(dir, files, options, (entry, file, line, byte) => {
      index += 1;
      // The date as written: `on` has the practice's offset, so its date is the practice's.
      if (asOf !== undefined && entry.on.slice(0, 10) > asOf) return;
      placed.push({
        on: doneAt(entry),
        at: Date.parse(entry.at),
        station,
        line: index,
        entry,
        place: { file, line, byte },
      });
    });
    stations.push(head);
    damage.push(...found);
  }
  placed.sort(byOrder);
  return {
    dir,
    exists: record.exists,
    entries: placed.map(({ entry }) => entry),
    places: placed.map(({ place }) => place),
    stations,
    damage,
    cautions: record.cautions,
  };
}

function readStation(dir: string, files: StationFiles, options: ReadOptions, visit: VisitEntry): StationRead {
  if (options.checkChain === false) return readUnchained(files, visit);
  const { stateDir = null } = options;
  const memory = stateDir === null ? null : recallHead(stateDir, dir, files.station);
  const { station, head, entries, damage } = checkStation(files, memory, [], visit);
  return { station, head, entries, damage };
}

/** Structure only: each line is an entry, the file ends with a newline. */
function readUnchained({ station, files }: StationFiles, visit: VisitEntry): StationRead {
  const damage: Damage[] = [];
  const known = nothingKnown();
  let head = FIRST_PREV;
  let entries = 0;
  for (const file of files) {
    whileOpen(file, fd => {
      const tail = readLines(fd, (_bytes, text, line, byte) => {
        const entry = parseLine(text, known);
        if (isEntry(entry)) {
          entries += 1;
          visit(entry, file, line, byte);
        } else
          damage.push(foreignLine(station, { file, line, byte, index: 0, hash: '', reason: entry.reason }));
      });
      const end = lastLine(fd, fileEnd(fd));
      if (end !== null) head = lineHash(end.bytes);
      if (tail !== null) damage.push(tornTail(station, file, tail));
    });
  }
  return { station, head, entries, damage };
}

/** A file that does not end with a newline. */
export function tornTail(station: string, file: string, { line, byte }: TornTail): Damage {
  const message = `the file ends in the middle of line ${line}`;
  const particulars = { message, expected: 'a newline', found: 'the end' };
  return damageAt('damage_torn_tail', station, { file, line, byte }, particulars);
}
