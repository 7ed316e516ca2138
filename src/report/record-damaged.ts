/** The word on a damaged record with which a result on stdout begins. */
import { wrap } from './text.ts';

/** `record` of the JSON documents. none: there is no record folder. damaged: nothing it says can be relied on. */
export type RecordState = 'none' | 'read' | 'damaged';

/** One line, with its newline. @example recordDamagedLine(80) //=> 'RECORD DAMAGED: …, see holdfast record verify\n' */
export function recordDamagedLine(width: number): string {
  const words = 'RECORD DAMAGED: nothing below can be relied on, see holdfast record verify';
  return `${wrap(words, width, '', '  ')}\n`;
}
