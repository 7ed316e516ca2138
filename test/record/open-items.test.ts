import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { openItems } from '../../src/record/open-items.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { failedHold, giveBack, hold, larkhill, signOff, supplyHold, withdraw } from './entries.ts';

const inventory = larkhill();
const items = (entries: Entry[]) => openItems(foldStanding(inventory, entries), inventory);
const lines = (entries: Entry[]) =>
  items(entries).map(({ what, assets, check, because }) =>
    [`${what} ${assets.join(' ')}`, ...(check === null ? [] : [check]), because].join(': '),
  );

describe('openItems', () => {
  it('is empty where all stands well', () => {
    const well = [
      hold('08:00', 'bain-1', 'theatre-1'),
      signOff('08:10', 'bain-1', 'inner-tube'),
      supplyHold('08:20', 'ward-e-1', 'pass'),
      withdraw('08:30', 'dental'),
      giveBack('08:40', 'dental'),
    ];
    expect(items(well)).toEqual([]);
    expect(items([])).toEqual([]);
  });

  it('names each kind with its words, what is withdrawn first and each in the order of the record', () => {
    expect(
      lines([
        supplyHold('07:00', 'ward-e-1', 'fail'),
        signOff('07:10', 'bain-1', 'inner-tube', 'fail'),
        signOff('07:20', 'theatre-1-iso', 'vaporizer-service', 'fail'),
        hold('07:30', 't-piece-1', 'dental', { pop_off: 'shut' }),
        failedHold('07:40', 'y-piece-1', 'theatre-1'),
        failedHold('07:50', 'coaxial-1', 'dental', { reason: 'make_up_above' }),
        withdraw('08:00', 'dental', 'its flowmeter sticks'),
        withdraw('08:10', 'bain-1', 'a split hose'),
      ]),
    ).toEqual([
      'withdrawn dental: its flowmeter sticks',
      'withdrawn bain-1: a split hose',
      'failed_hold y-piece-1 theatre-1: the pressure fell',
      'failed_hold coaxial-1 dental: the make-up flow was above the limit',
      'pop_off t-piece-1 dental: it was left shut after the leak test',
      'failed_check bain-1: inner-tube: signed off as failed',
      'failed_check theatre-1-iso: vaporizer-service: signed off as failed',
      'failed_supply_hold ward-e-1: the gauge fell too far',
    ]);
  });

  it('goes within a kind by when it was found, not by which pair or part was known first', () => {
    expect(
      lines([
        hold('06:00', 'bain-1', 'theatre-1'),
        signOff('06:10', 'bain-1', 'inner-tube'),
        failedHold('07:00', 'y-piece-1', 'dental'),
        signOff('07:10', 'coaxial-1', 'inner-tube', 'fail'),
        failedHold('08:00', 'bain-1', 'theatre-1'),
        signOff('08:10', 'bain-1', 'inner-tube', 'fail'),
      ]).map(line => line.split(':')[0]),
    ).toEqual([
      'failed_hold y-piece-1 dental',
      'failed_hold bain-1 theatre-1',
      'failed_check coaxial-1',
      'failed_check bain-1',
    ]);
  });

  it('carries when it was found, and of a leak test the test itself', () => {
    const failed = failedHold('08:00', 'bain-1', 'theatre-1');
    const out = withdraw('09:00', 'dental');
    const [first, second] = items([failed, out]);
    expect(first).toMatchObject({ done: { entry: out.id, date: '2026-11-25' }, hold: null, check: null });
    expect(second).toMatchObject({ done: { entry: failed.id }, hold: { entry: { id: failed.id } } });
  });

  it('tells a stuck pop-off once, as the test that failed', () => {
    const stuck = failedHold('08:00', 'bain-1', 'theatre-1', { pop_off: 'stuck', reason: 'pop_off_stuck' });
    expect(lines([stuck])).toEqual(['failed_hold bain-1 theatre-1: the pop-off was stuck']);
    // A later test of the same pair that left it shut is another matter.
    const shut = hold('09:00', 'bain-1', 'theatre-1', { pop_off: 'shut' });
    expect(lines([stuck, shut])).toEqual([
      'failed_hold bain-1 theatre-1: the pop-off was stuck',
      'pop_off bain-1 theatre-1: it was left shut after the leak test',
    ]);
  });

  it('leaves checks that a test answers, and the pop-off’s sign-off, to their own items', () => {
    expect(lines([failedHold('08:00', 'bain-1', 'theatre-1')])).toHaveLength(1);
    expect(
      lines([hold('08:00', 'bain-1', 'theatre-1'), signOff('09:00', 'bain-1', 'pop-off-open', 'fail')]),
    ).toEqual(['pop_off bain-1 theatre-1: it did not open at the sign-off']);
    // A check that was passed since is none, nor one that the inventory does not name where it failed.
    expect(
      lines([
        signOff('08:00', 'bain-1', 'inner-tube', 'fail'),
        signOff('09:00', 'bain-1', 'inner-tube'),
        signOff('09:10', 'bain-1', 'old-check', 'fail'),
      ]),
    ).toEqual(['failed_check bain-1: old-check: signed off as failed']);
  });

  it('forgets a high-pressure test once it passed', () => {
    expect(lines([supplyHold('08:00', 'ward-e-1', 'fail'), supplyHold('09:00', 'ward-e-1', 'pass')])).toEqual(
      [],
    );
  });
});
