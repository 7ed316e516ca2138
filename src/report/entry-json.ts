/** An entry that was just recorded, as JSON. */
import type { Problem } from '../problem/problem.ts';
import type { Appended } from '../record/append.ts';
import { safeJson } from './safe-text.ts';

/**
 * `{"format":"holdfast.entry/1","already":…,"entry":{…},"cautions":[{code,message,remedy}],…}`, one line.
 *
 * @param already - true: the entry was there before (a retry), nothing was written.
 */
export function renderEntryJson(
  { entry, already }: Pick<Appended, 'entry' | 'already'>,
  cautions: readonly Problem[],
  more: Readonly<Record<string, unknown>>,
): string {
  const plain = cautions.map(({ code, message, remedy }) => ({ code, message, remedy }));
  return `${safeJson({ format: 'holdfast.entry/1', already, entry, cautions: plain, ...more })}\n`;
}
