/** One line onto the end of a file: all of it, kept by the disk, or none. */
import { fstatSync, fsyncSync, ftruncateSync, writeSync } from 'node:fs';
import { codeOf, storeRefusal, writeRefusal } from './folder.ts';

/**
 * Writes a line by one call and has the disk keep it. What fails is cut back off, so that "not recorded" is true; where
 * even that fails, the message says so and names the id by which a retry is recognised.
 *
 * @param fd - open for appending; its file ends at `size`, after a newline or empty.
 * @param line - with its newline.
 * @throws Refusal (exit 3) `record_disk_full`, `record_not_written`, `record_write_unsure`, `record_disturbed`.
 */
export function writeLine(fd: number, file: string, size: number, line: Buffer, id: string): void {
  let written: number;
  try {
    written = writeSync(fd, line);
  } catch (error) {
    // Nothing came through, as far as the system says; what did is cut back, or stays as a torn tail.
    tryCutBack(fd, size);
    throw writeRefusal(error, file);
  }
  if (written !== line.length) {
    tryCutBack(fd, size);
    const message = `not recorded: only ${written} of ${line.length} bytes fitted into ${file}`;
    throw storeRefusal('record_disk_full', file, message, 'make room, then type the command again');
  }
  try {
    fsyncSync(fd);
  } catch (error) {
    // The disk may have the line nevertheless.
    if (tryCutBack(fd, size)) throw writeRefusal(error, file);
    const message = `it is not certain that the entry was recorded in ${file} (${codeOf(error)})`;
    throw storeRefusal('record_write_unsure', file, message, `type the command again with --id ${id}`);
  }
  const now = fstatSync(fd).size;
  if (now !== size + line.length) {
    const message = `${file} should have ${size + line.length} bytes and has ${now}: another program wrote to it past the lock`;
    throw storeRefusal(
      'record_disturbed',
      file,
      message,
      `run holdfast record verify; a retry needs --id ${id}`,
    );
  }
}

/** Whether the file ends at `size` again, on the disk too. */
function tryCutBack(fd: number, size: number): boolean {
  try {
    ftruncateSync(fd, size);
    fsyncSync(fd);
    return true;
  } catch {
    return false;
  }
}
