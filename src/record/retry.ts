/** Recognising an entry that was written by an earlier try of the same command. */
import { isDeepStrictEqual } from 'node:util';
import { timestampIn } from '../calendar/zone.ts';
import type { Entry } from '../generated/entry.ts';
import type { EntryDraft } from './draft.ts';
import { openRecord } from './folder.ts';
import { readLines } from './lines.ts';
import { isEntry, nothingKnown, parseLine } from './parse-line.ts';
import { whileOpen } from './while-open.ts';

/** Written by the store, or by the state of the inventory at the moment: they differ between two tries. */
const NOT_CONTENT: ReadonlySet<string> = new Set([
  'v',
  'id',
  'at',
  'on',
  'station',
  'n',
  'inventory',
  'tool',
  'prev',
]);

/** An entry and the file it stands in. */
export interface Found {
  readonly entry: Entry;
  readonly file: string;
}

/** The entry with this id, in any station of the record; null where there is none. Reads the whole record. */
export function findEntry(recordDir: string, id: string): Found | null {
  let found: Found | null = null;
  const known = nothingKnown();
  for (const { files } of openRecord(recordDir).stations) {
    for (const file of files) {
      whileOpen(file, fd =>
        readLines(fd, (_bytes, text) => {
          if (!text.includes(id)) return;
          const entry = parseLine(text, known);
          if (isEntry(entry) && entry.id === id) found ??= { entry, file };
        }),
      );
    }
  }
  return found;
}

/** Whether an entry says what a draft says. Without `on` the draft means the moment at which it was entered. */
export function sameContent(entry: Entry, draft: EntryDraft, timeZone: string): boolean {
  return isSameDay(entry, draft.on, timeZone) && isDeepStrictEqual(content(entry), content(draft));
}

function isSameDay(entry: Entry, on: string | undefined, timeZone: string): boolean {
  if (on === undefined) return entry.on === entry.at || isOfItsMoment(entry);
  if (entry.on === on) return true;
  const instant = new Date(on);
  return on.includes('T') && !Number.isNaN(instant.getTime()) && entry.on === timestampIn(timeZone, instant);
}

/**
 * Whether an entry was done at the moment of its entering although it bears a later `at`, because the station's last entry was
 * ahead. A typed time lies before the id was made, the time of the clock does not.
 */
function isOfItsMoment({ id, on, at }: Entry): boolean {
  if (!on.includes('T') || on.slice(0, 10) === at.slice(0, 10)) return false;
  const [, year, month, day, hour, minute, second] =
    /^(\d{4})(\d\d)(\d\d)-(\d\d)(\d\d)(\d\d)\d{3}-/.exec(id) ?? [];
  const made = Date.parse(`${year}-${month}-${day}T${hour}:${minute}:${second}Z`);
  // NaN, for an id that a person thought up, is no moment to compare with.
  return Date.parse(on) >= made;
}

function content(of: Entry | EntryDraft): Record<string, unknown> {
  const kept = Object.entries(of).filter(([key, value]) => value !== undefined && !NOT_CONTENT.has(key));
  // Through JSON, as it is written: keys inside without a value fall away.
  return JSON.parse(JSON.stringify(Object.fromEntries(kept)));
}
