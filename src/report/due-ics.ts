/**
 * The due report as a calendar (RFC 5545): an all-day event for each check that has a date. The UID of a check never
 * changes, so that a calendar that reads the file again moves the event instead of adding one.
 */
import { createHash } from 'node:crypto';
import { addDays } from '../calendar/date.ts';
import type { CalendarDate } from '../calendar/zone.ts';
import type { DueItem, DueReport, PracticeDue } from '../due/item.ts';
import { STATE_WORDS } from './due-words.ts';
import { safeText } from './safe-text.ts';

/** At most so many octets in a line, without its line break (RFC 5545, 3.1). */
const MOST_OCTETS = 75;

/** The calendar, CRLF after every line. What is withdrawn or has no date is left out. */
export function renderDueIcs(report: DueReport): string {
  const events = report.practices.flatMap(due =>
    due.items.flatMap(item => {
      const on = item.state === 'withdrawn' ? null : item.dueOn;
      return on === null ? [] : event(item, on, due, report.madeAt);
    }),
  );
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Holdfast//holdfast.due/1//EN',
    'CALSCALE:GREGORIAN',
    // A calendar must hold at least one component; a zone that nothing uses does no harm.
    ...(events.length === 0 ? EMPTY_ZONE : events),
    'END:VCALENDAR',
  ];
  return lines.map(line => `${fold(line)}\r\n`).join('');
}

const EMPTY_ZONE = [
  'BEGIN:VTIMEZONE',
  'TZID:UTC',
  'BEGIN:STANDARD',
  'DTSTART:19700101T000000',
  'TZOFFSETFROM:+0000',
  'TZOFFSETTO:+0000',
  'END:STANDARD',
  'END:VTIMEZONE',
];

function event(item: DueItem, on: CalendarDate, due: PracticeDue, madeAt: Date): string[] {
  const { asset, check, state, because } = item;
  const mark = state === 'overdue' ? `${STATE_WORDS.overdue}: ` : '';
  const details = [check.text, because, due.practice].filter(text => text !== null);
  return [
    'BEGIN:VEVENT',
    `UID:${uid(due.practice, item)}`,
    `DTSTAMP:${madeAt.toISOString().replace(/[-:]|\.\d+/g, '')}`,
    // A later report outranks an earlier one, whatever the clocks of its readers.
    `SEQUENCE:${Math.floor(madeAt.getTime() / 60_000)}`,
    `DTSTART;VALUE=DATE:${on.replaceAll('-', '')}`,
    `DTEND;VALUE=DATE:${addDays(on, 1).replaceAll('-', '')}`,
    `SUMMARY:${escaped(`${mark}${asset.id}: ${check.id}`)}`,
    `DESCRIPTION:${details.map(escaped).join('\\n')}`,
    `CATEGORIES:${state.toUpperCase()}`,
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ];
}

/** From practice, asset and check alone: ids are unique within a practice, and the hash tells practices apart. */
function uid(practice: string, { asset, check }: DueItem): string {
  const hash = createHash('sha256').update(practice).digest('hex').slice(0, 12);
  return `${asset.id}.${check.id}.${hash}@holdfast`;
}

/** A TEXT value (RFC 5545, 3.3.11). Control characters may not stand in one, so they are made visible. */
function escaped(text: string): string {
  return text
    .split(/\r?\n/)
    .map(line => safeText(line).replace(/[\\;,]/g, '\\$&'))
    .join('\\n');
}

/** Folds a line so that none is longer than 75 octets and no character is cut. @example fold('short') //=> 'short' */
export function fold(line: string): string {
  const lines: string[] = [];
  let current = '';
  let octets = 0;
  for (const character of line) {
    const size = Buffer.byteLength(character);
    if (octets + size > MOST_OCTETS) {
      lines.push(current);
      // The blank that marks a continuation counts.
      current = ' ';
      octets = 1;
    }
    current += character;
    octets += size;
  }
  return [...lines, current].join('\r\n');
}
