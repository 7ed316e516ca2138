import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { standsFailed } from '../../src/record/standing-types.ts';
import {
  compliance,
  correct,
  failedHold,
  giveBack,
  hold,
  larkhill,
  reading,
  signOff,
  supplyHold,
  usage,
  withdraw,
} from './entries.ts';

const inventory = larkhill();

function asset(id: string, entries: Entry[]) {
  return foldStanding(inventory, entries).assets.get(id);
}

function check(id: string, checkId: string, entries: Entry[]) {
  const standing = asset(id, entries)?.checks.get(checkId);
  return { pass: standing?.lastPass?.entry ?? null, fail: standing?.lastFail?.entry ?? null };
}

describe('foldStanding', () => {
  it('knows nothing of an empty record', () => {
    expect(foldStanding(inventory, [])).toEqual({ assets: new Map(), pairs: new Map() });
  });

  it('says by whom, why and since when something is withdrawn, until it is returned', () => {
    const first = withdraw('08:00', 'bain-1', 'a split hose');
    const second = withdraw('09:00', 'bain-1', 'still split');
    expect(asset('bain-1', [first, second])?.withdrawn).toMatchObject({
      because: 'a split hose',
      done: { entry: first.id, by: 'M. Quill' },
    });
    const back = giveBack('10:00', 'bain-1');
    expect(asset('bain-1', [first, second, back])).toMatchObject({
      withdrawn: null,
      returned: { entry: back.id },
    });
    expect(asset('bain-1', [first, back, correct('10:10', back.id)])?.withdrawn).not.toBeNull();
  });

  it('keeps the last pass and the last failure of a check', () => {
    const pass = signOff('08:00', 'bain-1', 'inner-tube');
    const fail = signOff('09:00', 'bain-1', 'inner-tube', 'fail');
    expect(check('bain-1', 'inner-tube', [pass, fail])).toEqual({ pass: pass.id, fail: fail.id });
    const standing = asset('bain-1', [pass, fail])?.checks.get('inner-tube');
    expect(standing !== undefined && standsFailed(standing)).toBe(true);
  });

  it('answers a check by hold with any hold of the circuit, but not by one with the pop-off left shut', () => {
    const pass = hold('08:00', 'bain-1', 'theatre-1');
    const shut = hold('09:00', 'bain-1', 'dental', { pop_off: 'shut' });
    const fail = failedHold('10:00', 'bain-1', 'dental');
    expect(check('bain-1', 'leak-hold', [pass, shut])).toEqual({ pass: pass.id, fail: null });
    expect(check('bain-1', 'leak-hold', [pass, shut, fail])).toEqual({ pass: pass.id, fail: fail.id });
  });

  it('keeps the high-pressure tests of a cylinder, with or without a check for them', () => {
    const fail = supplyHold('08:00', 'ward-e-1', 'fail');
    expect(check('ward-e-1', 'high-pressure', [fail])).toEqual({ pass: null, fail: fail.id });
    const unchecked = foldStanding({ ...inventory, checks: [] }, [fail]).assets.get('ward-e-1');
    expect(unchecked?.supplyHold.lastFail?.entry).toBe(fail.id);
    expect(unchecked?.checks.size).toBe(0);
  });

  it('answers a check by reading with every reading, and one on gain only with a fresh canister', () => {
    const gauge = reading('08:00', 'ward-e-1', { psi: 1450 });
    expect(check('ward-e-1', 'gauge-read', [gauge]).pass).toBe(gauge.id);
    const weighed = reading('08:00', 'theatre-1-charcoal', { g: 812 });
    const fresh = reading('09:00', 'theatre-1-charcoal', { g: 790, new: true });
    expect(check('theatre-1-charcoal', 'canister-change', [weighed]).pass).toBeNull();
    expect(
      check('theatre-1-charcoal', 'canister-change', [
        weighed,
        fresh,
        reading('10:00', 'theatre-1-charcoal', { g: 795 }),
      ]).pass,
    ).toBe(fresh.id);
    expect(asset('theatre-1-charcoal', [weighed, fresh])?.readings).toMatchObject([
      { g: 812, psi: null, isNew: false },
      { g: 790, isNew: true },
    ]);
  });

  it('wears absorbent with circles alone, and a vaporizer only with its agent', () => {
    const worn = (entry: Entry) =>
      [...foldStanding(inventory, [entry]).assets.values()]
        .filter(({ uses }) => uses.length > 0)
        .map(({ id }) => id)
        .sort();
    expect(worn(usage('08:00', 'theatre-1', 'y-piece-1', { agent: 'isoflurane' }))).toEqual([
      'theatre-1',
      'theatre-1-absorber',
      'theatre-1-charcoal',
      'theatre-1-iso',
      'y-piece-1',
    ]);
    expect(worn(usage('08:00', 'theatre-1', 'bain-1', { agent: 'sevoflurane' }))).toEqual([
      'bain-1',
      'theatre-1',
      'theatre-1-charcoal',
      'theatre-1-sevo',
    ]);
    expect(worn(usage('08:00', 'theatre-1', 'bain-1'))).toEqual([
      'bain-1',
      'theatre-1',
      'theatre-1-charcoal',
      'theatre-1-iso',
      'theatre-1-sevo',
    ]);
  });

  it('counts a circuit that has left the inventory as a circle: absorbent may have worn', () => {
    expect(asset('theatre-1-absorber', [usage('08:00', 'theatre-1', 'y-piece-9')])?.uses).toHaveLength(1);
  });

  it('keeps what a case was, for those who count liquid agent', () => {
    const entry = usage('08:00', 'theatre-1', 'y-piece-1', {
      minutes: 90,
      flow_ml_min: 800,
      agent: 'isoflurane',
      setting_percent: 1.5,
      case: '4711',
    });
    expect(asset('theatre-1', [entry])?.uses).toMatchObject([
      {
        minutes: 90,
        flowMlPerMin: 800,
        agent: 'isoflurane',
        settingPercent: 1.5,
        caseRef: '4711',
        machine: 'theatre-1',
        circuit: 'y-piece-1',
      },
    ]);
  });

  it('keeps measured compliances and holds by pair', () => {
    const standing = foldStanding(inventory, [
      compliance('08:00', 'y-piece-1', 'dental', 7.5),
      hold('09:00', 'y-piece-1', 'dental'),
    ]);
    expect(standing.pairs.get('y-piece-1 dental')).toMatchObject({
      compliances: [{ mlPerCmH2O: 7.5 }],
      holds: [{ done: { date: '2026-11-25', order: 1 } }],
    });
  });

  it('dates what was done by the offset that the practice wrote', () => {
    const late = hold('2026-07-01T00:30:00+01:00', 'bain-1', 'dental');
    expect(foldStanding(inventory, [late]).pairs.get('bain-1 dental')?.holds[0]?.done.date).toBe(
      '2026-07-01',
    );
  });

  it('leaves a cancelled entry out, wherever the correction stands', () => {
    const used = usage('08:00', 'theatre-1', 'bain-1');
    const cancel = correct('07:00', used.id);
    expect(asset('theatre-1', [cancel, used])).toBeUndefined();
  });
});

describe('an asset of which one thing was recorded', () => {
  const NOTHING = {
    withdrawn: null,
    lastWithdrawal: null,
    returned: null,
    checks: new Map(),
    popOffAnswers: [],
    supplyHold: { lastPass: null, lastFail: null },
    uses: [],
    readings: [],
  };
  const done = (entry: Entry, order = 0) => ({
    entry: entry.id,
    order,
    date: entry.on.slice(0, 10),
    on: entry.on,
    at: entry.at,
    by: entry.by,
  });

  it('is known by a hold, whole and with nothing else', () => {
    const held = hold('08:00', 'y-piece-1', 'dental');
    const { assets, pairs } = foldStanding(inventory, [held]);
    expect([...assets.keys()].sort()).toEqual(['dental', 'y-piece-1']);
    expect(assets.get('dental')).toEqual({ id: 'dental', ...NOTHING });
    expect(assets.get('y-piece-1')).toEqual({
      id: 'y-piece-1',
      ...NOTHING,
      checks: new Map([['leak-hold', { lastPass: done(held), lastFail: null }]]),
    });
    expect([...pairs]).toEqual([
      [
        'y-piece-1 dental',
        {
          circuit: 'y-piece-1',
          machine: 'dental',
          holds: [{ done: done(held), entry: held }],
          compliances: [],
        },
      ],
    ]);
  });

  it('keeps first and last withdrawal, and the return', () => {
    const first = withdraw('08:00', 'bain-1', 'a split hose');
    const second = withdraw('09:00', 'bain-1', 'still split');
    const back = giveBack('10:00', 'bain-1');
    expect(asset('bain-1', [first, second])).toEqual({
      id: 'bain-1',
      ...NOTHING,
      withdrawn: { done: done(first), because: 'a split hose' },
      lastWithdrawal: done(second, 1),
    });
    expect(asset('bain-1', [first, second, back])).toEqual({
      id: 'bain-1',
      ...NOTHING,
      lastWithdrawal: done(second, 1),
      returned: done(back, 2),
    });
  });

  it('keeps what a reading shows, and answers the checks that a reading answers', () => {
    const gauge = reading('08:00', 'ward-e-1', { psi: 1450, new: true });
    expect(asset('ward-e-1', [gauge])).toEqual({
      id: 'ward-e-1',
      ...NOTHING,
      // High pressure is shown by a test of its own, not by a look at the gauge.
      checks: new Map([['gauge-read', { lastPass: done(gauge), lastFail: null }]]),
      readings: [{ done: done(gauge), psi: 1450, g: null, isNew: true }],
    });
    const absorbent = reading('08:00', 'theatre-1-absorber', { new: true });
    expect(asset('theatre-1-absorber', [absorbent])).toEqual({
      id: 'theatre-1-absorber',
      ...NOTHING,
      readings: [{ done: done(absorbent), psi: null, g: null, isNew: true }],
    });
  });

  it('keeps of a high-pressure test pass and failure, apart and for the check', () => {
    const pass = supplyHold('08:00', 'ward-e-1', 'pass');
    const fail = supplyHold('09:00', 'ward-e-1', 'fail');
    const both = { lastPass: done(pass), lastFail: done(fail, 1) };
    expect(asset('ward-e-1', [pass, fail])).toEqual({
      id: 'ward-e-1',
      ...NOTHING,
      supplyHold: both,
      checks: new Map([['high-pressure', both]]),
    });
  });

  it('keeps of a use what was not said as not known', () => {
    const used = usage('08:00', 'theatre-1', 'bain-1', { minutes: 20, flow_ml_min: 1500 });
    expect(asset('bain-1', [used])?.uses).toEqual([
      {
        done: done(used),
        minutes: 20,
        machine: 'theatre-1',
        circuit: 'bain-1',
        flowMlPerMin: 1500,
        agent: null,
        settingPercent: null,
        caseRef: null,
      },
    ]);
  });

  it('is not made by a compliance or a correction, which speak of no asset by itself', () => {
    const measured = compliance('08:00', 'y-piece-1', 'dental', 7.5);
    const { assets, pairs } = foldStanding(inventory, [measured, correct('09:00', 'entry-nowhere')]);
    expect([...assets]).toEqual([]);
    expect(pairs.get('y-piece-1 dental')).toEqual({
      circuit: 'y-piece-1',
      machine: 'dental',
      holds: [],
      compliances: [{ done: done(measured), mlPerCmH2O: 7.5 }],
    });
  });

  it('of a machine that is not in the inventory wears machine and circuit alone', () => {
    const worn = foldStanding(inventory, [usage('08:00', 'theatre-9', 'y-piece-1')]).assets;
    expect([...worn.keys()]).toEqual(['theatre-9', 'y-piece-1']);
    // A machine without absorber and scavenging wears neither.
    const bare = {
      ...inventory,
      machines: inventory.machines.map(machine => ({ ...machine, absorber: null, scavenging: null })),
    };
    expect([...foldStanding(bare, [usage('08:00', 'dental', 'y-piece-1')]).assets.keys()]).toEqual([
      'dental',
      'y-piece-1',
      'dental-sevo',
    ]);
  });

  it('answers every check of the circuit that goes by a leak test, and none of another way', () => {
    const usual = inventory.checks.find(({ id }) => id === 'leak-hold');
    if (usual === undefined) throw new Error('Larkhill has the check');
    const second = { ...usual, id: 'weekly-hold', assets: ['bain-1'] };
    const both = { ...inventory, checks: [...inventory.checks, second] };
    const checks = foldStanding(both, [failedHold('08:00', 'bain-1', 'dental')]).assets.get('bain-1')?.checks;
    expect([...(checks?.keys() ?? [])]).toEqual(['leak-hold', 'weekly-hold']);
    expect(checks?.get('weekly-hold')?.lastPass).toBeNull();
  });
});

describe('a failed leak test', () => {
  it('fails the check whatever became of the pop-off', () => {
    for (const popOff of ['open', 'shut', 'stuck'] as const) {
      const fail = failedHold('08:00', 'bain-1', 'dental', { pop_off: popOff });
      expect(check('bain-1', 'leak-hold', [fail])).toEqual({ pass: null, fail: fail.id });
    }
  });
});

describe('standsFailed', () => {
  const at = (order: number) => ({ order, date: '2026-11-25' });

  it.each([
    [null, null, false],
    [at(1), null, false],
    [null, at(1), true],
    [at(1), at(2), true],
    [at(2), at(1), false],
    [at(1), at(1), false],
  ])('passed %j, failed %j: %s', (lastPass, lastFail, failed) => {
    expect(standsFailed({ lastPass, lastFail })).toBe(failed);
  });
});
