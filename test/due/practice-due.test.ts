import { describe, expect, it } from 'vitest';
import { practiceDue } from '../../src/due/practice-due.ts';
import type { Entry } from '../../src/generated/entry.ts';
import { correct, reading, signOff, withdraw } from '../record/entries.ts';
import { larkhill } from './helpers.ts';
import { STATION } from './report.ts';
import { seenIn } from './seen.ts';

const TODAY = '2026-11-25';
const ABSORBENT = ['theatre-1-absorber', 'absorbent-change'] as const;

function due(
  entries: Entry[],
  {
    asOf = '2026-11-25',
    state = 'read' as 'none' | 'read' | 'damaged',
    damage = [] as string[],
    checks = ['absorbent-change'],
    assets = [] as string[],
    stations = [STATION],
  } = {},
) {
  const inventory = larkhill();
  return practiceDue({
    inventory,
    record: {
      folder: 'larkhill/record',
      state,
      ...seenIn(inventory, entries, { today: TODAY, asOf }),
      stations,
      damage,
    },
    today: '2026-11-25',
    asOf,
    soonDays: 7,
    filter: { assets, checks, states: [] },
  });
}

describe('a date to look back to', () => {
  const entries = [signOff('2026-10-01', ...ABSORBENT), signOff('2026-11-20', ...ABSORBENT)];

  it('leaves out what was done after it', () => {
    expect(due(entries, { asOf: '2026-11-19' }).items).toMatchObject([
      { dueOn: '2026-10-31', state: 'overdue', daysOverdue: 19 },
    ]);
    expect(due(entries, { asOf: '2026-11-20' }).items).toMatchObject([{ dueOn: '2026-12-20', state: 'ok' }]);
  });

  it('keeps what was done before it and entered later', () => {
    const late = { ...signOff('2026-11-10', ...ABSORBENT), at: '2026-11-24T18:00:00+00:00' };
    expect(due([entries[0] as Entry, late], { asOf: '2026-11-19' }).items).toMatchObject([
      { dueOn: '2026-12-10' },
    ]);
  });

  it('honours a correction that came later: the thing was never done', () => {
    const wrong = signOff('2026-11-10', ...ABSORBENT);
    const all = [entries[0] as Entry, wrong, correct('2026-11-24', wrong.id)];
    expect(due(all, { asOf: '2026-11-19' }).items).toMatchObject([{ dueOn: '2026-10-31' }]);
  });

  it('does not see a withdrawal that came later', () => {
    const all = [entries[0] as Entry, withdraw('2026-11-20T09:00:00+00:00', 'theatre-1-absorber')];
    expect(due(all, { asOf: '2026-11-19' }).counts).toMatchObject({ overdue: 1, withdrawn: 0 });
    expect(due(all).counts).toMatchObject({ overdue: 0, withdrawn: 1 });
  });

  it('may lie ahead: what will be due then', () => {
    expect(due(entries, { asOf: '2026-12-21' }).items).toMatchObject([{ state: 'overdue', daysOverdue: 1 }]);
  });
});

describe('entries dated after today', () => {
  const future = { ...signOff('2026-12-01', ...ABSORBENT), at: '2026-12-01T18:00:00+00:00' };

  it('are named and left out, also from a report for a later date', () => {
    for (const asOf of ['2026-11-25', '2026-12-24']) {
      const { items, cautions } = due([signOff('2026-11-20', ...ABSORBENT), future], { asOf });
      expect(items).toMatchObject([{ lastDoneOn: '2026-11-20', dueOn: '2026-12-20' }]);
      expect(cautions).toEqual([
        {
          code: 'entry_in_future',
          message: `entry ${future.id} of theatre is dated 2026-12-01, after today (2026-11-25); it is left out`,
        },
      ]);
    }
  });

  it('are counted where there are many', () => {
    const many = Array.from({ length: 9 }, () => ({
      ...signOff('2026-12-01', ...ABSORBENT),
      at: '2026-12-01T18:00:00+00:00',
    }));
    const { cautions } = due(many);
    expect(cautions).toHaveLength(6);
    expect(cautions.at(-1)).toEqual({
      code: 'entry_in_future',
      message: '4 more entries are dated after today; they are left out',
    });
  });

  it('are not said to be more where all of them are named', () => {
    const five = Array.from({ length: 5 }, () => ({
      ...signOff('2026-12-01', ...ABSORBENT),
      at: '2026-12-01T18:00:00+00:00',
    }));
    expect(due(five).cautions.map(({ message }) => message)).toEqual(
      five.map(
        ({ id }) => `entry ${id} of theatre is dated 2026-12-01, after today (2026-11-25); it is left out`,
      ),
    );
  });
});

describe('what is said beside the items', () => {
  it('names assets that left the inventory, and does not count them', () => {
    const entries = [signOff('2026-11-20', 'old-bain', 'inner-tube'), withdraw('2026-11-21', 'attic')];
    const all = due(entries, { checks: [] });
    expect(all.items.map(({ asset }) => asset.id)).not.toContain('old-bain');
    expect(all.counts).toEqual(due([], { checks: [] }).counts);
    expect(all.cautions).toContainEqual({
      code: 'asset_left_inventory',
      message: 'attic, old-bain stand in the record but no longer in the inventory; not counted',
    });
    // Whoever asks for one check, or one asset, is not told of them.
    expect(due(entries).cautions).toEqual([]);
    expect(due(entries, { checks: [], assets: ['theatre-1-absorber'] }).cautions).toEqual([]);
  });

  it('names a single one as one, and none where all that the record names is still there', () => {
    const left = (entries: Entry[]) =>
      due(entries, { checks: [] }).cautions.filter(({ code }) => code === 'asset_left_inventory');
    expect(left([withdraw('2026-11-21', 'attic')]).map(({ message }) => message)).toEqual([
      'attic stands in the record but no longer in the inventory; not counted',
    ]);
    const there = [
      signOff('2026-11-20', ...ABSORBENT),
      withdraw('2026-11-21', 'bain-1'),
      reading('2026-11-02T08:00:00+00:00', 'theatre-1-charcoal', { g: 800, new: true }),
    ];
    expect(due(there, { checks: [] }).cautions).toEqual([]);
  });

  it('says from which file and of which practice it is, and where its record ended', () => {
    const inventory = larkhill();
    expect(due([])).toMatchObject({
      practice: 'Larkhill Animal Clinic',
      inventory: { file: inventory.file, blob: inventory.blob },
      asOf: '2026-11-25',
      record: 'read',
      stations: [STATION],
    });
    expect(inventory.file).toMatch(/due\.yaml$/);
    expect(inventory.blob).toMatch(/^[0-9a-f]{40}$/);
  });

  it('says that there is no record, and that it is damaged', () => {
    expect(due([], { state: 'none' }).cautions).toEqual([
      {
        code: 'no_record',
        message: 'there is no record at larkhill/record/, so nothing is known to have been done',
      },
    ]);
    const damaged = due([], { state: 'damaged', damage: ['line 7 is no entry', 'line 9 is no entry'] });
    expect(damaged.cautions.map(({ code }) => code)).toEqual(['record_damaged', 'record_damaged']);
    expect(damaged.items).toHaveLength(1);
    const much = due([], {
      state: 'damaged',
      damage: Array.from({ length: 40 }, (_, i) => `line ${i} is no entry`),
    });
    expect(much.cautions).toHaveLength(6);
    expect(much.cautions.at(-1)).toEqual({ code: 'record_damaged', message: '35 more places are damaged' });
  });

  it('says of a record without entries that nothing is known', () => {
    const none = {
      code: 'no_record',
      message: 'the record at larkhill/record/ has no entries, so nothing is known to have been done',
    };
    expect(due([], { stations: [] }).cautions).toEqual([none]);
    expect(due([], { stations: [{ ...STATION, entries: 0 }] }).cautions).toEqual([none]);
    expect(due([]).cautions).toEqual([]);
  });

  it('says what is not known of a canister, once it is shown', () => {
    const request = (entries: Entry[]) =>
      practiceDue({
        inventory: larkhill(),
        record: {
          folder: 'larkhill/record',
          state: 'read',
          ...seenIn(larkhill(), entries, { today: TODAY, asOf: TODAY }),
          stations: [STATION],
          damage: [],
        },
        today: '2026-11-25',
        asOf: '2026-11-25',
        soonDays: 7,
        filter: { assets: [], checks: ['canister-change'], states: [] },
      });
    expect(request([]).cautions).toEqual([
      {
        code: 'use_unknown',
        message:
          'theatre-1-charcoal, canister-change: grams gained and hours in use not known, because no fresh one was ever weighed in; enter a fresh one with: holdfast reading theatre-1-charcoal WEIGHT --new',
      },
    ]);
    const fresh = reading('2026-11-02T08:00:00+00:00', 'theatre-1-charcoal', { g: 800, new: true });
    expect(request([fresh]).cautions).toEqual([]);
    expect(request([withdraw('2026-11-02', 'theatre-1-charcoal')]).cautions).toEqual([]);
  });
});
