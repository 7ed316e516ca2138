/**
 * The due report as a calendar (RFC 5545): an all-day event for each check that has a date. The UID of a check never
 * changes, so that a calendar that reads the file again moves the event instead of adding one.
 */
import { createHash } from 'node:crypto';
import type { CalendarDate } from '../calendar/zone.ts';
import type { DueItem, DueReport, PracticeDue } from '../due/item.ts';
import { latenessWords, STATE_WORDS } from './due-words.ts';
import { safeText } from './safe-text.ts';

/** At most so many octets in a line, without its line break (RFC 5545, 3.1). */
const MOST_OCTETS = 75;

/** The calendar, CRLF after every line. What is withdrawn or has no date is left out. */
export function renderDueIcs({ practices, madeAt }: DueReport): string {
  const events = practices.flatMap(due => [
    ...damageEvents(due),
    ...due.items.flatMap(item => itemEvents(item, due)),
  ]);
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Holdfast//holdfast.due/1//EN',
    'CALSCALE:GREGORIAN',
    // A calendar must hold at least one component; a zone that nothing uses does no harm.
    ...(events.length === 0 ? EMPTY_ZONE : events.flatMap(event => eventLines(event, madeAt))),
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

interface AllDay {
  readonly uid: string;
  readonly on: CalendarDate;
  readonly summary: string;
  readonly details: readonly string[];
  readonly category: string;
}

function itemEvents(item: DueItem, { practice, asOf }: PracticeDue): AllDay[] {
  const { asset, check, state, dueOn, because } = item;
  if (dueOn === null || state === 'withdrawn') return [];
  const isOverdue = state === 'overdue';
  const mark = isOverdue ? `${STATE_WORDS.overdue}: ` : '';
  return [
    {
      // From practice, asset and check alone: ids are unique within a practice.
      uid: `${asset.id}.${check.id}.${hashOf(practice)}`,
      // On the day of the report, whose next edition moves it: nobody leafs back to the day that was missed.
      on: isOverdue ? asOf : dueOn,
      summary: `${mark}${asset.id}: ${check.id}`,
      details: [
        ...(isOverdue ? [latenessWords(item)] : []),
        ...(check.text === null ? [] : [check.text]),
        because,
        practice,
      ],
      category: state.toUpperCase(),
    },
  ];
}

/** Whoever sees only the calendar must learn of it too. */
function damageEvents({ practice, asOf, cautions }: PracticeDue): AllDay[] {
  const damage = cautions.filter(({ code }) => code === 'record_damaged').map(({ message }) => message);
  if (damage.length === 0) return [];
  const uid = `record-damaged.${hashOf(practice)}`;
  const details = [...damage, 'The dates may be wrong. Run: holdfast record verify', practice];
  return [{ uid, on: asOf, summary: 'RECORD DAMAGED', details, category: 'DAMAGED' }];
}

/** Tells practices apart. */
function hashOf(practice: string): string {
  return createHash('sha256').update(practice).digest('hex').slice(0, 12);
}

function eventLines({ uid, on, summary, details, category }: AllDay, madeAt: Date): string[] {
  return [
    'BEGIN:VEVENT',
    `UID:${uid}@holdfast`,
    `DTSTAMP:${madeAt.toISOString().replace(/[-:]|\.\d+/g, '')}`,
    // A later report outranks an earlier one, whatever the clocks of its readers.
    `SEQUENCE:${Math.floor(madeAt.getTime() / 60_000)}`,
    `DTSTART;VALUE=DATE:${on.replaceAll('-', '')}`,
    'DURATION:P1D',
    `SUMMARY:${escaped(summary)}`,
    `DESCRIPTION:${details.map(escaped).join('\\n')}`,
    `CATEGORIES:${category}`,
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ];
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
