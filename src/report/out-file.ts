/** Writing a report into a file, whole or not at all. */
import { randomUUID } from 'node:crypto';
import {
  closeSync,
  fsyncSync,
  lstatSync,
  openSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  type Stats,
  writeSync,
} from 'node:fs';
import path from 'node:path';
import { fileProblem, Refusal } from '../problem/problem.ts';

/**
 * Writes a file so that a reader finds the old text or the new one, never a part: into a new file beside it, kept by the
 * disk, then put in its place. A link is followed, and the file it leads to is replaced. A report never takes the place of
 * an inventory or of a file of a record, however it came to be named.
 *
 * @throws Refusal `file_not_written` (exit 2); what was there before is then still there.
 */
export function writeFileWhole(file: string, text: string): void {
  const target = targetOf(file);
  const kept = keptKind(target);
  if (kept !== null) throw notWritten(file, `it is ${kept}`, 'name another file');
  const fresh = path.join(path.dirname(target), `.${path.basename(target)}.${randomUUID()}.new`);
  try {
    writeSynced(fresh, text, modeOf(target));
    renameSync(fresh, target);
  } catch (error) {
    discard(fresh);
    throw notWritten(file, codeOf(error));
  }
}

/** `force` forgives a file that is not there, but no folder on its way that is a file. */
function discard(fresh: string): void {
  try {
    rmSync(fresh, { force: true });
  } catch {
    // Why it could not be written says enough.
  }
}

/** wx: never through something that another user has put under that name. */
function writeSynced(fresh: string, text: string, mode: number): void {
  const fd = openSync(fresh, 'wx', mode);
  try {
    const bytes = Buffer.from(text);
    for (let at = 0; at < bytes.length; ) at += writeSync(fd, bytes, at);
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
}

/** The file that is meant once links are followed. Putting a file in the place of a device or a folder is refused. */
function targetOf(file: string): string {
  let stat: Stats;
  try {
    stat = lstatSync(file);
  } catch {
    return file;
  }
  try {
    const target = stat.isSymbolicLink() ? realpathSync(file) : file;
    if (lstatSync(target).isFile()) return target;
  } catch (error) {
    throw notWritten(file, codeOf(error));
  }
  throw notWritten(file, 'it is no regular file');
}

function modeOf(target: string): number {
  try {
    return lstatSync(target).mode & 0o777;
  } catch {
    return 0o666;
  }
}

const OF_A_RECORD = /^\d{4}\.jsonl(?:\.torn-.*)?$/;
const MOST_INVENTORY_BYTES = 1 << 20;

/** What a file is that only a person or the record's own writer may write; null for any other. */
function keptKind(target: string): string | null {
  if (OF_A_RECORD.test(path.basename(target))) return 'named as the files of a record are';
  try {
    if (lstatSync(target).size > MOST_INVENTORY_BYTES) return null;
    return /^\ufeff?format:\s*\d/m.test(readFileSync(target, 'utf8')) ? 'an inventory' : null;
  } catch {
    // Nothing there, or not to be read: writing it says more.
    return null;
  }
}

function notWritten(
  file: string,
  why: string,
  remedy = 'check that its folder exists, that you may write there, and that the disk has room',
): Refusal {
  return new Refusal([
    fileProblem('file_not_written', file, `${file} could not be written (${why})`, remedy),
  ]);
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : String(error);
}
