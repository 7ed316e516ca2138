/** Plan, stock and due on one canister, whatever was entered: they may not contradict each other. */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { minutes, percent } from '../../src/quantity/units.ts';
import { stockOf } from '../../src/stock/stock.ts';
import { itemOf } from '../due/helpers.ts';
import { supplies } from '../plan/supplies/case.ts';
import { larkhill, reading, signOff, usage } from '../record/entries.ts';

const ID = 'theatre-1-charcoal';
const TODAY = '2026-11-25';
const inventory = larkhill();

type Make = (time: string) => Entry;

const weighing: fc.Arbitrary<Make> = fc
  .record({ g: fc.constantFrom(700, 800, 812, 849, 850, 870), isNew: fc.boolean() })
  .map(
    ({ g, isNew }) =>
      time =>
        reading(time, ID, { g, new: isNew }),
  );
const use: fc.Arbitrary<Make> = fc
  .record({ length: fc.constantFrom(30, 240, 480), isSaid: fc.boolean() })
  .map(
    ({ length, isSaid }) =>
      time =>
        usage(time, 'theatre-1', 'bain-1', {
          minutes: length,
          ...(isSaid ? { agent: 'isoflurane', setting_percent: 2 } : {}),
        }),
  );
const change: fc.Arbitrary<Make> = fc.constant(time => signOff(time, ID, 'canister-change'));

const history = fc
  .array(fc.oneof(weighing, use, change), { maxLength: 8 })
  .map(makes => makes.map((make, i) => make(`${String(6 + i).padStart(2, '0')}:00`)));

describe('plan, stock and due', () => {
  it('say alike whether a canister is used up, and whether what is left of it is known', () => {
    const seen = { spent: 0, known: 0, unknown: 0 };
    fc.assert(
      fc.property(history, entries => {
        const stock = stockOf(inventory, entries, TODAY, 'read').items.find(({ asset }) => asset === ID);
        const { charcoal } = supplies(inventory, entries, {
          agent: 'isoflurane',
          settingPercent: percent(2),
          minutes: minutes(1),
        });
        const due = itemOf(ID, 'canister-change', entries, { inventory });
        const isSpent = stock?.level === 0;
        expect(charcoal?.hoursLeft === 0).toBe(isSpent);
        expect(due.limit === 'gain_g' || due.limit === 'hours_in_use').toBe(isSpent);
        const isKnown = stock?.missing === null;
        expect(charcoal?.hoursLeft !== null).toBe(isKnown);
        if (!isSpent) expect(!due.isUseUnknown).toBe(isKnown);
        seen[isSpent ? 'spent' : isKnown ? 'known' : 'unknown'] += 1;
      }),
    );
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(0);
  });
});
