/** judgeHold against the table written a second time, as a list of plain conditions. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cmH2O, mlPerMin, seconds } from '../../src/quantity/units.ts';
import { type HoldMark, type HoldSeen, judgeHold } from '../../src/record/judge.ts';

// Whole numbers around the marks: every edge comes up often.
const pressures = fc.integer({ min: 26, max: 63 }).map(cmH2O);
const times = fc.integer({ min: 1, max: 20 }).map(seconds);
const flows = fc.integer({ min: 190, max: 210 }).map(mlPerMin);

const seen: fc.Arbitrary<HoldSeen> = fc
  .record({
    how: fc.constantFrom('fall', 'taut', 'makeUp', 'both'),
    from: pressures,
    to: pressures,
    isSame: fc.boolean(),
    time: times,
    steady: fc.boolean(),
    flow: flows,
    at: pressures,
    popOff: fc.constantFrom('open', 'open', 'shut', 'stuck', undefined),
  })
  .map(({ how, from, to, isSame, time, steady, flow, at, popOff }) => ({
    ...(how === 'fall' || how === 'both'
      ? { fall: { fromCmH2O: from, toCmH2O: isSame ? from : to, seconds: time } }
      : {}),
    ...(how === 'taut' ? { taut: { steady, seconds: time } } : {}),
    ...(how === 'makeUp' || how === 'both' ? { makeUp: { flowMlPerMin: flow, atCmH2O: at } } : {}),
    popOff: popOff as HoldSeen['popOff'],
  }));

const marks: fc.Arbitrary<HoldMark> = fc
  .record({ drop: fc.integer({ min: 0, max: 2 }), gauge: fc.boolean() })
  .map(({ drop, gauge }) => ({
    pressureCmH2O: cmH2O(30),
    seconds: seconds(10),
    dropCmH2O: cmH2O(drop),
    makeUpMlPerMin: mlPerMin(200),
    gauge,
  }));

function byTable({ fall, taut, makeUp, popOff }: HoldSeen, mark: HoldMark): string {
  const drop = fall === undefined ? 0 : fall.fromCmH2O - fall.toCmH2O;
  const table: readonly [string, boolean][] = [
    ['refused', (fall?.fromCmH2O ?? 0) > 60 || (fall?.toCmH2O ?? 0) > 60 || (makeUp?.atCmH2O ?? 0) > 60],
    ['refused', drop < 0],
    ['refused', !mark.gauge && (fall !== undefined || makeUp !== undefined)],
    ['refused', makeUp !== undefined && makeUp.atCmH2O < 30],
    ['refused', popOff === undefined],
    ['fail pressure_not_reached', fall !== undefined && fall.fromCmH2O < 30],
    ['fail make_up_above', makeUp !== undefined && makeUp.flowMlPerMin > 200],
    ['fail fell', makeUp === undefined && drop > mark.dropCmH2O],
    ['fail went_slack', taut?.steady === false],
    ['fail pop_off_stuck', popOff === 'stuck'],
    ['refused', makeUp === undefined && (fall?.seconds ?? taut?.seconds ?? 0) < 10],
    ['pass make_up_within', makeUp !== undefined],
    ['pass held', true],
  ];
  return table.find(([, applies]) => applies)?.[0] ?? '';
}

describe('the judgement', () => {
  it('follows the table in its order', () => {
    const seenOutcomes = new Map<string, number>();
    fc.assert(
      fc.property(seen, marks, (what, mark) => {
        const judgement = judgeHold(what, mark);
        const outcome =
          judgement.outcome === 'refused' ? 'refused' : `${judgement.outcome} ${judgement.reason}`;
        expect(outcome).toBe(byTable(what, mark));
        if (judgement.outcome !== 'refused') expect(judgement.because).not.toBe('');
        else expect(judgement.problems.length).toBeGreaterThan(0);
        seenOutcomes.set(outcome, (seenOutcomes.get(outcome) ?? 0) + 1);
      }),
      { numRuns: 20_000 },
    );
    // Every row came up, or the comparison would say little.
    expect(seenOutcomes.size).toBe(8);
    expect(Math.min(...seenOutcomes.values())).toBeGreaterThan(20);
  });
});
