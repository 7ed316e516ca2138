import { describe, expect, it } from 'vitest';
import { assetsOf, type EntryFilter, filterEntries, KINDS } from '../../src/record/filter.ts';
import {
  compliance,
  correct,
  giveBack,
  hold,
  reading,
  signOff,
  supplyHold,
  usage,
  withdraw,
} from './entries.ts';

const ALL: EntryFilter = { asset: null, since: null, kind: null };
const held = hold('2026-11-20', 'bain-1', 'theatre-1', { bag: { size_ml: 1000, id: 'bag-a' } });
const used = usage('2026-11-21', 'dental', 'bain-1');
const away = withdraw('2026-11-22', 'dental');
const undone = correct('2026-11-23', away.id);
const lost = correct('2026-11-24', 'entry-nowhere');
const ENTRIES = [held, used, away, undone, lost];
const picked = (filter: Partial<EntryFilter>) => filterEntries(ENTRIES, { ...ALL, ...filter });

describe('filterEntries', () => {
  it('lets everything through where nothing is asked', () => {
    expect(picked({})).toEqual(ENTRIES);
  });

  it('goes by the asset, a correction by that of what it cancels', () => {
    expect(picked({ asset: 'bain-1' })).toEqual([held, used]);
    expect(picked({ asset: 'dental' })).toEqual([used, away, undone]);
    expect(picked({ asset: 'bag-a' })).toEqual([held]);
    expect(picked({ asset: 'nothing' })).toEqual([]);
  });

  it('goes by the day on which it was done, that day included', () => {
    expect(picked({ since: '2026-11-22' })).toEqual([away, undone, lost]);
    expect(picked({ since: '2026-11-25' })).toEqual([]);
    const atNoon = hold('2026-11-22T12:00:00+00:00', 'bain-1', 'theatre-1');
    expect(filterEntries([atNoon], { ...ALL, since: '2026-11-22' })).toEqual([atNoon]);
  });

  it('goes by the kind, and by all that is asked at once', () => {
    expect(picked({ kind: 'correct' })).toEqual([undone, lost]);
    expect(picked({ kind: 'usage', asset: 'bain-1' })).toEqual([used]);
    expect(picked({ kind: 'usage', asset: 'theatre-1' })).toEqual([]);
    expect(picked({ kind: 'hold', since: '2026-11-21' })).toEqual([]);
  });
});

describe('assetsOf', () => {
  it('names what each kind of entry speaks of', () => {
    const each = [
      held,
      hold('08:00', 'y-piece-1', 'dental'),
      supplyHold('08:00', 'ward-e-1', 'pass'),
      signOff('08:00', 'bain-1', 'inner-tube'),
      reading('08:00', 'theatre-1-charcoal', { g: 800 }),
      away,
      giveBack('08:00', 'dental'),
      used,
      undone,
      compliance('08:00', 'y-piece-1', 'theatre-1'),
    ];
    expect(each.map(entry => [entry.kind, ...assetsOf(entry)].join(' '))).toEqual([
      'hold bain-1 theatre-1 bag-a',
      'hold y-piece-1 dental',
      'supply_hold ward-e-1',
      'sign_off bain-1',
      'reading theatre-1-charcoal',
      'withdraw dental',
      'return dental',
      'usage bain-1 dental',
      'correct',
      'compliance y-piece-1 theatre-1',
    ]);
    expect([...KINDS]).toEqual([...new Set(each.map(({ kind }) => kind))]);
  });
});
