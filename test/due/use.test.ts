import { describe, expect, it } from 'vitest';
import { countUse } from '../../src/due/use.ts';
import type { Entry } from '../../src/generated/entry.ts';
import type { Asset, Check } from '../../src/inventory/inventory.ts';
import { grams, hours } from '../../src/quantity/units.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { reading, signOff, usage } from '../record/entries.ts';
import { larkhill } from './helpers.ts';

const INVENTORY = larkhill();

/** Half an hour at 1 L/min; with 2 % isoflurane 4.6 g. */
const used = (day: number, agent: 'isoflurane' | null = null) =>
  usage(`2026-11-${day}T10:00:00+00:00`, 'theatre-1', 'y-piece-1', {
    minutes: 30,
    flow_ml_min: 1000,
    ...(agent === null ? {} : { agent, setting_percent: 2 }),
  });
const scale = (day: number, given: { g?: number; new?: boolean }) =>
  reading(`2026-11-${day}T18:00:00+00:00`, 'theatre-1-charcoal', given);

function assetOf(id: string): Asset {
  const asset = INVENTORY.assets.get(id);
  if (asset === undefined) throw new Error(`no ${id}`);
  return asset;
}

/** A check by hours and grams alone, whatever else the practice asks. */
function countOf(
  asset: Asset,
  entries: readonly Entry[],
  after: Check['after'] = { hoursInUse: hours(12), gainG: grams(50) },
) {
  const usual = INVENTORY.checks.find(({ id }) => id === 'canister-change');
  if (usual === undefined) throw new Error('no such check');
  const check: Check = { ...usual, assets: [asset.id], after };
  const standing = foldStanding({ ...INVENTORY, checks: [check] }, entries);
  return countUse(check, asset, standing.assets.get(asset.id));
}

const CHARCOAL = assetOf('theatre-1-charcoal');
const ABSORBER = assetOf('theatre-1-absorber');

describe('hours in use', () => {
  it('count from coming into service where the absorbent was never changed', () => {
    expect(countOf(ABSORBER, [used(10), used(11)]).hoursInUse).toEqual({
      value: 1,
      limit: 12,
      from: '2023-02-06',
      reachedOn: null,
    });
  });

  it('are none where the record says nothing of the asset', () => {
    expect(countOf(ABSORBER, []).hoursInUse).toMatchObject({ value: 0, reachedOn: null });
  });

  it('are not guessed of a canister that was never marked new, but are of an active unit', () => {
    expect(countOf(CHARCOAL, [used(10)]).hoursInUse).toEqual({
      value: null,
      limit: 12,
      from: null,
      reachedOn: null,
    });
    if (CHARCOAL.type !== 'scavenging') throw new Error('no scavenging');
    const active: Asset = { ...CHARCOAL, kind: 'active', airBreak: true, limitGainG: null };
    expect(countOf(active, [used(10)]).hoursInUse).toMatchObject({ value: 0.5 });
  });

  it('begin with a fresh canister, also where the check was never signed off', () => {
    const entries = [used(9), scale(10, { new: true }), used(11)];
    expect(countOf(CHARCOAL, entries, { hoursInUse: hours(12), gainG: null }).hoursInUse).toMatchObject({
      value: 0.5,
      from: '2026-11-10',
    });
  });

  it('begin with the later of sign-off and fresh one, whichever that is', () => {
    const fresh = scale(10, { g: 800, new: true });
    const signed = (day: number) =>
      signOff(`2026-11-${day}T19:00:00+00:00`, 'theatre-1-charcoal', 'canister-change');
    const byHours = { hoursInUse: hours(12), gainG: null };
    expect(countOf(CHARCOAL, [fresh, used(11), signed(12), used(13)], byHours).hoursInUse).toMatchObject({
      value: 0.5,
      from: '2026-11-12',
    });
    expect(countOf(CHARCOAL, [signed(9), fresh, used(11), used(13)], byHours).hoursInUse).toMatchObject({
      value: 1,
      from: '2026-11-10',
    });
  });
});

describe('grams gained', () => {
  it('still count from the last one that was weighed in, where a fresh one was put in without weighing it', () => {
    const entries = [scale(10, { g: 800, new: true }), scale(12, { g: 830 }), scale(13, { new: true })];
    expect(countOf(CHARCOAL, entries).gainG).toMatchObject({ value: 30, from: '2026-11-10' });
  });

  it('keep what uses added since the last weighing, where a later reading gives no weight', () => {
    const entries = [
      scale(10, { g: 800, new: true }),
      scale(12, { g: 830 }),
      used(13, 'isoflurane'),
      scale(14, {}),
    ];
    expect(countOf(CHARCOAL, entries).gainG?.value).toBeCloseTo(34.6, 1);
  });
});
