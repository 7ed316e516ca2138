import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { type Grams, grams, type Hours, hours } from '../../src/quantity/units.ts';
import { caughtG } from '../../src/record/gain.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { canisterLeft, renewalCheck, type WearState, wearOf } from '../../src/record/wear.ts';
import { correct, larkhill, reading, signOff, usage } from './entries.ts';

const inventory = larkhill();

function wear(id: string, entries: readonly Entry[], by: Inventory = inventory): WearState {
  const asset = by.assets.get(id);
  if (asset?.type !== 'absorber' && asset?.type !== 'scavenging') throw new Error(`${id} does not wear`);
  return wearOf(by, asset, foldStanding(by, entries).assets.get(id));
}

const ISO = { agent: 'isoflurane', setting_percent: 2, flow_ml_min: 1000, minutes: 60 } as const;
/** 2 % of 1 L/min for an hour: 1200 mL of vapour. */
const ISO_G = (1200 / 195) * 1.496;

describe('wearOf absorbent', () => {
  const id = 'theatre-1-absorber';

  it('counts the hours on circles since the change was signed off; a Bain wears none', () => {
    const state = wear(id, [
      usage('06:00', 'theatre-1', 'y-piece-1', { minutes: 600 }),
      signOff('07:00', id, 'absorbent-change'),
      usage('09:00', 'theatre-1', 'y-piece-1', { minutes: 90 }),
      usage('10:00', 'theatre-1', 'bain-1', { minutes: 120 }),
      usage('11:00', 'theatre-1', 'coaxial-1', { minutes: 30 }),
      usage('12:00', 'dental', 'y-piece-1', { minutes: 240 }),
    ]);
    expect(state.hours).toBe(2);
    expect(state.since).toMatchObject({ date: '2026-11-25', by: 'sign_off' });
  });

  it('is not renewed by a failed change', () => {
    const state = wear(id, [
      signOff('07:00', id, 'absorbent-change'),
      usage('09:00', 'theatre-1', 'y-piece-1', { minutes: 60 }),
      signOff('10:00', id, 'absorbent-change', 'fail'),
    ]);
    expect(state.hours).toBe(1);
  });

  it('counts from the date in service where a change was never signed off, and says so', () => {
    const state = wear(id, [usage('09:00', 'theatre-1', 'y-piece-1', { minutes: 120 })]);
    expect(state.hours).toBe(2);
    expect(state.since).toMatchObject({ date: '2023-02-06', by: 'in_service' });
  });

  it('counts from the date in service where no check of the practice could ever say that it was changed', () => {
    const without = { ...inventory, checks: inventory.checks.filter(({ id }) => id !== 'absorbent-change') };
    const state = wear(id, [usage('09:00', 'theatre-1', 'y-piece-1', { minutes: 120 })], without);
    expect(state).toMatchObject({ hours: 2, since: { by: 'in_service' } });
  });

  it('goes by the check with the fewest hours, so that a rarer one does not pass for a change', () => {
    const [change] = inventory.checks.filter(({ id }) => id === 'absorbent-change');
    if (change === undefined) throw new Error('Larkhill changes its absorbent');
    const rare = { ...change, id: 'overhaul', after: { hoursInUse: hours(100), gainG: null } };
    const both = { ...inventory, checks: [rare, ...inventory.checks] };
    expect(renewalCheck(both, id)?.id).toBe('absorbent-change');
    const entries = [
      signOff('07:00', id, 'absorbent-change'),
      usage('09:00', 'theatre-1', 'y-piece-1', { minutes: 60 }),
      signOff('10:00', id, 'overhaul'),
    ];
    expect(wear(id, entries, both).hours).toBe(1);
  });
});

describe('wearOf charcoal', () => {
  const id = 'theatre-1-charcoal';
  const fresh = reading('07:00', id, { g: 800, new: true });

  it('guesses neither grams nor hours before a canister was marked new', () => {
    const state = wear(id, [usage('09:00', 'theatre-1', 'bain-1', ISO), reading('10:00', id, { g: 812 })]);
    expect(state).toMatchObject({ hours: null, gainG: null, gainBy: null, gainAtLeastG: 0 });
  });

  it('estimates from agent, setting and flow until it is weighed', () => {
    const state = wear(id, [fresh, usage('09:00', 'theatre-1', 'bain-1', ISO)]);
    expect(state.gainG).toBeCloseTo(ISO_G, 9);
    expect(state).toMatchObject({ gainBy: 'estimate', hours: 1, gainUnknown: null });
    expect(state.since?.by).toBe('new');
  });

  it('has gained nothing, by the scale, while it was not used since it was new', () => {
    expect(wear(id, [fresh])).toMatchObject({ gainG: 0, gainBy: 'scale', hours: 0 });
  });

  it('lets the scale win over the estimate, and estimates only what came after the weighing', () => {
    const entries = [fresh, usage('09:00', 'theatre-1', 'bain-1', ISO), reading('10:00', id, { g: 805 })];
    expect(wear(id, entries)).toMatchObject({ gainG: 5, gainBy: 'scale' });
    const later = wear(id, [...entries, usage('11:00', 'theatre-1', 'bain-1', ISO)]);
    expect(later.gainG).toBeCloseTo(5 + ISO_G, 9);
    expect(later.gainBy).toBe('scale_and_estimate');
  });

  it('never takes back what the scale once showed', () => {
    const weighed = [fresh, reading('10:00', id, { g: 820 }), reading('11:00', id, { g: 818 })];
    expect(wear(id, weighed).gainG).toBe(20);
  });

  it('is not known once it is lighter than when it was new, until it is weighed again; what was known stays the least', () => {
    const used = usage('09:00', 'theatre-1', 'bain-1', ISO);
    const light = reading('10:00', id, { g: 700 });
    expect(wear(id, [fresh, light])).toMatchObject({
      gainG: null,
      gainBy: null,
      gainAtLeastG: 0,
      gainUnknown: { why: 'lighter', g: 700, freshG: 800 },
    });
    expect(wear(id, [fresh, used, light]).gainAtLeastG).toBeCloseTo(ISO_G, 9);
    expect(wear(id, [fresh, reading('08:00', id, { g: 830 }), light]).gainAtLeastG).toBe(30);
    const again = wear(id, [fresh, used, light, reading('11:00', id, { g: 812 })]);
    expect(again).toMatchObject({ gainG: 12, gainBy: 'scale', gainUnknown: null });
    expect(wear(id, [fresh, light, reading('11:00', id, { g: 690, new: true })])).toMatchObject({
      gainG: 0,
      gainUnknown: null,
    });
    expect(wear(id, [fresh, reading('10:00', id, { g: 800 })])).toMatchObject({ gainG: 0 });
  });

  it('begins anew with a reading marked new; a sign-off resets the hours only', () => {
    const used = [fresh, usage('09:00', 'theatre-1', 'bain-1', ISO)];
    expect(wear(id, [...used, reading('10:00', id, { g: 790, new: true })])).toMatchObject({
      gainG: 0,
      hours: 0,
    });
    const signed = wear(id, [...used, signOff('10:00', id, 'canister-change')]);
    expect(signed.hours).toBe(0);
    expect(signed.gainG).toBeCloseTo(ISO_G, 9);
  });

  it('knows only a part where a use does not say agent and setting, until it is weighed', () => {
    const entries = [
      fresh,
      usage('09:00', 'theatre-1', 'bain-1', ISO),
      usage('10:00', 'theatre-1', 'bain-1'),
    ];
    const state = wear(id, entries);
    expect(state).toMatchObject({ gainG: null, gainBy: null, gainUnknown: { why: 'uses_unsaid', uses: 1 } });
    expect(state.gainAtLeastG).toBeCloseTo(ISO_G, 9);
    expect(wear(id, [...entries, reading('11:00', id, { g: 814 })])).toMatchObject({
      gainG: 14,
      gainUnknown: null,
    });
  });

  it('counts a dial at 0 % as nothing, and nothing that was cancelled', () => {
    const wrong = usage('09:00', 'theatre-1', 'bain-1', ISO);
    const entries = [
      fresh,
      wrong,
      usage('10:00', 'theatre-1', 'bain-1', { ...ISO, setting_percent: 0 }),
      correct('10:30', wrong.id),
    ];
    expect(wear(id, entries)).toMatchObject({ gainG: 0, hours: 1 });
  });
});

describe('from when wear counts', () => {
  const absorber = 'theatre-1-absorber';

  it('is the later of a sign-off and a reading marked new', () => {
    const fresh = reading('08:00', absorber, { new: true });
    const signed = signOff('07:00', absorber, 'absorbent-change');
    expect(wear(absorber, [signed, fresh]).since).toEqual({ date: '2026-11-25', order: 1, by: 'new' });
    expect(wear(absorber, [fresh, signOff('09:00', absorber, 'absorbent-change')]).since).toEqual({
      date: '2026-11-25',
      order: 1,
      by: 'sign_off',
    });
    expect(wear(absorber, [fresh]).since?.by).toBe('new');
    expect(wear(absorber, []).since).toEqual({ date: '2023-02-06', order: -1, by: 'in_service' });
    expect(wear(absorber, []).hours).toBe(0);
    // A reading that is not marked new renews nothing.
    expect(wear(absorber, [signed, reading('08:00', absorber, {})]).since?.by).toBe('sign_off');
  });

  it('counts the very first use of the record where nothing says since when', () => {
    const used = usage('06:00', 'theatre-1', 'y-piece-1', { minutes: 30 });
    expect(wear(absorber, [used]).hours).toBe(0.5);
  });

  it('is not known of absorbent without a date, nor of charcoal that was never renewed', () => {
    const asset = inventory.assets.get(absorber);
    if (asset?.type !== 'absorber') throw new Error('theatre-1 has an absorber');
    const used = foldStanding(inventory, [usage('06:00', 'theatre-1', 'y-piece-1', { minutes: 30 })]);
    expect(wearOf(inventory, { ...asset, since: null }, used.assets.get(absorber))).toMatchObject({
      hours: null,
      since: null,
    });
    expect(wear('theatre-1-charcoal', [usage('06:00', 'theatre-1', 'y-piece-1')])).toMatchObject({
      hours: null,
      since: null,
    });
    expect(wear('theatre-1-charcoal', [])).toEqual({
      hours: null,
      since: null,
      gainG: null,
      gainBy: null,
      gainAtLeastG: 0,
      gainUnknown: { why: 'never_weighed_in' },
    });
  });

  it('goes by the first of two checks with the same hours, and by none that goes by date or grams alone', () => {
    const [change] = inventory.checks.filter(({ id }) => id === 'absorbent-change');
    if (change === undefined) throw new Error('Larkhill changes its absorbent');
    const twin = { ...change, id: 'twin' };
    const shorter = { ...change, id: 'shorter', after: { hoursInUse: hours(4), gainG: null } };
    const dated = { ...change, id: 'dated', after: { hoursInUse: null, gainG: null } };
    const elsewhere = { ...shorter, id: 'elsewhere', assets: ['dental-absorber'] };
    const by = (...checks: Inventory['checks']) => renewalCheck({ checks }, absorber)?.id ?? null;
    expect(by(change, twin)).toBe('absorbent-change');
    expect(by(twin, change)).toBe('twin');
    expect(by(change, shorter)).toBe('shorter');
    expect(by(shorter, change)).toBe('shorter');
    expect(by(dated, change)).toBe('absorbent-change');
    expect(by(dated)).toBeNull();
    expect(by(elsewhere, change)).toBe('absorbent-change');
    expect(by()).toBeNull();
  });
});

describe('the grams of a canister', () => {
  const id = 'theatre-1-charcoal';
  const fresh = reading('07:00', id, { g: 800, new: true });

  it('count from the last one weighed in, whatever the one before it had gained', () => {
    const heavy = reading('08:00', id, { g: 850 });
    const next = reading('09:00', id, { g: 810, new: true });
    expect(wear(id, [fresh, heavy, next, reading('10:00', id, { g: 815 })]).gainG).toBe(5);
    expect(wear(id, [fresh, heavy, next])).toMatchObject({ gainG: 0 });
  });

  it('are not settled by a reading without a weight', () => {
    const used = usage('08:00', 'theatre-1', 'bain-1', ISO);
    const empty = wear(id, [fresh, used, reading('09:00', id, {})]);
    expect(empty.gainAtLeastG).toBeCloseTo(ISO_G, 9);
    // Nor is a canister weighed in by one.
    expect(wear(id, [reading('07:00', id, { new: true }), used]).gainG).toBeNull();
  });
});

describe('caughtG', () => {
  const use = { agent: 'isoflurane', settingPercent: 2, flowMlPerMin: 1000, minutes: 60 } as const;
  const caught = (given: object) => caughtG({ ...use, ...given } as unknown as Parameters<typeof caughtG>[0]);

  it('is the liquid of the vapour that was let through', () => {
    expect(caught({})).toBeCloseTo(ISO_G, 9);
    expect(caught({ minutes: 30 })).toBeCloseTo(ISO_G / 2, 9);
    expect(caught({ settingPercent: 0, agent: null })).toBe(0);
    expect(caught({ agent: null })).toBeNull();
    expect(caught({ settingPercent: null })).toBeNull();
  });
});

describe('canisterLeft', () => {
  const charcoal = inventory.assets.get('theatre-1-charcoal');
  const changed = inventory.checks.find(({ id }) => id === 'canister-change') ?? expect.fail('no such check');
  if (charcoal?.type !== 'scavenging') throw new Error('no canister');
  const left = (
    limits: { gainG: Grams | null; hoursInUse: Hours | null; own?: Grams },
    entries: readonly Entry[],
  ) => {
    const checks = [{ ...changed, after: { gainG: limits.gainG, hoursInUse: limits.hoursInUse } }];
    const canister = { ...charcoal, limitGainG: limits.own ?? null };
    return canisterLeft({ checks }, canister, wear(charcoal.id, entries, { ...inventory, checks }));
  };
  const used = usage('09:00', 'theatre-1', 'bain-1', { minutes: 120 });

  it('is not known of a canister by hours alone that nobody marked as new', () => {
    const byHours = { gainG: null, hoursInUse: hours(12) };
    expect(left(byHours, [used])).toEqual({
      gain: null,
      hours: { limit: 12, left: null },
      spentBy: null,
      isKnown: false,
    });
    const fresh = reading('08:00', charcoal.id, { new: true, g: 800 });
    expect(left(byHours, [fresh, used])).toMatchObject({ hours: { left: 10 }, isKnown: true });
  });

  it('is not known of a canister without any limit, new or not', () => {
    const fresh = reading('08:00', charcoal.id, { new: true, g: 800 });
    expect(left({ gainG: null, hoursInUse: null }, [fresh])).toEqual({
      gain: null,
      hours: null,
      spentBy: null,
      isKnown: false,
    });
  });

  it('is known of a canister that has reached the one limit, whatever the other', () => {
    const fresh = reading('08:00', charcoal.id, { new: true });
    const spent = usage('09:00', 'theatre-1', 'bain-1', { minutes: 720 });
    expect(left({ gainG: grams(50), hoursInUse: hours(12) }, [fresh, spent])).toMatchObject({
      gain: { leftG: null },
      spentBy: 'hours_in_use',
      isKnown: true,
    });
  });
});
