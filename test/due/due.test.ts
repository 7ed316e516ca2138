import { describe, expect, it } from 'vitest';
import { dueItems } from '../../src/due/due.ts';
import { blockingChecks, checkTroubles } from '../../src/due/troubles.ts';
import { foldStanding } from '../../src/record/standing.ts';
import {
  correct,
  failedHold,
  giveBack,
  hold,
  reading,
  signOff,
  supplyHold,
  usage,
  withdraw,
} from '../record/entries.ts';
import { itemOf, larkhill } from './helpers.ts';

const ABSORBENT = ['theatre-1-absorber', 'absorbent-change'] as const;
const CANISTER = ['theatre-1-charcoal', 'canister-change'] as const;
const SERVICE = ['theatre-1-iso', 'vaporizer-service'] as const;
const INNER = ['bain-1', 'inner-tube'] as const;

describe('by the calendar', () => {
  it.each([
    ['2026-10-25', '2026-11-24', 'overdue', 1],
    ['2026-10-26', '2026-11-25', 'due', 0],
    ['2026-10-27', '2026-11-26', 'soon', 0],
    ['2026-11-02', '2026-12-02', 'soon', 0],
    ['2026-11-03', '2026-12-03', 'ok', 0],
  ])('done on %s, every 30 days: %s, %s', (done, dueOn, state, daysOverdue) => {
    const item = itemOf(...ABSORBENT, [signOff(done, ...ABSORBENT)]);
    expect(item).toMatchObject({ dueOn, state, daysOverdue, lastDoneOn: done, limit: 'interval' });
    expect(item.because).toContain(`30 days after it was last done on ${done}`);
  });

  it('counts from the day of coming into service where it was never done', () => {
    expect(itemOf(...SERVICE, [])).toMatchObject({
      dueOn: '2024-02-06',
      state: 'overdue',
      daysOverdue: 1023,
      lastDoneOn: null,
      because: 'never done; 1 year after it came into service on 2023-02-06',
    });
  });

  it('goes by open days: Saturday to Monday, and over Christmas', () => {
    expect(itemOf(...INNER, [signOff('2026-11-21', ...INNER)]).dueOn).toBe('2026-11-23');
    expect(itemOf(...INNER, [signOff('2026-12-24', ...INNER)], { asOf: '2026-12-25' })).toMatchObject({
      dueOn: '2026-12-28',
      state: 'ok',
    });
  });

  it('does not say soon of what comes round within that time anyway', () => {
    const daily = [signOff('2026-11-25', ...INNER)];
    expect(itemOf(...INNER, daily).state).toBe('ok');
    const weekly = [supplyHold('2026-11-24T09:00:00+00:00', 'ward-e-1', 'pass')];
    expect(itemOf('ward-e-1', 'high-pressure', weekly).state).toBe('ok');
    expect(itemOf('ward-e-1', 'high-pressure', weekly, { soonDays: 6 }).state).toBe('soon');
    expect(itemOf('ward-e-1', 'high-pressure', weekly, { soonDays: 0 }).state).toBe('ok');
  });

  it('takes the next date of the grid, however early it was done', () => {
    const badge = ['theatre-1', 'exposure-badge'] as const;
    expect(itemOf(...badge, [])).toMatchObject({ dueOn: '2026-01-31', state: 'overdue' });
    expect(itemOf(...badge, [signOff('2026-06-12', ...badge)])).toMatchObject({
      dueOn: '2026-07-31',
      state: 'overdue',
    });
    expect(itemOf(...badge, [signOff('2026-07-31', ...badge)])).toMatchObject({
      dueOn: '2027-01-31',
      because: 'every 6 months from 2026-01-31; last done on 2026-07-31',
    });
  });

  it('honours a sign-off for an earlier day, whenever it was entered', () => {
    const entries = [
      signOff('2026-10-01', ...ABSORBENT),
      { ...signOff('2026-11-10', ...ABSORBENT), at: '2026-11-25T17:00:00+00:00' },
    ];
    expect(itemOf(...ABSORBENT, entries).dueOn).toBe('2026-12-10');
  });

  it('goes back to what stood before when an entry was cancelled', () => {
    const wrong = signOff('2026-11-20', ...ABSORBENT);
    const entries = [signOff('2026-10-20', ...ABSORBENT), wrong, correct('2026-11-21', wrong.id)];
    expect(itemOf(...ABSORBENT, entries)).toMatchObject({
      dueOn: '2026-11-19',
      state: 'overdue',
      daysOverdue: 6,
    });
  });

  it('shows a check that only belongs to a round as in order, without a date', () => {
    expect(itemOf('theatre-1', 'ready', [])).toMatchObject({
      dueOn: null,
      state: 'ok',
      limit: null,
      used: null,
    });
  });
});

describe('by use', () => {
  const changed = signOff('2026-11-16', ...ABSORBENT);
  const day = (date: number, minutes: number, circuit = 'y-piece-1') =>
    usage(`2026-11-${String(date).padStart(2, '0')}T10:00:00+00:00`, 'theatre-1', circuit, { minutes });

  it('fires on the day of the entry that reaches the limit', () => {
    const entries = [changed, day(17, 240), day(18, 239), day(19, 1), day(20, 300)];
    expect(itemOf(...ABSORBENT, entries)).toMatchObject({
      dueOn: '2026-11-19',
      state: 'overdue',
      daysOverdue: 6,
      limit: 'hours_in_use',
      because: '13 h in use since 2026-11-16; the limit of 8 h was reached on 2026-11-19',
    });
  });

  it('does not fire a minute before the limit', () => {
    const item = itemOf(...ABSORBENT, [changed, day(17, 240), day(18, 239)]);
    expect(item).toMatchObject({ dueOn: '2026-12-16', limit: 'interval' });
    expect(item.used?.hoursInUse?.value).toBeCloseTo(479 / 60, 9);
  });

  it('takes whichever comes first: an interval that ended before the limit was reached stands', () => {
    const entries = [signOff('2026-10-19', ...ABSORBENT), day(20, 600)];
    expect(itemOf(...ABSORBENT, entries)).toMatchObject({ dueOn: '2026-11-18', limit: 'interval' });
    expect(itemOf(...ABSORBENT, entries).because).not.toContain('h in use');
  });

  it('wears no absorbent with a non-rebreathing circuit', () => {
    expect(itemOf(...ABSORBENT, [changed, day(17, 900, 'bain-1')]).used?.hoursInUse?.value).toBe(0);
  });

  it('counts from the last pass only', () => {
    const entries = [changed, day(17, 900), signOff('2026-11-18T18:00:00+00:00', ...ABSORBENT), day(19, 60)];
    expect(itemOf(...ABSORBENT, entries)).toMatchObject({ dueOn: '2026-12-18' });
    expect(itemOf(...ABSORBENT, entries).used?.hoursInUse?.value).toBe(1);
  });

  it('adds ten times six minutes to one hour, whatever the last binary digit says', () => {
    const tenths = Array.from({ length: 80 }, () => day(17, 6));
    expect(itemOf(...ABSORBENT, [changed, ...tenths]).dueOn).toBe('2026-11-17');
  });
});

describe('a canister', () => {
  const fresh = reading('2026-11-02T08:00:00+00:00', 'theatre-1-charcoal', { g: 800, new: true });
  const weighed = (date: number, g: number) =>
    reading(`2026-11-${String(date).padStart(2, '0')}T18:00:00+00:00`, 'theatre-1-charcoal', { g });
  const used = (date: number, minutes: number) =>
    usage(`2026-11-${String(date).padStart(2, '0')}T10:00:00+00:00`, 'theatre-1', 'bain-1', { minutes });

  it('guesses neither grams nor hours before one was weighed in fresh', () => {
    const item = itemOf(...CANISTER, [used(10, 900), weighed(11, 900)]);
    expect(item).toMatchObject({ state: 'ok', dueOn: null, isUseUnknown: true });
    expect(item.used).toMatchObject({ gainG: { value: null }, hoursInUse: { value: null } });
    expect(item.because).toBe('grams gained and hours in use not known: no fresh one was ever weighed in');
  });

  it('is due on the day on which it has gained the limit', () => {
    expect(itemOf(...CANISTER, [fresh, weighed(12, 849), weighed(13, 850), weighed(14, 861)])).toMatchObject({
      dueOn: '2026-11-13',
      limit: 'gain_g',
      because: '61 g gained since 2026-11-02; the limit of 50 g was reached on 2026-11-13',
    });
  });

  it('counts the agent of the uses since the last weighing, until the scale says otherwise', () => {
    const case_ = (date: number) =>
      usage(`2026-11-${date}T10:00:00+00:00`, 'theatre-1', 'bain-1', {
        minutes: 60,
        flow_ml_min: 1000,
        agent: 'isoflurane',
        setting_percent: 2,
      });
    const entries = [fresh, weighed(12, 845), case_(13)];
    // 2 % of 1 L/min for an hour are 9.2 g, beyond the 5 that were left.
    expect(itemOf(...CANISTER, entries)).toMatchObject({ dueOn: '2026-11-13', limit: 'gain_g' });
    expect(itemOf(...CANISTER, [...entries, weighed(14, 848)])).toMatchObject({ dueOn: null });
  });

  it('is not renewed by weighing it, nor by a lighter reading', () => {
    const entries = [fresh, weighed(13, 850), weighed(14, 805)];
    expect(itemOf(...CANISTER, entries)).toMatchObject({ dueOn: '2026-11-13' });
    expect(itemOf(...CANISTER, entries).used?.gainG?.value).toBe(50);
  });

  it('is renewed by a reading marked new: grams and hours begin again, and the check is passed', () => {
    const renewed = reading('2026-11-14T08:00:00+00:00', 'theatre-1-charcoal', { g: 810, new: true });
    const item = itemOf(...CANISTER, [
      fresh,
      used(3, 900),
      weighed(13, 850),
      renewed,
      used(16, 30),
      weighed(17, 815),
    ]);
    expect(item).toMatchObject({ state: 'ok', dueOn: null, lastDoneOn: '2026-11-14', isUseUnknown: false });
    expect(item.used).toMatchObject({ gainG: { value: 5 }, hoursInUse: { value: 0.5 } });
    expect(item.because).toBe('0.5 of 12 h in use; 5 of 50 g gained');
  });

  it('begins hours alone again with a sign-off: the grams still count from the last one weighed in', () => {
    const entries = [
      fresh,
      used(3, 900),
      weighed(4, 830),
      signOff('2026-11-05T08:00:00+00:00', ...CANISTER),
      used(6, 60),
    ];
    const { used: counts, isUseUnknown, because } = itemOf(...CANISTER, entries);
    // A use without agent and setting: what it added is not known, as plan and stock say too.
    expect(counts).toMatchObject({ gainG: { value: null, atLeastG: 30 }, hoursInUse: { value: 1 } });
    expect(isUseUnknown).toBe(true);
    expect(because).toBe(
      '1 of 12 h in use; grams gained, at least 30 of 50 g, not known: 1 case since it was last weighed does not say agent and setting',
    );
    const heavy = [...entries, weighed(7, 850)];
    expect(itemOf(...CANISTER, heavy)).toMatchObject({
      dueOn: '2026-11-07',
      limit: 'gain_g',
      state: 'overdue',
    });
  });

  it('is not known once it is lighter than when it was new, unless the limit was reached before', () => {
    const light = itemOf(...CANISTER, [fresh, weighed(4, 700)]);
    expect(light).toMatchObject({ isUseUnknown: true, used: { gainG: { value: null, reachedOn: null } } });
    expect(light.because).toContain('not known: it is lighter (700 g) than when it was new (800 g)');
    const full = itemOf(...CANISTER, [fresh, weighed(3, 850), weighed(4, 700)]);
    expect(full).toMatchObject({ isUseUnknown: false, limit: 'gain_g', dueOn: '2026-11-03' });
    expect(full.because).toContain('at least 50 g gained');
  });

  it('is not at its limit by a use after the last weighing that adds less than was left', () => {
    const small = usage('2026-11-13T10:00:00+00:00', 'theatre-1', 'bain-1', {
      minutes: 6,
      flow_ml_min: 1000,
      agent: 'isoflurane',
      setting_percent: 2,
    });
    const item = itemOf(...CANISTER, [fresh, weighed(12, 845), small]);
    expect(item).toMatchObject({ state: 'ok', dueOn: null, limit: null });
    // 45 g on the scale, and a tenth of the 9.2 g of an hour.
    expect(item.used?.gainG?.value).toBeCloseTo(45.92, 1);
  });

  it('may go by grams alone, or by hours alone, which begin again with a fresh one', () => {
    const usual = larkhill();
    const by = (leftOut: 'gainG' | 'hoursInUse') => ({
      ...usual,
      checks: usual.checks.map(check =>
        check.id === CANISTER[1] ? { ...check, after: { ...check.after, [leftOut]: null } } : check,
      ),
    });
    const entries = [
      signOff('2026-11-01T08:00:00+00:00', ...CANISTER),
      used(1, 60),
      fresh,
      used(3, 30),
      weighed(4, 830),
    ];
    expect(itemOf(...CANISTER, entries, { inventory: by('hoursInUse') })).toMatchObject({
      used: { hoursInUse: null, gainG: { value: 30 } },
      because: '30 of 50 g gained',
    });
    expect(itemOf(...CANISTER, entries, { inventory: by('gainG') })).toMatchObject({
      used: { hoursInUse: { value: 0.5 }, gainG: null },
      because: '0.5 of 12 h in use',
    });
  });

  it('knows the hours but not the grams after a sign-off alone', () => {
    const item = itemOf(...CANISTER, [signOff('2026-11-05T08:00:00+00:00', ...CANISTER), used(6, 60)]);
    expect(item.used).toMatchObject({ gainG: { value: null }, hoursInUse: { value: 1 } });
    expect(item.isUseUnknown).toBe(true);
  });

  it('is due by hours when they come first', () => {
    expect(itemOf(...CANISTER, [fresh, used(10, 720), weighed(12, 860)])).toMatchObject({
      dueOn: '2026-11-10',
      limit: 'hours_in_use',
    });
  });
});

describe('failures', () => {
  it('make a check overdue at once, on the very day', () => {
    const item = itemOf('bain-1', 'leak-hold', [
      hold('08:00', 'bain-1', 'theatre-1'),
      failedHold('09:00', 'bain-1', 'theatre-1'),
    ]);
    expect(item).toMatchObject({
      state: 'overdue',
      dueOn: '2026-11-25',
      daysOverdue: 0,
      limit: 'failed',
      failedOn: '2026-11-25',
    });
    expect(item.because).toBe('failed on 2026-11-25 and not passed since');
  });

  it('end with the next pass', () => {
    const entries = [failedHold('08:00', 'bain-1', 'theatre-1'), hold('09:00', 'bain-1', 'theatre-1')];
    expect(itemOf('bain-1', 'leak-hold', entries)).toMatchObject({
      state: 'ok',
      failedOn: null,
      dueOn: '2026-11-26',
    });
  });

  it('do not make it less late than it was', () => {
    const entries = [signOff('2026-10-01', ...ABSORBENT), signOff('2026-11-20', ...ABSORBENT, 'fail')];
    expect(itemOf(...ABSORBENT, entries)).toMatchObject({
      dueOn: '2026-10-31',
      failedOn: '2026-11-20',
      state: 'overdue',
      daysOverdue: 25,
    });
    expect(itemOf(...ABSORBENT, entries).because).toMatch(
      /^failed on 2026-11-20 and not passed since; it was due before that, 30 days after/,
    );
  });
});

describe('assets out of service', () => {
  it('are withdrawn, not overdue, until they come back', () => {
    const gone = withdraw('2026-11-20T09:00:00+00:00', 'bain-1', 'a split hose');
    expect(itemOf(...INNER, [gone])).toMatchObject({
      state: 'withdrawn',
      daysOverdue: 0,
      because: 'out of service since 2026-11-20: a split hose',
    });
    expect(itemOf(...INNER, [gone, giveBack('2026-11-24T09:00:00+00:00', 'bain-1')]).state).toBe('overdue');
  });

  it('are withdrawn even where a check failed', () => {
    const entries = [failedHold('08:00', 'bain-1', 'theatre-1'), withdraw('09:00', 'bain-1')];
    expect(itemOf('bain-1', 'leak-hold', entries).state).toBe('withdrawn');
  });
});

describe('the order of the items', () => {
  it('is worst first, grouped by asset', () => {
    const inventory = larkhill();
    const entries = [
      signOff('2026-11-24', ...INNER),
      hold('08:00', 'bain-1', 'theatre-1'),
      hold('08:10', 'y-piece-1', 'theatre-1'),
      hold('08:20', 't-piece-1', 'theatre-1'),
      signOff('2026-11-20', ...SERVICE),
      withdraw('09:00', 'ward-e-1'),
    ];
    const items = dueItems({
      inventory,
      standing: foldStanding(inventory, entries),
      asOf: '2026-11-25',
      soonDays: 7,
    });
    expect(items.map(({ asset, check, state }) => `${asset.id} ${check.id} ${state}`)).toEqual([
      'theatre-1-absorber absorbent-change overdue',
      'theatre-1 exposure-badge overdue',
      'theatre-1 ready ok',
      'bain-1 inner-tube due',
      'bain-1 leak-hold ok',
      't-piece-1 leak-hold ok',
      'y-piece-1 leak-hold ok',
      'theatre-1-iso vaporizer-service ok',
      'theatre-1-charcoal canister-change ok',
      'ward-e-1 high-pressure withdrawn',
    ]);
  });
});

describe('what plans are told', () => {
  const items = (entries: Parameters<typeof foldStanding>[1], asOf = '2026-11-25') => {
    const inventory = larkhill();
    return dueItems({ inventory, standing: foldStanding(inventory, entries), asOf, soonDays: 7 });
  };

  it('is every blocking check that is overdue or failed', () => {
    expect([...blockingChecks(items([signOff('2026-11-23', ...INNER)])).values()].flat()).toEqual([
      {
        asset: 'bain-1',
        check: 'inner-tube',
        state: 'overdue',
        blocks: true,
        words: 'overdue since 2026-11-24: 1 open day after it was last done on 2026-11-23',
      },
    ]);
    const failed = blockingChecks(items([signOff('2026-11-25', ...INNER, 'fail')]));
    expect(failed.get('bain-1')).toMatchObject([
      { state: 'failed', words: expect.stringMatching(/^failed on 2026-11-25 and not passed since/) },
    ]);
  });

  it('is nothing of a check that is due on the day, nor of an asset out of service', () => {
    expect(blockingChecks(items([signOff('2026-11-24', ...INNER)])).size).toBe(0);
    expect(blockingChecks(items([withdraw('09:00', 'bain-1')])).size).toBe(0);
  });

  it('names the others as troubles that do not block', () => {
    const troubles = checkTroubles(items([signOff('2026-11-25', ...INNER)]));
    expect(troubles.every(({ blocks }) => !blocks)).toBe(true);
    expect(troubles.map(({ check }) => check)).toContain('vaporizer-service');
  });
});
