import { describe, expect, it } from 'vitest';
import type { Check, Inventory } from '../../src/inventory/inventory.ts';
import { reading, signOff, supplyHold, usage } from '../record/entries.ts';
import { itemOf, larkhill } from './helpers.ts';

const ABSORBENT = ['theatre-1-absorber', 'absorbent-change'] as const;
const CANISTER = ['theatre-1-charcoal', 'canister-change'] as const;
const SERVICE = ['theatre-1-iso', 'vaporizer-service'] as const;
const BADGE = ['theatre-1', 'exposure-badge'] as const;

/** So many minutes of a circle on that day of November. */
const circle = (day: number, minutes: number) =>
  usage(`2026-11-${day}T10:00:00+00:00`, 'theatre-1', 'y-piece-1', { minutes });

/** The practice with one check written otherwise. */
function withCheck(id: string, otherwise: Partial<Check>): Inventory {
  const inventory = larkhill();
  return {
    ...inventory,
    checks: inventory.checks.map(check => (check.id === id ? { ...check, ...otherwise } : check)),
  };
}

/** The practice that does not say since when the absorber is in service. */
function withoutSince(): Inventory {
  const inventory = larkhill();
  const assets = new Map(inventory.assets);
  const absorber = assets.get('theatre-1-absorber');
  if (absorber === undefined) throw new Error('the practice has no absorber');
  return { ...inventory, assets: assets.set(absorber.id, { ...absorber, since: null }) };
}

describe('why a check that is not yet due stands as it does', () => {
  it('tells beside the interval how far the hours are', () => {
    const item = itemOf(...ABSORBENT, [signOff('2026-11-16', ...ABSORBENT), circle(17, 240)]);
    expect(item.state).toBe('ok');
    expect(item.because).toBe('30 days after it was last done on 2026-11-16; 4 of 8 h in use');
  });

  it('says so without a date where it was never done and nothing says since when the asset is in service', () => {
    const service = withCheck('absorbent-change', { after: { hoursInUse: null, gainG: null } });
    const item = itemOf(...ABSORBENT, [], { inventory: { ...service, assets: withoutSince().assets } });
    expect(item).toMatchObject({ dueOn: null, limit: null, state: 'ok', because: 'never done' });
  });

  it.each([
    ['opening', 'at opening'],
    ['before_case', 'before every case'],
    ['closing', 'at closing'],
    ['weekly', 'of the week'],
  ] as const)('names the round of a check without a date: %s', (round, words) => {
    const inventory = withCheck('ready', { round });
    expect(itemOf('theatre-1', 'ready', [], { inventory }).because).toBe(
      `no date of its own, done in the round ${words}; never done`,
    );
    const done = [signOff('2026-11-24', 'theatre-1', 'ready')];
    expect(itemOf('theatre-1', 'ready', done, { inventory }).because).toBe(
      `no date of its own, done in the round ${words}; last done on 2026-11-24`,
    );
  });

  it.each([
    [{ unit: 'weeks', count: 1 }, '1 week'],
    [{ unit: 'weeks', count: 2 }, '2 weeks'],
    [{ unit: 'days', count: 1 }, '1 day'],
    [{ unit: 'months', count: 3 }, '3 months'],
    [{ unit: 'years', count: 2 }, '2 years'],
    [{ unit: 'open_days', count: 5 }, '5 open days'],
  ] as const)('says the interval in the words of the trade: %j', (every, words) => {
    const inventory = withCheck('high-pressure', { every });
    const held = [supplyHold('2026-11-24T09:00:00+00:00', 'ward-e-1', 'pass')];
    expect(itemOf('ward-e-1', 'high-pressure', held, { inventory }).because).toBe(
      `${words} after it was last done on 2026-11-24`,
    );
  });

  it.each([
    [1, 'every month from 2026-01-31'],
    [6, 'every 6 months from 2026-01-31'],
  ])('says the grid of a check by the calendar: %i months', (count, words) => {
    const inventory = withCheck('exposure-badge', { every: { unit: 'months', count } });
    expect(itemOf(...BADGE, [], { inventory }).because).toBe(`${words}; never done`);
  });
});

describe('why a check is due or overdue', () => {
  const changed = signOff('2026-11-16', ...ABSORBENT);

  it('tells on the very day of the limit only of the limit, not of how far the count is', () => {
    const item = itemOf(...ABSORBENT, [changed, circle(25, 500)]);
    expect(item).toMatchObject({ state: 'due', daysOverdue: 0 });
    expect(item.because).toBe('8.33 h in use since 2026-11-16; the limit of 8 h was reached on 2026-11-25');
  });

  it('says no day from which it counts where none is known', () => {
    const item = itemOf(...ABSORBENT, [circle(17, 600)], { inventory: withoutSince() });
    expect(item).toMatchObject({ limit: 'hours_in_use', dueOn: '2026-11-17' });
    expect(item.because).toBe('10 h in use; the limit of 8 h was reached on 2026-11-17');
  });

  it('tells of a failure alone where nothing else came before it, however far the hours are', () => {
    const failed = [changed, circle(17, 240), signOff('2026-11-20', ...ABSORBENT, 'fail')];
    expect(itemOf(...ABSORBENT, failed).because).toBe('failed on 2026-11-20 and not passed since');
  });

  it('tells of hours that were reached before it failed', () => {
    const failed = [changed, circle(17, 540), signOff('2026-11-20', ...ABSORBENT, 'fail')];
    expect(itemOf(...ABSORBENT, failed)).toMatchObject({
      dueOn: '2026-11-17',
      limit: 'hours_in_use',
      because:
        'failed on 2026-11-20 and not passed since; 9 h in use since 2026-11-16; the limit of 8 h was reached on 2026-11-17',
    });
  });

  it('does not call a check never done that was done and failed', () => {
    expect(itemOf(...SERVICE, [signOff('2026-11-20', ...SERVICE, 'fail')])).toMatchObject({
      dueOn: '2024-02-06',
      because:
        'failed on 2026-11-20 and not passed since; it was due before that, 1 year after it came into service on 2023-02-06',
    });
  });

  it('is the failure where it failed on the day on which it fell due', () => {
    const entries = [signOff('2026-10-01', ...ABSORBENT), signOff('2026-10-31', ...ABSORBENT, 'fail')];
    expect(itemOf(...ABSORBENT, entries)).toMatchObject({
      dueOn: '2026-10-31',
      limit: 'failed',
      daysOverdue: 25,
      because: 'failed on 2026-10-31 and not passed since',
    });
  });

  it('names the grams where grams and hours were reached', () => {
    const grams = (day: number, g: number, isNew = false) =>
      reading(`2026-11-${day}T18:00:00+00:00`, 'theatre-1-charcoal', { g, new: isNew });
    const entries = [grams(10, 800, true), circle(12, 800), grams(11, 851)];
    expect(itemOf(...CANISTER, entries)).toMatchObject({
      dueOn: '2026-11-11',
      limit: 'gain_g',
      because: '51 g gained since 2026-11-10; the limit of 50 g was reached on 2026-11-11',
    });
  });
});
