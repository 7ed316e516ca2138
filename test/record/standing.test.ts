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
