/** Charcoal canisters beside published figures. */
import { describe, it } from 'vitest';
import { liquidG } from '../../src/inventory/agent-properties.ts';
import { liquidMlPerHour } from '../../src/plan/supplies/agent.ts';
import { charcoalHours } from '../../src/plan/supplies/charcoal.ts';
import { fraction, grams, ml, mlPerMin } from '../../src/quantity/units.ts';
import { larkhill } from '../record/entries.ts';
import { check } from './check.ts';

const POLICIES = 'University at Buffalo; UConn';

describe('charcoal', () => {
  const perHour = liquidG('isoflurane', ml(liquidMlPerHour('isoflurane', mlPerMin(1000), fraction(0.02))));

  it('C1: isoflurane 2 % at 1 L/min, all caught, is 9.21 g/h, and 50 g after 5.4 h', () => {
    check({
      id: 'C1',
      figure: 'isoflurane 2 % at 1 L/min, all caught, g/h',
      ours: perHour,
      theirs: 9.21,
      tolerance: 0.005,
      source: 'worked example, arithmetic',
      how: 'exact',
    });
    check({
      id: 'C1',
      figure: 'the same, 50 g after, h',
      ours: charcoalHours(grams(50), grams(0), perHour) ?? Number.NaN,
      theirs: 5.4,
      tolerance: 0.05,
      source: 'worked example, arithmetic',
      how: 'exact',
    });
  });

  it('C1: changed at 50 g or 12 h, whichever comes first; breakthrough was seen before 50 g', () => {
    const [change] = larkhill().checks.filter(({ id }) => id === 'canister-change');
    const row = { id: 'C1', source: POLICIES, how: 'seen' as const };
    check({
      ...row,
      figure: 'limit of the made-up practice, g',
      ours: change?.after.gainG ?? Number.NaN,
      theirs: 50,
    });
    check({
      ...row,
      figure: 'and hours in use, h',
      ours: change?.after.hoursInUse ?? Number.NaN,
      theirs: 12,
    });
    // Smith & Bolon 2003 saw breakthrough before 50 g: it is a most, not a promise, and nothing here promises it.
  });
});
