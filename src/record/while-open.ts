/** Files of the record while they are read: a disk may fail then as well, or a drive of the network go away. */
import { closeSync } from 'node:fs';
import { isSystemError, notReadable, openToRead } from './folder.ts';

/**
 * Opens a file of the record, has it read, and closes it, however that ends.
 *
 * @param read - what it asks of the system concerns this file alone.
 * @throws Refusal (exit 3) where the file is a link, no regular file, or cannot be read (`record_not_readable`); what `read` throws.
 * @example whileOpen('record/prep/2026.jsonl', fd => fstatSync(fd).size) //=> 4120
 */
export function whileOpen<T>(file: string, read: (fd: number) => T): T {
  const fd = openToRead(file);
  try {
    return whileReading(file, () => read(fd));
  } finally {
    closeRead(fd);
  }
}

/** What was only read is not lost by a close that fails, as a drive of the network may have it. */
function closeRead(fd: number): void {
  try {
    closeSync(fd);
  } catch (error) {
    if (!isSystemError(error)) throw error;
  }
}

/** As `whileOpen`, of a file that is open already and stays so. */
export function whileReading<T>(file: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    throw isSystemError(error) ? notReadable(file, error) : error;
  }
}
