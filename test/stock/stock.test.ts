import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { type StockItem, stockOf } from '../../src/stock/stock.ts';
import { correct, larkhill, reading, signOff, usage, withdraw } from '../record/entries.ts';

const inventory = larkhill();

function item(asset: string, entries: readonly Entry[], today = '2026-11-25'): StockItem {
  const found = stockOf(inventory, entries, today, 'read').items.find(one => one.asset === asset);
  if (found === undefined) throw new Error(`no ${asset} in stock`);
  return found;
}

/** 660 L × (1900 − 200) / 1900: what a full cylinder gives above its reserve. */
const FULL_L = (660 * 1700) / 1900;

describe('stock of a cylinder', () => {
  it('is not known before its gauge was read, and says what to enter', () => {
    expect(item('ward-e-1', [])).toMatchObject({
      level: null,
      endsOn: null,
      missing: 'holdfast reading ward-e-1 PRESSURE',
    });
  });

  it('is what the gauge showed above the reserve, less what was used since', () => {
    const one = item('ward-e-1', [
      reading('07:00', 'ward-e-1', { psi: 1900, new: true }),
      usage('09:00', 'theatre-1', 'bain-1'),
    ]);
    expect(one.left).toBeCloseTo(FULL_L - 45, 9);
    expect(one.full).toBeCloseTo(FULL_L, 9);
    expect(one.level).toBeCloseTo((FULL_L - 45) / FULL_L, 9);
  });

  it('ends at the mean of the days since the first use, at least a week', () => {
    const one = item('ward-e-1', [
      reading('07:00', 'ward-e-1', { psi: 1900 }),
      usage('09:00', 'theatre-1', 'bain-1'),
    ]);
    expect(one.perDay).toBeCloseTo(45 / 7, 9);
    // (590.5 − 45) / 6.43 = 84.86 days, rounded down.
    expect(one.endsOn).toBe('2027-02-17');
  });

  it('leaves out use older than four weeks, but not what it took from the cylinder', () => {
    const entries = [
      reading('2026-10-01', 'ward-e-1', { psi: 1900, new: true }),
      usage('2026-10-02T09:00:00+01:00', 'theatre-1', 'bain-1', { minutes: 100 }),
      usage('2026-11-20T09:00:00+00:00', 'theatre-1', 'bain-1', { minutes: 56 }),
    ];
    const one = item('ward-e-1', entries);
    expect(one.perDay).toBeCloseTo(56 / 28, 9);
    expect(one.left).toBeCloseTo(FULL_L - 156, 9);
  });

  it('is never below nothing, and then ends today', () => {
    const one = item('ward-e-1', [
      reading('07:00', 'ward-e-1', { psi: 150 }),
      usage('09:00', 'theatre-1', 'bain-1'),
    ]);
    expect(one).toMatchObject({ left: 0, level: 0, endsOn: '2026-11-25' });
  });

  it('does not count a use that was cancelled', () => {
    const used = usage('09:00', 'theatre-1', 'bain-1');
    const one = item('ward-e-1', [
      reading('07:00', 'ward-e-1', { psi: 1900 }),
      used,
      correct('10:00', used.id),
    ]);
    expect(one.left).toBeCloseTo(FULL_L, 9);
    expect(one.perDay).toBeNull();
  });

  it('says that it is out of service', () => {
    expect(item('ward-e-1', [withdraw('09:00', 'ward-e-1')]).outOfService).toBe(true);
  });
});

describe('stock of the rest', () => {
  it('a pipeline has no figure for what is left', () => {
    expect(item('wall', [usage('09:00', 'dental', 'y-piece-1')])).toMatchObject({
      level: null,
      left: null,
      missing: null,
    });
  });

  it('absorbent counts hours on circles since its change', () => {
    const one = item('theatre-1-absorber', [
      signOff('07:00', 'theatre-1-absorber', 'absorbent-change'),
      usage('09:00', 'theatre-1', 'y-piece-1', { minutes: 120 }),
      usage('12:00', 'theatre-1', 'bain-1', { minutes: 120 }),
    ]);
    expect(one).toMatchObject({ left: 6, full: 8, unit: 'h' });
  });

  it('absorbent whose change was never entered is not known, however little use is', () => {
    const one = item('theatre-1-absorber', [usage('09:00', 'theatre-1', 'y-piece-1', { minutes: 10 })]);
    expect(one).toMatchObject({
      level: null,
      missing: 'holdfast sign-off theatre-1-absorber absorbent-change',
    });
  });

  it('a canister shows the limit that is nearer its end', () => {
    const fresh = reading('07:00', 'theatre-1-charcoal', { g: 800, new: true });
    const long = usage('09:00', 'theatre-1', 'bain-1', {
      minutes: 540,
      agent: 'isoflurane',
      setting_percent: 0,
    });
    expect(item('theatre-1-charcoal', [fresh, long])).toMatchObject({ unit: 'h', left: 3 });
    const heavy = reading('20:00', 'theatre-1-charcoal', { g: 845 });
    expect(item('theatre-1-charcoal', [fresh, heavy])).toMatchObject({ unit: 'g', left: 5, full: 50 });
  });

  it('a canister is not known where one of its limits is not, and empty where one is reached for certain', () => {
    const id = 'theatre-1-charcoal';
    const fresh = reading('07:00', id, { g: 800, new: true });
    const unsaid = usage('09:00', 'theatre-1', 'bain-1', { minutes: 180 });
    expect(item(id, [fresh, unsaid])).toMatchObject({
      level: null,
      left: null,
      endsOn: null,
      missing: `holdfast reading ${id} GRAMS (1 case since it was last weighed does not say agent and setting)`,
    });
    const spent = usage('13:00', 'theatre-1', 'bain-1', {
      minutes: 400,
      flow_ml_min: 1000,
      agent: 'isoflurane',
      setting_percent: 2,
    });
    expect(item(id, [fresh, unsaid, spent])).toMatchObject({ unit: 'g', left: 0, level: 0, missing: null });
    const long = usage('13:00', 'theatre-1', 'bain-1', { minutes: 720 });
    expect(item(id, [fresh, unsaid, long])).toMatchObject({ unit: 'h', left: 0, level: 0, missing: null });
    expect(item(id, [fresh, reading('10:00', id, { g: 700 })]).missing).toContain('lighter (700 g)');
  });

  it('a canister for which the inventory gives no limit says so', () => {
    const scavenging = larkhill();
    const bare = {
      ...scavenging,
      checks: [],
      machines: scavenging.machines.map(machine =>
        machine.scavenging === null
          ? machine
          : { ...machine, scavenging: { ...machine.scavenging, limitGainG: null } },
      ),
    };
    const { items } = stockOf(bare, [], '2026-11-25', 'read');
    expect(items.find(({ asset }) => asset === 'theatre-1-charcoal')).toMatchObject({
      level: null,
      missing: 'limit_gain_g of theatre-1-charcoal in the inventory',
    });
  });

  it('a canister that was never weighed fresh is not known', () => {
    expect(item('theatre-1-charcoal', []).missing).toBe('holdfast reading theatre-1-charcoal GRAMS --new');
  });
});

describe('the days of the mean', () => {
  const cylinder = (first: string) =>
    item('ward-e-1', [
      reading('2026-09-01', 'ward-e-1', { psi: 1900 }),
      usage(`${first}T09:00:00+00:00`, 'theatre-1', 'bain-1'),
      usage('2026-11-25T09:00:00+00:00', 'theatre-1', 'bain-1'),
    ]).perDayDays;

  it('are those since the first use, at least 7 and at most 28', () => {
    expect(cylinder('2026-11-24')).toBe(7);
    expect(cylinder('2026-11-18')).toBe(8);
    expect(cylinder('2026-11-06')).toBe(20);
    expect(cylinder('2026-10-29')).toBe(28);
    expect(cylinder('2026-10-01')).toBe(28);
    expect(item('ward-e-1', []).perDayDays).toBeNull();
  });
});

describe('a damaged record', () => {
  it('leaves no level known', () => {
    const entries = [reading('07:00', 'ward-e-1', { psi: 1900 }), usage('09:00', 'theatre-1', 'bain-1')];
    const { record, items } = stockOf(inventory, entries, '2026-11-25', 'damaged');
    expect(record).toBe('damaged');
    for (const { what, level, left, perDay, endsOn, missing } of items) {
      expect({ level, left, perDay, endsOn }).toEqual({
        level: null,
        left: null,
        perDay: null,
        endsOn: null,
      });
      expect(missing).toBe(what === 'oxygen pipeline' ? null : 'holdfast record verify');
    }
  });
});

describe('laws', () => {
  it('more use never leaves more, and the level stays between nothing and full', () => {
    const property = fc.property(
      fc.integer({ min: 0, max: 1900 }),
      fc.array(fc.integer({ min: 1, max: 300 }), { maxLength: 6 }),
      (psi, minutes) => {
        const entries: Entry[] = [reading('06:00', 'ward-e-1', { psi })];
        let before = item('ward-e-1', entries).left ?? Number.NaN;
        for (const [i, one] of minutes.entries()) {
          entries.push(
            usage(`${String(7 + i).padStart(2, '0')}:00`, 'theatre-1', 'bain-1', { minutes: one }),
          );
          const { left, level } = item('ward-e-1', entries);
          expect(left).toBeLessThanOrEqual(before);
          expect(level).toBeGreaterThanOrEqual(0);
          expect(level).toBeLessThanOrEqual(1);
          before = left ?? Number.NaN;
        }
      },
    );
    fc.assert(property);
  });
});
