/** Bytes of a file → text, or the one problem that keeps it from being read. */
import { isUtf8 } from 'node:buffer';
import { readFileSync, statSync } from 'node:fs';
import { fileProblem, type Problem } from '../problem/problem.ts';
import { Source } from './source.ts';

const MOST_BYTES = 1024 * 1024;
const LINE_FEED = 0x0a;

/** What was read: the text with positions, and the exact bytes for the git blob id. */
export interface FileRead {
  source: Source;
  bytes: Buffer;
}

/** Reads an inventory's bytes and decodes them. A BOM is stripped; CRLF is kept, since YAML takes it. */
export function readSource(file: string): FileRead | Problem {
  const bytes = readBytes(file);
  if (!Buffer.isBuffer(bytes)) return bytes;
  if (!isUtf8(bytes)) return notUtf8(file, bytes);
  return { source: new Source(file, new TextDecoder().decode(bytes)), bytes };
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
    return fileProblem(
      'file_not_readable',
      file,
      `${file} cannot be read (${code})`,
      'check the path and its permissions',
    );
  }
}

/** The first line with a byte that is not UTF-8. No other character holds the byte of a line break, so lines stand alone. */
function notUtf8(file: string, bytes: Buffer): Problem {
  let line = 0;
  let from = 0;
  let bad: Buffer;
  do {
    const end = bytes.indexOf(LINE_FEED, from);
    bad = bytes.subarray(from, end === -1 ? undefined : end);
    from = end + 1;
    line++;
  } while (isUtf8(bad));
  const text = bad.toString('utf8').replace(/\r$/, '');
  const remedy = 'save the file as UTF-8; editors call this the encoding';
  return {
    ...fileProblem('file_not_utf8', file, 'bytes that are not UTF-8', remedy),
    line,
    column: Array.from(text.slice(0, Math.max(0, text.indexOf('\uFFFD')))).length + 1,
    excerpt: { text, length: 1 },
  };
}
