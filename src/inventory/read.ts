/** Bytes of a file → text, or the one problem that keeps it from being read. */
import { readFileSync, statSync } from 'node:fs';
import { fileProblem, type Problem } from '../problem/problem.ts';
import { Source } from './source.ts';

const MOST_BYTES = 1024 * 1024;

/** What was read: the text with positions, and the exact bytes for the git blob id. */
export interface FileRead {
  source: Source;
  bytes: Buffer;
}

/** Reads an inventory's bytes and decodes them. A BOM is stripped; CRLF is kept, since YAML takes it. */
export function readSource(file: string): FileRead | Problem {
  const bytes = readBytes(file);
  if (!Buffer.isBuffer(bytes)) return bytes;
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return notUtf8(file, bytes);
  }
  return { source: new Source(file, text), bytes };
}

function readBytes(file: string): Buffer | Problem {
  try {
    const stat = statSync(file);
    if (stat.isDirectory()) {
      return fileProblem('file_is_folder', file, `${file} is a folder`, 'name the file in it');
    }
    if (!stat.isFile()) {
      return fileProblem('file_not_readable', file, `${file} is not a regular file`, 'name a file on disk');
    }
    if (stat.size > MOST_BYTES) {
      const message = `${file} has ${stat.size} bytes; an inventory has at most ${MOST_BYTES}`;
      return fileProblem('file_too_large', file, message, 'check that it is the right file');
    }
    return readFileSync(file);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      return fileProblem('file_missing', file, `${file} does not exist`, 'check the path');
    }
    return fileProblem('file_not_readable', file, `${file} cannot be read (${code})`, 'check its permissions');
  }
}

function notUtf8(file: string, bytes: Buffer): Problem {
  // The line of the first byte that does not survive the round trip.
  const decoded = bytes.toString('utf8');
  const at = Math.max(0, decoded.indexOf('\uFFFD'));
  const line = decoded.slice(0, at).split('\n').length;
  return {
    ...fileProblem('file_not_utf8', file, `line ${line} holds bytes that are not UTF-8`, 'save the file as UTF-8'),
    line,
    column: 1,
  };
}
