/** Dead space and the flow for breathing, beside published figures. */
import { describe, it } from 'vitest';
import { kg, ml } from '../../src/quantity/units.ts';
import { supplies } from '../plan/supplies/case.ts';
import { larkhill } from '../record/entries.ts';
import { check } from './check.ts';

const inventory = larkhill();

describe('dead space', () => {
  it('D1: at most about 20 % of the tidal volume', () => {
    check({
      id: 'D1',
      figure: 'limit, share of a breath',
      ours: inventory.rules.deadSpaceFraction.value,
      theirs: 0.2,
      source: 'AAHA Anesthesia and Monitoring Guidelines, JAAHA 2020;56:59-82',
      how: 'memory',
    });
  });

  it('D1: at the low end of the tidal volume: a Bain of 6 mL and 6 mL of adapters are a fifth at 6 kg', () => {
    check({
      id: 'D1',
      figure: '12 mL at 6 kg and 10 mL/kg, share of a breath',
      ours: supplies(inventory, [], { weightKg: kg(6), adapterMl: ml(6) }).deadSpace.fraction ?? Number.NaN,
      theirs: 0.2,
      source: 'worked example, arithmetic',
      how: 'exact',
    });
  });
});

describe('flow for breathing', () => {
  it('F8: 2 to 3 times the minute volume on a Mapleson D or F; flow by weight can be less', () => {
    const multiple = (breathsPerMin: number) =>
      supplies(inventory, [], { weightKg: kg(6), breathsPerMin }).breathing.flowOverMinuteVolume ??
      Number.NaN;
    const row = {
      id: 'F8',
      theirs: [2, 3] as const,
      source: 'theory and teaching texts, spontaneous breathing',
      how: 'seen' as const,
    };
    check({ ...row, figure: 'set flow at 6 kg and 10 breaths, in minute volumes', ours: multiple(10) });
    check({
      ...row,
      figure: 'set flow at 6 kg and 20 breaths, in minute volumes',
      ours: multiple(20),
      misfit: 'flow by weight knows nothing of the breaths; a plan with --breaths notes it',
    });
  });
});
