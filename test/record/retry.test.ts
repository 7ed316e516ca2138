import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import type { EntryDraft } from '../../src/record/draft.ts';
import { findEntry, sameContent } from '../../src/record/retry.ts';
import { hold } from './entries.ts';
import { TestRecord, TIME_ZONE, usage } from './store-kit.ts';

const ID = '20261125-081403127-abcdef';

describe('findEntry', () => {
  it('finds an entry in any year of any station, with its file', async () => {
    const record = new TestRecord();
    await record.fill(3);
    await record.append(usage({ note: 'here' }), { id: ID, station: 'ward' });
    await record.append(usage(), { station: 'ward', now: new Date('2027-01-02T10:00:00Z') });
    expect(findEntry(record.dir, ID)).toMatchObject({
      entry: { id: ID, note: 'here' },
      file: record.file(2026, 'ward'),
    });
    expect(findEntry(record.dir, `${ID}x`)).toBeNull();
  });

  it('is not misled by a line that only speaks of the id, nor by one that is no entry', async () => {
    const record = new TestRecord();
    await record.append(usage({ note: `see ${ID}` }));
    expect(findEntry(record.dir, ID)).toBeNull();
    record.write([`{"id":"${ID}"}`, ...record.lines()]);
    expect(findEntry(record.dir, ID)).toBeNull();
  });

  it('gives the first of two with one id', async () => {
    const record = new TestRecord();
    await record.append(usage({ note: 'first' }), { id: ID });
    const [line = ''] = record.lines();
    record.write([line, line.replace('first', 'other')]);
    expect(findEntry(record.dir, ID)?.entry).toMatchObject({ note: 'first' });
  });

  it('finds nothing where there is no record', () => {
    expect(findEntry(new TestRecord().dir, ID)).toBeNull();
  });
});

describe('sameContent', () => {
  const on = '2026-07-01T09:00:00+01:00';
  const entry: Entry = hold(on, 'bain-1', 'theatre-1', { note: 'x' });
  const { v: _, id: __, at: ___, station: ____, tool: _____, prev: ______, ...rest } = entry;
  const draft: EntryDraft = rest;
  const same = (given: Partial<typeof rest>, of: Entry = entry) =>
    sameContent(of, { ...draft, ...given } as EntryDraft, TIME_ZONE);

  it('goes by what was entered, not by what the store or the inventory adds', () => {
    expect(same({})).toBe(true);
    expect(same({ inventory: 'f'.repeat(40) })).toBe(true);
    expect(same({}, { ...entry, n: 9, prev: 'f'.repeat(64), tool: '9.9.9', station: 'ward' })).toBe(true);
    // A key without a value is none.
    expect(sameContent(entry, { ...draft, case: undefined } as unknown as EntryDraft, TIME_ZONE)).toBe(true);
  });

  it.each<[string, object]>([
    ['another circuit', { circuit: 'bain-2' }],
    ['another person', { by: 'A. Finch' }],
    ['another note', { note: 'y' }],
    ['another fall', { fall: { from_cmh2o: 30, to_cmh2o: 29, seconds: 10 } }],
    ['a case', { case: '4711' }],
    ['another kind', { kind: 'compliance' }],
  ])('differs by %s', (_, given) => {
    expect(same(given)).toBe(false);
  });

  it('takes the same instant or date, however it is written, and no other', () => {
    expect(same({ on: '2026-07-01T08:00:00Z' })).toBe(true);
    expect(same({ on: '2026-07-01T10:00:00+02:00' })).toBe(true);
    expect(same({ on: '2026-07-01T08:00:01Z' })).toBe(false);
    expect(same({ on: '2026-07-01' })).toBe(false);
    expect(same({ on: 'Tomorrow' })).toBe(false);
    const dated = { ...entry, on: '2026-07-01' };
    expect(same({ on: '2026-07-01' }, dated)).toBe(true);
    expect(same({ on: '2026-07-02' }, dated)).toBe(false);
  });

  it('means the moment of entry where nothing is said', () => {
    const { on: _, ...now } = draft;
    expect(sameContent({ ...entry, at: on, on }, now as EntryDraft, TIME_ZONE)).toBe(true);
    expect(sameContent({ ...entry, at: '2026-07-02T09:00:00+01:00', on }, now as EntryDraft, TIME_ZONE)).toBe(
      false,
    );
  });

  it('means also the moment at which the id was made, where the station’s last entry was ahead by days', () => {
    const { on: _, ...now } = draft;
    const is = (given: Partial<typeof entry>) =>
      sameContent(
        { ...entry, id: '20260701-080203127-abcdef', at: '2026-07-04T09:00:00+01:00', ...given },
        now as EntryDraft,
        TIME_ZONE,
      );
    // The id was made at 08:02:03 UTC, which is 09:02:03 in Dublin.
    expect(is({ on: '2026-07-01T09:02:03+01:00' })).toBe(true);
    expect(is({ on: '2026-07-01T09:02:04+01:00' })).toBe(true);
    // A time before it was typed.
    expect(is({ on: '2026-07-01T09:02:02+01:00' })).toBe(false);
    expect(is({ on: '2026-06-30T09:02:03+01:00' })).toBe(false);
    expect(is({ on: '2026-07-01' })).toBe(false);
    // On one day an entry is ordered behind the last one and bears its own time: what differs there was typed.
    expect(is({ on: '2026-07-04T08:59:00+01:00' })).toBe(false);
    // An id that a person thought up says nothing of a moment.
    for (const id of [
      'thought-up',
      'x20260701-080203127-abcdef',
      '20260701-08020312x-abcdef',
      '2026-0701-080203127-a',
    ])
      expect(is({ id, on: '2026-07-01T09:02:03+01:00' })).toBe(false);
  });
});
