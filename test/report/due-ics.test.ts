import fc from 'fast-check';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { fold, renderDueIcs } from '../../src/report/due-ics.ts';
import { named, reportOf } from '../due/report.ts';
import { reading, signOff, withdraw } from '../record/entries.ts';

const ENTRIES = [
  signOff('2026-11-20', 'theatre-1-absorber', 'absorbent-change'),
  withdraw('2026-11-20T09:00:00+00:00', 'bain-1', 'a split hose'),
  reading('2026-11-02T08:00:00+00:00', 'theatre-1-charcoal', { g: 800, new: true }),
];

/** Read by a parser that is not ours. */
function events(text: string): ICAL.Event[] {
  const calendar = new ICAL.Component(ICAL.parse(text));
  expect(calendar.getFirstPropertyValue('version')).toBe('2.0');
  expect(calendar.getFirstPropertyValue('prodid')).toBe('-//Holdfast//holdfast.due/1//EN');
  return calendar.getAllSubcomponents('vevent').map(component => new ICAL.Event(component));
}

function eventOf(text: string, uid: string): ICAL.Event {
  const found = events(text).find(event => event.uid.startsWith(uid));
  if (found === undefined) throw new Error(`no event ${uid}`);
  return found;
}

describe('renderDueIcs', () => {
  it('gives an all-day event to each check that has a date, none to what is withdrawn', () => {
    const report = reportOf(ENTRIES);
    const found = events(renderDueIcs(report));
    const dated =
      report.practices[0]?.items.filter(({ dueOn, state }) => dueOn !== null && state !== 'withdrawn') ?? [];
    expect(dated.length).toBeGreaterThan(3);
    expect(found).toHaveLength(dated.length);
    for (const [i, event] of found.entries()) {
      expect(event.startDate.isDate).toBe(true);
      const item = dated[i];
      expect(event.startDate.toString()).toBe(item?.state === 'overdue' ? '2026-11-25' : item?.dueOn);
      expect(event.duration.toSeconds()).toBe(86_400);
    }
    expect(found.map(({ uid }) => uid).join(' ')).not.toContain('bain-1');
  });

  it('carries every character of the texts through', () => {
    const name = 'Larkhill; Cats, Dogs \\ "Ferrets" \u00fc \u{1F43E}: \u0007';
    const report = reportOf(ENTRIES, { inventory: named(name) });
    const event = eventOf(renderDueIcs(report), 'theatre-1-absorber.absorbent-change');
    expect(event.summary).toBe('theatre-1-absorber: absorbent-change');
    expect(event.description.split('\n')).toEqual([
      '30 days after it was last done on 2026-11-20; 0 of 8 h in use',
      name.replace('\u0007', '\u2407'),
    ]);
  });

  it('keeps the UID when the date moves, and outranks the earlier file', () => {
    const before = eventOf(renderDueIcs(reportOf(ENTRIES)), 'theatre-1-absorber.');
    const later = reportOf([...ENTRIES, signOff('2026-11-24', 'theatre-1-absorber', 'absorbent-change')]);
    const after = eventOf(
      renderDueIcs({ ...later, madeAt: new Date('2026-11-26T06:00:00Z') }),
      'theatre-1-absorber.',
    );
    expect(after.uid).toBe(before.uid);
    expect(after.startDate.toString()).not.toBe(before.startDate.toString());
    expect(after.sequence).toBeGreaterThan(before.sequence);
  });

  it('tells practices apart that use the same ids', () => {
    const [one, other] = ['Larkhill Animal Clinic', 'Larkhill Annexe'].map(name =>
      events(renderDueIcs(reportOf(ENTRIES, { inventory: named(name) }))).map(({ uid }) => uid),
    );
    expect(new Set([...(one ?? []), ...(other ?? [])]).size).toBe((one?.length ?? 0) * 2);
  });

  it('puts what is overdue on the day of the report, with OVERDUE in the title and its date in the text', () => {
    const event = eventOf(renderDueIcs(reportOf(ENTRIES)), 'theatre-1-iso.');
    expect(event.summary).toBe('OVERDUE: theatre-1-iso: vaporizer-service');
    expect(event.startDate.toString()).toBe('2026-11-25');
    expect(event.description).toMatch(/^\d+ days late, due [A-Z][a-z]{2} 20\d\d-\d\d-\d\d\n/);
  });

  it('has an event of its own for a damaged record', () => {
    const text = renderDueIcs(reportOf(ENTRIES, { damage: ['line 7 is no entry', 'line 9 is no entry'] }));
    const event = eventOf(text, 'record-damaged.');
    expect([event.summary, event.startDate.toString()]).toEqual(['RECORD DAMAGED', '2026-11-25']);
    expect(event.description).toContain('line 9 is no entry');
  });

  it('is a calendar also when nothing has a date', () => {
    const report = reportOf([]);
    const [practice] = report.practices;
    if (practice === undefined) throw new Error('no practice');
    const text = renderDueIcs({ ...report, practices: [{ ...practice, items: [] }] });
    expect(events(text)).toEqual([]);
    expect(new ICAL.Component(ICAL.parse(text)).getAllSubcomponents()).toHaveLength(1);
  });

  it('ends every line with CRLF and folds at 75 octets', () => {
    const text = renderDueIcs(reportOf(ENTRIES, { inventory: named('\u00fc\u{1F43E}'.repeat(30)) }));
    expect(text.endsWith('\r\n')).toBe(true);
    const lines = text.split('\r\n');
    expect(lines.some(line => line.startsWith(' '))).toBe(true);
    for (const line of lines) {
      expect(line).not.toMatch(/[\r\n]/);
      expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
      expect(line).not.toContain('\ufffd');
    }
  });
});

describe('fold', () => {
  it('comes back by taking out each line break and the blank behind it', () => {
    const text = fc.string({ unit: 'grapheme', maxLength: 300 }).filter(line => !/[\r\n]/.test(line));
    fc.assert(
      fc.property(text, line => {
        const folded = fold(line);
        expect(folded.replaceAll('\r\n ', '')).toBe(line);
        for (const part of folded.split('\r\n')) expect(Buffer.byteLength(part)).toBeLessThanOrEqual(75);
      }),
    );
  });
});
