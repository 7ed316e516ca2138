/**
 * The only writer of the record. One entry is one line, written by one call, and reported only when the disk has it:
 *
 *   lock the station → heal a torn tail → look at the last line → write, fsync, check the size → remember the head
 */
import { closeSync, fsyncSync } from 'node:fs';
import path from 'node:path';
import type { Timestamp } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';
import { type Problem, problem, Refusal } from '../problem/problem.ts';
import { VERSION } from '../version.ts';
import { lineHash } from './chain.ts';
import type { EntryDraft } from './draft.ts';
import { ensureEntryId, newEntryId } from './entry-id.ts';
import { ensureStationFolder, type FolderIdentity, isSystemError, writeRefusal } from './folder.ts';
import { KeptHead } from './head.ts';
import { lineText } from './line-text.ts';
import { type Lock, lockStation } from './lock.ts';
import { isEntry, nothingKnown, parseLine } from './parse-line.ts';
import { findEntry, sameContent } from './retry.ts';
import { ensureStationName } from './station.ts';
import {
  createYearFile,
  type OpenFile,
  openToAppend,
  prepareStationEnd,
  type StationEnd,
  syncNames,
} from './station-end.ts';
import { clockCautions, doneOn, enteredAt } from './times.ts';
import { writeLine } from './write.ts';

export interface AppendRequest {
  /** The record's folder; it and the station's are made where they are missing. */
  readonly recordDir: string;
  readonly station: string;
  readonly draft: EntryDraft;
  /** What the person gave with --id: the entry is looked for first, in all stations. */
  readonly id?: string | undefined;
  /** The command's one reading of the clock. */
  readonly now: Date;
  readonly timeZone: string;
  /** Where heads are remembered (`stateFolder(env)`); null: nowhere. */
  readonly stateDir: string | null;
  /** How long to wait for another writer. Default 10 s. */
  readonly waitMs?: number | undefined;
}

export interface Appended {
  /** The entry as it stands in the record. */
  readonly entry: Entry;
  /** Whether it was there before: a retry. Nothing was written then. */
  readonly already: boolean;
  /** The file it stands in. */
  readonly file: string;
  /** To be printed on stderr; the entry is recorded all the same. */
  readonly cautions: readonly Problem[];
}

/**
 * Records one entry.
 *
 * @throws Refusal: exit 2 where the entry cannot be taken (`time_in_future`, `entry_id_taken`, `entry_not_valid`, …),
 *   exit 3 where the record cannot be written or trusted (`record_busy`, `record_disk_full`, `last_line_damaged`, …).
 *   Unless it says otherwise (`record_write_unsure`, `record_disturbed`), nothing was recorded.
 * @example
 * const { entry, cautions } = await appendEntry({ recordDir, station, draft, now, timeZone, stateDir });
 */
export async function appendEntry(request: AppendRequest): Promise<Appended> {
  const station = ensureStationName(request.station);
  const id = request.id === undefined ? newEntryId(request.now) : ensureEntryId(request.id);
  const folder = path.join(request.recordDir, station);
  try {
    const lock = await lockFolder(request.recordDir, station, folder, request.waitMs);
    try {
      return recognised(request) ?? appendLocked(request, id, lock.folder);
    } finally {
      lock.release();
    }
  } catch (error) {
    // Whatever the system refused before the line was written; writeLine speaks for itself.
    if (error instanceof Refusal || !isSystemError(error)) throw error;
    throw writeRefusal(error, folder);
  }
}

/** Nearly always the folder is there: it is made, or looked at more closely, where the lock cannot be had. */
async function lockFolder(
  recordDir: string,
  station: string,
  folder: string,
  waitMs: number | undefined,
): Promise<Lock> {
  try {
    return await lockStation(folder, { waitMs });
  } catch (error) {
    if (error instanceof Refusal || !isSystemError(error)) throw error;
    return lockStation(ensureStationFolder(recordDir, station), { waitMs });
  }
}

/** A retry: the entry is there already and says the same. */
function recognised({ id, recordDir, draft, timeZone }: AppendRequest): Appended | null {
  if (id === undefined) return null;
  const found = findEntry(recordDir, id);
  if (found === null) return null;
  if (!sameContent(found.entry, draft, timeZone)) {
    const message = `the entry ${id} is in ${found.file} already and says something else`;
    throw new Refusal([problem('entry_id_taken', message, 'leave --id out')]);
  }
  // The earlier try may have failed exactly here; only now is it certain that the disk has it.
  const { fd } = openToAppend(found.file, null);
  try {
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
  return { ...found, already: true, cautions: [] };
}

function appendLocked(request: AppendRequest, id: string, locked: FolderIdentity): Appended {
  const { recordDir, station, stateDir, now, timeZone } = request;
  const kept = stateDir === null ? null : new KeptHead(stateDir, recordDir, station);
  let end: StationEnd | null = null;
  let target: OpenFile | null = null;
  try {
    end = prepareStationEnd(recordDir, station, locked, kept?.memory ?? null, now);
    const { last } = end;
    const at = enteredAt(now, timeZone, last?.at ?? null);
    const { entry, bytes } = compose(request, id, at, end);
    target = targetFile(recordDir, station, locked, entry, end.newest);
    // A file that has bytes has had its name kept by the disk before.
    if (target.size === 0) syncNames(recordDir, target.file);
    writeLine(target.fd, target.file, target.size, bytes, id);
    const cautions = [
      ...end.cautions,
      ...clockCautions(last, station, { at, now, timeZone }),
      ...remember(kept, end, target, entry, bytes),
    ];
    return { entry, already: false, file: target.file, cautions };
  } finally {
    kept?.close();
    if (target !== null) closeSync(target.fd);
    const newest = end?.newest ?? null;
    if (newest !== null && newest !== target) closeSync(newest.fd);
  }
}

/** The entry and its line. Keys stand in the order of the format: what the store knows, the content, the binding. */
function compose(
  { draft, station, now, timeZone }: AppendRequest,
  id: string,
  at: Timestamp,
  end: StationEnd,
): { entry: Entry; bytes: Buffer } {
  const { kind, by, on, inventory, ...content } = draft;
  const line = lineText({
    v: 1,
    id,
    at,
    station,
    kind,
    by,
    on: doneOn(on, { at, now, timeZone }),
    ...content,
    n: nextNumber(end),
    inventory,
    tool: VERSION,
    prev: end.head,
  });
  const bytes = Buffer.from(`${line}\n`);
  // Read back before it is written: what the reader would not take must not get in.
  const entry = parseLine(line, { ...nothingKnown(), prev: end.head });
  if (isEntry(entry)) return { entry, bytes };
  throw new Refusal([
    problem('entry_not_valid', `not recorded: ${entry.reason}`, 'mend what the message names'),
  ]);
}

/** Lines count from 1. Where the last one has no number, this one has none either. */
function nextNumber({ last }: StationEnd): number | undefined {
  if (last === null) return 1;
  return last.n === undefined ? undefined : last.n + 1;
}

/** The later of the entry's year and the newest file, so that the chain runs through the files in their order. */
function targetFile(
  recordDir: string,
  station: string,
  locked: FolderIdentity,
  entry: Entry,
  newest: OpenFile | null,
): OpenFile {
  const file = path.join(recordDir, station, `${entry.at.slice(0, 4)}.jsonl`);
  if (newest !== null && path.basename(newest.file) >= path.basename(file)) return newest;
  return createYearFile(file, locked);
}

function remember(
  kept: KeptHead | null,
  end: StationEnd,
  target: OpenFile,
  entry: Entry,
  bytes: Buffer,
): Problem[] {
  if (kept === null) return [];
  const line = bytes.subarray(0, -1);
  const last = {
    head: lineHash(line),
    n: entry.n ?? null,
    file: path.basename(target.file),
    byte: target.size,
    length: line.length,
  };
  const caution = kept.remember({ last, missing: end.missing });
  return caution === null ? [] : [caution];
}
