/** What the fast reader keeps of uses and weighings, and when it lets go of them: what keeps its memory flat. */
import { describe, expect, it } from 'vitest';
import { AGENTS, LineFacts } from '../../src/record/scan/facts.ts';
import { Names } from '../../src/record/scan/names.ts';
import { Newest } from '../../src/record/scan/newest.ts';
import { Wear } from '../../src/record/scan/wear.ts';
import { scanInventory } from './scan-kit.ts';

const inventory = scanInventory();

interface Given {
  readonly pruneAt?: number;
  readonly areCancelledKnown?: boolean;
  /** When a check of an asset was passed: 'theatre-1 machine-service' → [1, 2]. */
  readonly passes?: Readonly<Record<string, readonly number[]>>;
}

class TestWear {
  readonly assets = new Names(inventory.assets.keys());
  readonly checks = new Names(inventory.checks.map(({ id }) => id));
  readonly wear: Wear;

  constructor({ pruneAt = 100, areCancelledKnown = true, passes = {} }: Given = {}) {
    this.wear = new Wear(inventory, {
      words: { assets: this.assets, checks: this.checks },
      areCancelledKnown,
      pruneAt,
      passes: (asset, check) => {
        const given = passes[`${this.assets.texts[asset]} ${this.checks.texts[check]}`];
        if (given === undefined) return undefined;
        const newest = new Newest();
        for (const on of given) newest.offer({ on, at: 0, place: 0, date: 0 });
        return newest;
      },
    });
  }

  use(on: number, machine: string, circuit: string, agent: (typeof AGENTS)[number] | null = 'isoflurane') {
    const [asset, other] = [this.assets.indexOf(machine), this.assets.indexOf(circuit)];
    const number = agent === null ? 0 : AGENTS.indexOf(agent) + 1;
    this.wear.takeUse(Object.assign(new LineFacts(), { on, asset, other, agent: number }));
  }

  read(on: number, id: string, more: { isNew?: boolean; g?: number } = {}) {
    const given = { isNew: false, g: Number.NaN, ...more };
    this.wear.takeReading(Object.assign(new LineFacts(), { on, asset: this.assets.indexOf(id), ...given }));
  }

  counted(id: string) {
    return this.wear.counted.get(this.assets.indexOf(id)) ?? expect.fail(`${id} is not counted`);
  }

  /** When the readings that are kept of an asset were taken. */
  readings(id: string): number[] {
    return this.counted(id).readings.map(({ on }) => on);
  }

  /** When the uses that are kept were, and what each wore. */
  uses(): (readonly [number, ...string[]])[] {
    const { uses, groups } = this.wear;
    return Array.from({ length: uses.count }, (_, i) => {
      const { on, wearers } = uses.use(i);
      return [on, ...(groups[wearers] ?? []).map(({ asset }) => this.assets.texts[asset] ?? '')];
    });
  }
}

describe('Wear', () => {
  it('counts the assets that have a check on hours in use or on grams gained', () => {
    const { wear, assets, checks } = new TestWear();
    const counted = [...wear.counted.values()].map(({ asset, hourChecks, hasGainCheck }) => [
      assets.texts[asset],
      hourChecks.map(check => checks.texts[check]),
      hasGainCheck,
    ]);
    expect(counted).toEqual([
      ['theatre-1', ['machine-service'], false],
      ['theatre-1-absorber', ['absorbent-change'], false],
      ['theatre-1-iso', ['vaporizer-hours'], false],
      ['theatre-1-charcoal', ['canister-change'], true],
    ]);
  });

  it('keeps what marks an asset as new, and the weighings of what is to be weighed', () => {
    const record = new TestWear();
    record.read(1, 'theatre-1-absorber');
    record.read(2, 'theatre-1-absorber', { g: 1200 });
    record.read(3, 'theatre-1-absorber', { isNew: true });
    record.read(4, 'theatre-1-charcoal');
    record.read(5, 'theatre-1-charcoal', { g: 812 });
    record.read(6, 'theatre-1-charcoal', { isNew: true });
    record.read(7, 'theatre-1-charcoal', { isNew: true, g: 801 });
    record.read(8, 'ward-e-1', { isNew: true });
    expect(record.readings('theatre-1-absorber')).toEqual([3]);
    expect(record.readings('theatre-1-charcoal')).toEqual([5, 6, 7]);
    const newest = ({ count, key }: Pick<Newest, 'count' | 'key'>, of: Newest) => [count, key.call(of, 0).on];
    const of = (id: string) => {
      const { fresh, freshWeighed } = record.counted(id);
      return { fresh: newest(fresh, fresh), freshWeighed: newest(freshWeighed, freshWeighed) };
    };
    expect(of('theatre-1-absorber')).toEqual({
      fresh: [1, 3],
      freshWeighed: [0, Number.NEGATIVE_INFINITY],
    });
    expect(of('theatre-1-charcoal')).toEqual({ fresh: [2, 7], freshWeighed: [1, 7] });
    expect(record.counted('theatre-1-charcoal').readings.map(({ g }) => g)).toEqual([812, null, 801]);
  });

  it('lets go of readings before the last renewal but one, as the last may yet be cancelled', () => {
    const record = new TestWear({ pruneAt: 4, areCancelledKnown: false });
    const charcoal = 'theatre-1-charcoal';
    for (const on of [1, 2, 3]) record.read(on, charcoal, { isNew: true, g: 800 });
    expect(record.readings(charcoal)).toEqual([1, 2, 3]);
    record.read(4, charcoal, { isNew: true, g: 800 });
    expect(record.readings(charcoal)).toEqual([3, 4]);
    for (const on of [5, 6]) record.read(on, charcoal, { g: 810 });
    expect(record.readings(charcoal)).toEqual([3, 4, 5, 6]);
    // Four were left, so that it is looked again at eight.
    for (const on of [7, 8, 9]) record.read(on, charcoal, { isNew: true, g: 800 });
    expect(record.readings(charcoal)).toEqual([3, 4, 5, 6, 7, 8, 9]);
    record.read(10, charcoal, { isNew: true, g: 800 });
    expect(record.readings(charcoal)).toEqual([9, 10]);
  });

  it('lets go of readings before the last renewal where all that is cancelled is known', () => {
    const record = new TestWear({ pruneAt: 4 });
    for (const on of [1, 2, 3, 4]) record.read(on, 'theatre-1-charcoal', { isNew: true, g: 800 });
    expect(record.readings('theatre-1-charcoal')).toEqual([4]);
  });

  it('holds on to the last weighing as new, where hours are counted from a later day', () => {
    const record = new TestWear({ pruneAt: 4, passes: { 'theatre-1-charcoal canister-change': [9] } });
    record.read(1, 'theatre-1-charcoal', { isNew: true });
    for (const on of [2, 3]) record.read(on, 'theatre-1-charcoal', { isNew: true, g: 800 });
    record.read(4, 'theatre-1-charcoal', { isNew: true });
    expect(record.readings('theatre-1-charcoal')).toEqual([3, 4]);
    record.read(5, 'theatre-1-charcoal', { isNew: true });
    record.read(6, 'theatre-1-charcoal', { isNew: true });
    expect(record.readings('theatre-1-charcoal')).toEqual([3, 4, 5, 6]);
  });

  it('keeps a use for what it wears: the circle alone the absorbent, the agent alone its vaporizer', () => {
    const record = new TestWear();
    record.use(1, 'theatre-1', 'y-piece-1');
    record.use(2, 'theatre-1', 'bain-1');
    record.use(3, 'theatre-1', 'y-piece-1', 'sevoflurane');
    record.use(4, 'theatre-1', 'y-piece-1', null);
    record.use(5, 'theatre-1', 'gone-1');
    expect(record.uses()).toEqual([
      [1, 'theatre-1', 'theatre-1-absorber', 'theatre-1-iso', 'theatre-1-charcoal'],
      [2, 'theatre-1', 'theatre-1-iso', 'theatre-1-charcoal'],
      [3, 'theatre-1', 'theatre-1-absorber', 'theatre-1-charcoal'],
      [4, 'theatre-1', 'theatre-1-absorber', 'theatre-1-iso', 'theatre-1-charcoal'],
      // It may have been a circle.
      [5, 'theatre-1', 'theatre-1-absorber', 'theatre-1-iso', 'theatre-1-charcoal'],
    ]);
  });

  it('makes one group of what the same three wear, and one of all that wears nothing', () => {
    const record = new TestWear();
    for (const on of [1, 2]) record.use(on, 'theatre-1', 'y-piece-1');
    expect(record.wear.groups).toHaveLength(1);
    for (const on of [3, 4]) record.use(on, 'gone-2', 'bain-1');
    record.use(5, 'gone-2', 'y-piece-1');
    record.use(6, 'gone-1', 'y-piece-1', null);
    expect(record.wear.groups).toHaveLength(2);
    expect(record.wear.groups[1]).toEqual([]);
    record.use(7, 'theatre-1', 'bain-1');
    expect(record.wear.groups).toHaveLength(3);
    expect(record.uses().map(([on]) => on)).toEqual([1, 2, 7]);
  });

  const passes = {
    'theatre-1 machine-service': [6],
    'theatre-1-absorber absorbent-change': [5],
    'theatre-1-iso vaporizer-hours': [7],
    'theatre-1-charcoal canister-change': [9],
  };
  const usesAt = (record: TestWear, ...ons: number[]) => {
    for (const on of ons) record.use(on, 'theatre-1', 'y-piece-1');
    return record.uses().map(([on]) => on);
  };

  it('lets go of uses before the earliest renewal of all that they wore', () => {
    const record = new TestWear({ pruneAt: 4, passes });
    record.read(8, 'theatre-1-charcoal', { isNew: true, g: 800 });
    expect(usesAt(record, 1, 4, 5)).toEqual([1, 4, 5]);
    expect(usesAt(record, 10)).toEqual([5, 10]);
    const other = new TestWear({ pruneAt: 4, passes });
    other.read(8, 'theatre-1-charcoal', { isNew: true, g: 800 });
    // Without the absorber the machine's own service is the earliest.
    for (const on of [1, 5, 6, 10]) other.use(on, 'theatre-1', 'bain-1');
    expect(other.uses().map(([on]) => on)).toEqual([6, 10]);
  });

  it('keeps every use where one of them was never renewed, or its canister never weighed as new', () => {
    const { 'theatre-1 machine-service': _, ...others } = passes;
    const record = new TestWear({ pruneAt: 4, passes: others });
    record.read(8, 'theatre-1-charcoal', { isNew: true, g: 800 });
    expect(usesAt(record, 1, 4, 5, 10)).toEqual([1, 4, 5, 10]);
    const unweighed = new TestWear({ pruneAt: 4, passes });
    unweighed.read(8, 'theatre-1-charcoal', { isNew: true });
    expect(usesAt(unweighed, 1, 4, 5, 10)).toEqual([1, 4, 5, 10]);
  });
});
