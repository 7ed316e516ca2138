import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { countedOn, futureWords } from '../../src/record/future.ts';
import {
  compliance,
  correct,
  failedHold,
  giveBack,
  hold,
  reading,
  signOff,
  supplyHold,
  usage,
  withdraw,
} from './entries.ts';

const TODAY = '2026-11-25';
const AHEAD = '2027-11-25T08:00:00+00:00';

const AGAINST: readonly [string, Entry][] = [
  ['a withdrawal', withdraw(AHEAD, 'bain-1')],
  ['a failed leak test', failedHold(AHEAD, 'bain-1', 'theatre-1')],
  ['a leak test that left the pop-off shut', hold(AHEAD, 'bain-1', 'theatre-1', { pop_off: 'shut' })],
  ['a failed sign-off', signOff(AHEAD, 'bain-1', 'inner-tube', 'fail')],
  ['a failed high-pressure test', supplyHold(AHEAD, 'ward-e-1', 'fail')],
];

const FOR: readonly [string, Entry][] = [
  ['a return', giveBack(AHEAD, 'bain-1')],
  ['a pass', hold(AHEAD, 'bain-1', 'theatre-1')],
  ['a passed sign-off', signOff(AHEAD, 'bain-1', 'inner-tube', 'pass')],
  ['a passed high-pressure test', supplyHold(AHEAD, 'ward-e-1', 'pass')],
  ['a reading', reading(AHEAD, 'ward-e-1', { psi: 1900 })],
  ['a measurement of compliance', compliance(AHEAD, 'bain-1', 'theatre-1')],
];

describe('countedOn', () => {
  it.each(AGAINST)('counts %s that is dated later', (_, entry) => {
    expect(countedOn([entry], TODAY)).toEqual({ entries: [entry], future: [entry] });
  });

  it.each(FOR)('leaves out %s that is dated later, and names it', (_, entry) => {
    expect(countedOn([entry], TODAY)).toEqual({ entries: [], future: [entry] });
  });

  it('counts a use as of today, so that the limit it reached is reached', () => {
    const used = usage(AHEAD, 'theatre-1', 'bain-1', {});
    expect(countedOn([used], TODAY)).toEqual({ entries: [{ ...used, on: TODAY }], future: [used] });
  });

  it('counts all of today, whatever the hour, and of the days before', () => {
    const entries = [
      hold('2026-11-24T08:00:00+00:00', 'bain-1', 'theatre-1'),
      giveBack('2026-11-25T23:59:59+00:00', 'bain-1'),
    ];
    expect(countedOn(entries, TODAY)).toEqual({ entries, future: [] });
    expect(countedOn(entries, '2026-11-24').future).toEqual([entries[1]]);
  });

  it('takes a correction at its word whatever date it bears, and names no cancelled entry', () => {
    const gone = withdraw(AHEAD, 'bain-1');
    const correction = correct('2027-11-25T08:05:00+00:00', gone.id);
    const { entries, future } = countedOn([gone, correction], TODAY);
    expect(entries).toContain(correction);
    expect(future).toEqual([]);
  });
});

describe('futureWords', () => {
  it('is null where there is nothing to say', () => {
    expect(futureWords([], TODAY)).toBeNull();
  });

  it('names the first few, counts the others, and says each station once', () => {
    const four = [1, 2, 3, 4].map(() => withdraw(AHEAD, 'bain-1'));
    const words = futureWords(four, TODAY) ?? '';
    expect(words).toMatch(/^4 entries are dated after today \(2026-11-25\): /);
    for (const { id } of four.slice(0, 3)) expect(words).toContain(`${id} (theatre, 2027-11-25)`);
    expect(words).not.toContain(four[3]?.id);
    expect(words).toContain(' and 1 more; ');
    expect(words).toContain('Set the clock of theatre right');
    expect(futureWords(four.slice(0, 1), TODAY)).toMatch(/^1 entry is dated/);
  });

  it('names all where they are few, and every station whose clock may be ahead', () => {
    const three = ['prep', 'ward', 'prep'].map(station => ({ ...withdraw(AHEAD, 'bain-1'), station }));
    const words = futureWords(three, TODAY) ?? '';
    expect(words).toContain(
      `: ${three.map(({ id, station }) => `${id} (${station}, 2027-11-25)`).join(', ')}; what`,
    );
    expect(words).toContain('Set the clock of prep and ward right');
  });
});
