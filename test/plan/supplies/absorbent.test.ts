import { describe, expect, it } from 'vitest';
import type { CheckTrouble } from '../../../src/plan/request.ts';
import { co2Made } from '../../../src/plan/supplies/metabolism.ts';
import { kg, minutes } from '../../../src/quantity/units.ts';
import { larkhill, signOff, usage } from '../../record/entries.ts';
import { equipmentOf, messages, plan, supplies, withMachine } from './case.ts';

const inventory = larkhill();
const changed = signOff('06:00', 'theatre-1-absorber', 'absorbent-change');
const used = (hours: number) => usage('07:00', 'theatre-1', 'y-piece-1', { minutes: hours * 60 });
/** 1200 g at 12 L per 100 g, for 10 kg. */
const CAPACITY_H = 144_000 / co2Made(kg(10)) / 60;

describe('absorbent of a plan', () => {
  it('gives both limits, and only the earlier as the limit', () => {
    const { absorbent } = supplies(inventory, [changed, used(1.5)]);
    expect(absorbent).toMatchObject({
      hoursUsed: 1.5,
      hoursLeftByRule: 6.5,
      limit: { by: 'rule', hoursLeft: 6.5 },
    });
    expect(absorbent?.hoursLeftByCapacity).toBeCloseTo(CAPACITY_H - 1.5, 9);
    expect(CAPACITY_H).toBeGreaterThan(40);
  });

  it('takes the capacity as the limit where it is the earlier', () => {
    // 60 kg make 213 mL/min of carbon dioxide: 200 g last 1.9 h.
    const [theatre] = inventory.machines;
    if (theatre?.absorber == null) throw new Error('theatre-1 has an absorber');
    const small = withMachine(inventory, 'theatre-1', {
      absorber: { ...theatre.absorber, absorbentG: 200 as typeof theatre.absorber.absorbentG },
    });
    const { absorbent } = supplies(small, [changed], { weightKg: kg(60) });
    expect(absorbent?.limit?.by).toBe('capacity');
    expect(absorbent?.limit?.hoursLeft).toBeCloseTo(24_000 / co2Made(kg(60)) / 60, 9);
  });

  it('is due when the case would outlast it, and not when it ends with it', () => {
    const at = (hours: number, min: number) =>
      messages(plan(inventory, [changed, used(hours)], { minutes: minutes(min) }), 'absorbent_due');
    expect(at(7, 60)).toEqual([]);
    expect(at(7, 61)).toEqual(['theatre-1-absorber has 1 h left: 7 h used of 8 h (absorbent-change)']);
  });

  it('is due at the limit even without a length, and never has less than 0 h left', () => {
    const made = plan(inventory, [changed, used(9)]);
    expect(made.supplies?.absorbent).toMatchObject({ hoursLeftByRule: 0 });
    expect(messages(made, 'absorbent_due')).toHaveLength(1);
    expect(messages(plan(inventory, [changed, used(7.9)]), 'absorbent_due')).toEqual([]);
  });

  it('is due where its check is overdue by the calendar, whatever the hours say', () => {
    const trouble: CheckTrouble = {
      asset: 'theatre-1-absorber',
      check: 'absorbent-change',
      state: 'overdue',
      blocks: false,
      words: 'due since 24 Nov 2026',
    };
    const equipment = {
      ...equipmentOf(inventory, [changed]),
      checks: (assets: readonly string[]) => (assets.includes(trouble.asset) ? [trouble] : []),
    };
    expect(messages(plan(inventory, equipment), 'absorbent_due')).toEqual([
      'absorbent-change of theatre-1-absorber: due since 24 Nov 2026',
    ]);
    // A check that blocks has a stop of its own, and says it once.
    const blocking = { ...equipment, checks: () => [{ ...trouble, blocks: true }] };
    const blocked = plan(inventory, blocking);
    expect(messages(blocked, 'absorbent_due')).toEqual([]);
    expect(messages(blocked, 'check_blocks')).toHaveLength(1);
  });

  it('is not worn by a Bain, which has none', () => {
    expect(supplies(inventory, [changed], { weightKg: kg(6.8) }).absorbent).toBeNull();
  });

  it('says what is missing: when it was changed, the absorber, or a check by hours', () => {
    const never = supplies(inventory, []).absorbent;
    expect(never?.since?.by).toBe('in_service');
    expect(never?.missing.map(({ add }) => add)).toEqual([
      'holdfast sign-off theatre-1-absorber absorbent-change',
    ]);
    const none = supplies(withMachine(inventory, 'theatre-1', { absorber: null }), []).absorbent;
    expect(none).toMatchObject({ absorber: null, limit: null });
    expect(none?.missing[0]).toMatchObject({
      in: 'inventory',
      path: '/machines/0/absorber',
      line: inventory.placeOf('/machines/0/absorber').line,
    });
    const damaged = { ...equipmentOf(inventory, [changed]), record: 'damaged' as const };
    expect(supplies(inventory, damaged).absorbent).toMatchObject({ hoursUsed: null, limit: null });
  });

  it('says nothing of what is left while the change was never signed off: the record may not know of all its use', () => {
    const { absorbent } = supplies(inventory, [used(2)]);
    expect(absorbent).toMatchObject({
      hoursUsed: 2,
      hoursLeftByRule: null,
      hoursLeftByCapacity: null,
      limit: null,
    });
    expect(absorbent?.hoursWhenFresh).toBeCloseTo(CAPACITY_H, 9);
    // What is known is enough where it has reached the limit by itself.
    const worn = plan(inventory, [used(8)]);
    expect(worn.supplies?.absorbent).toMatchObject({
      hoursLeftByRule: 0,
      limit: { by: 'rule', hoursLeft: 0 },
    });
    expect(messages(worn, 'absorbent_due')).toHaveLength(1);
  });

  it('names the check by hours where the practice has none', () => {
    const unchecked = {
      ...inventory,
      checks: inventory.checks.filter(({ id }) => id !== 'absorbent-change'),
    };
    expect(supplies(unchecked, [used(2)]).absorbent).toMatchObject({
      hoursUsed: 2,
      limit: null,
      missing: [{ add: 'a check by hours_in_use', line: inventory.placeOf('/checks').line }],
    });
  });
});
