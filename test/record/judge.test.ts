import { describe, expect, it } from 'vitest';
import { cmH2O, minutes, mlPerMin, psi, seconds } from '../../src/quantity/units.ts';
import { type HoldMark, type HoldSeen, judgeHold } from '../../src/record/judge.ts';
import { judgeSupplyHold } from '../../src/record/judge-supply.ts';
import { larkhill } from './entries.ts';

const MARK: HoldMark = {
  pressureCmH2O: cmH2O(30),
  seconds: seconds(10),
  dropCmH2O: cmH2O(0),
  makeUpMlPerMin: mlPerMin(200),
  gauge: true,
};
const NO_GAUGE: HoldMark = {
  ...MARK,
  pressureCmH2O: cmH2O(20),
  seconds: seconds(30),
  makeUpMlPerMin: mlPerMin(150),
  gauge: false,
};

const fall = (from: number, to: number, s: number) => ({
  fall: { fromCmH2O: cmH2O(from), toCmH2O: cmH2O(to), seconds: seconds(s) },
});
const makeUp = (flow: number, at: number) => ({
  makeUp: { flowMlPerMin: mlPerMin(flow), atCmH2O: cmH2O(at) },
});
const taut = (steady: boolean, s: number) => ({ taut: { steady, seconds: seconds(s) } });

/** The outcome with its reason or its codes, as one line. */
function judged(
  seen: Omit<HoldSeen, 'popOff'>,
  mark: HoldMark = MARK,
  popOff: HoldSeen['popOff'] | null = 'open',
): string {
  const judgement = judgeHold({ ...seen, popOff: popOff ?? undefined }, mark);
  return judgement.outcome === 'refused'
    ? `refused: ${judgement.problems.map(({ code }) => code).join(', ')}`
    : `${judgement.outcome}: ${judgement.reason}`;
}

describe('judgeHold', () => {
  it.each<[string, string]>([
    ['a reading above 60 cmH2O', judged(fall(60.1, 60, 10))],
    ['a make-up pressure above 60 cmH2O', judged(makeUp(100, 61))],
  ])('refuses %s', (_, outcome) => {
    expect(outcome).toBe('refused: hold_pressure_too_high');
  });

  it('takes 60 cmH2O itself', () => {
    expect(judged(fall(60, 60, 10))).toBe('pass: held');
  });

  it('refuses a pressure that rose', () => {
    expect(judged(fall(30, 31, 10))).toBe('refused: hold_pressure_rose');
  });

  it('refuses a gauge reading, also with a make-up flow, for a pair without a gauge', () => {
    expect(judged(fall(20, 20, 10), NO_GAUGE)).toBe('refused: hold_without_gauge');
    expect(judged(makeUp(100, 20), NO_GAUGE)).toBe('refused: hold_without_gauge');
  });

  it('refuses a make-up flow at less than the pressure of the rule', () => {
    expect(judged(makeUp(100, 29.9))).toBe('refused: make_up_pressure_low');
    expect(judged(makeUp(100, 30))).toBe('pass: make_up_within');
  });

  it('refuses silence about the pop-off', () => {
    expect(judged(fall(30, 30, 10), MARK, null)).toBe('refused: pop_off_unanswered');
  });

  it('names all that keeps it from judging', () => {
    expect(judged(fall(61, 62, 10), NO_GAUGE, null)).toBe(
      'refused: hold_pressure_too_high, hold_pressure_rose, hold_without_gauge, pop_off_unanswered',
    );
  });

  it('fails where the pressure could not be reached, before all else', () => {
    expect(judged(fall(29.9, 29.9, 10))).toBe('fail: pressure_not_reached');
    expect(judged({ ...fall(25, 25, 10), ...makeUp(500, 30) })).toBe('fail: pressure_not_reached');
    expect(judged(fall(12, 12, 2))).toBe('fail: pressure_not_reached');
  });

  it('lets the make-up flow decide, whatever the fall was', () => {
    expect(judged({ ...fall(30, 20, 10), ...makeUp(200, 30) })).toBe('pass: make_up_within');
    expect(judged({ ...fall(30, 20, 2), ...makeUp(150, 31) })).toBe('pass: make_up_within');
    expect(judged({ ...fall(30, 30, 10), ...makeUp(200.5, 30) })).toBe('fail: make_up_above');
    expect(judged(makeUp(0, 30))).toBe('pass: make_up_within');
  });

  it('fails a fall however short the time, and says that the make-up flow decides', () => {
    expect(judged(fall(30, 29.5, 1))).toBe('fail: fell');
    const judgement = judgeHold({ ...fall(30, 22, 10), popOff: 'open' }, MARK);
    expect(judgement).toMatchObject({
      because:
        'the pressure fell from 30 to 22 cmH2O in 10 s, and no fall passes; measure the make-up flow, it decides',
    });
  });

  it('allows the fall that the rule allows, to the last digit', () => {
    const mark = { ...MARK, dropCmH2O: cmH2O(0.1) };
    expect(judged(fall(30.1, 30, 10), mark)).toBe('pass: held');
    expect(judged(fall(30.2, 30, 10), mark)).toBe('fail: fell');
  });

  it('fails a bag that went slack, however soon', () => {
    expect(judged(taut(false, 2), NO_GAUGE)).toBe('fail: went_slack');
  });

  it('fails a stuck pop-off, also where the time was too short to pass', () => {
    expect(judged(fall(30, 30, 10), MARK, 'stuck')).toBe('fail: pop_off_stuck');
    expect(judged(fall(30, 30, 3), MARK, 'stuck')).toBe('fail: pop_off_stuck');
  });

  it('refuses a hold that is too short to pass', () => {
    expect(judged(fall(30, 30, 9.9))).toBe('refused: hold_too_short');
    expect(judged(taut(true, 29), NO_GAUGE)).toBe('refused: hold_too_short');
    expect(judged(taut(true, 30), NO_GAUGE)).toBe('pass: held');
  });

  it('passes otherwise, also with the pop-off left shut', () => {
    expect(judged(fall(30, 30, 10))).toBe('pass: held');
    expect(judged(fall(45, 45, 60))).toBe('pass: held');
    expect(judged(fall(30, 30, 10), MARK, 'shut')).toBe('pass: held');
    expect(judgeHold({ ...fall(30, 30, 10), popOff: 'open' }, MARK)).toMatchObject({
      because: '30 cmH2O held for 10 s with no fall',
    });
  });

  it('never prints a flow above the mark as the mark', () => {
    expect(judgeHold({ ...makeUp(200.2, 30), popOff: 'open' }, MARK)).toMatchObject({
      because: '200.2 mL/min were needed to keep 30 cmH2O, more than 200 mL/min',
    });
  });
});

describe('judgeSupplyHold', () => {
  const cylinder = larkhill().supplies.find(supply => supply.kind === 'cylinder');
  if (cylinder?.kind !== 'cylinder') throw new Error('Larkhill has a cylinder');
  const supply = (from: number, to: number, min: number) => {
    const judgement = judgeSupplyHold(
      { fromPsi: psi(from), toPsi: psi(to), minutes: minutes(min) },
      { fallPsi: psi(100), minutes: minutes(5) },
      cylinder,
    );
    return judgement.outcome === 'refused'
      ? judgement.problems.map(({ code }) => code).join(', ')
      : judgement.outcome;
  };

  it('passes below the mark over the whole time', () => {
    expect(supply(1500, 1401, 5)).toBe('pass');
    expect(supply(1500, 1500, 60)).toBe('pass');
  });

  it('fails at the mark and above, however short', () => {
    expect(supply(1500, 1400, 5)).toBe('fail');
    expect(supply(1500, 1300, 1)).toBe('fail');
  });

  it('refuses what shows nothing', () => {
    expect(supply(1500, 1480, 4)).toBe('hold_too_short');
    expect(supply(1500, 1510, 5)).toBe('hold_pressure_rose');
    expect(supply(90, 0, 5)).toBe('hold_supply_empty');
    expect(supply(2471, 2471, 5)).toBe('reading_out_of_range');
    expect(supply(2470, 2470, 5)).toBe('pass');
  });
});

describe('what is told of a judgement', () => {
  const told = (seen: Omit<HoldSeen, 'popOff'>, mark = MARK, popOff: HoldSeen['popOff'] = 'open') => {
    const judgement = judgeHold({ ...seen, popOff }, mark);
    return judgement.outcome === 'refused' ? null : judgement.because;
  };
  const refused = (seen: Omit<HoldSeen, 'popOff'>, mark = MARK, popOff: HoldSeen['popOff'] = 'open') => {
    const judgement = judgeHold({ ...seen, popOff }, mark);
    return judgement.outcome === 'refused'
      ? judgement.problems.map(({ code, message, remedy }) => ({ code, message, remedy }))
      : [];
  };

  it('of a pass', () => {
    const some = { ...MARK, dropCmH2O: cmH2O(2) };
    expect(told(fall(31.5, 30, 12.5), some)).toBe('31.5 cmH2O held for 12.5 s with a fall of 1.5 cmH2O');
    expect(told(taut(true, 45), NO_GAUGE)).toBe('the bag stayed taut for 45 s');
    expect(told(makeUp(150, 32))).toBe('150 mL/min kept 32 cmH2O');
    const high = { ...MARK, makeUpMlPerMin: mlPerMin(2000) };
    expect(told(makeUp(1000, 30), high)).toBe('1 L/min kept 30 cmH2O');
    expect(told(makeUp(999, 30), high)).toBe('999 mL/min kept 30 cmH2O');
    expect(told(makeUp(1234, 30), high)).toBe('1.234 L/min kept 30 cmH2O');
  });

  it('of a failure', () => {
    expect(told(fall(18, 10, 10))).toBe('the pressure could not be reached: 18 cmH2O of 30 cmH2O');
    expect(told(makeUp(1500, 30))).toBe('1.5 L/min were needed to keep 30 cmH2O, more than 200 mL/min');
    expect(told(fall(30, 25, 10), { ...MARK, dropCmH2O: cmH2O(2) })).toBe(
      'the pressure fell from 30 to 25 cmH2O in 10 s, and a fall of 2 cmH2O passes; measure the make-up flow, it decides',
    );
    expect(told(taut(false, 12), NO_GAUGE)).toBe('the bag went slack within 12 s');
    expect(told(fall(30, 30, 10), MARK, 'stuck')).toBe(
      'the pop-off was opened and the pressure did not fall',
    );
  });

  it('of a refusal, with what to do', () => {
    expect(refused(fall(61, 60, 10))).toEqual([
      {
        code: 'hold_pressure_too_high',
        message: '61 cmH2O is above 60 cmH2O, more than any circuit is held at',
        remedy: 'read the gauge again, and mind the unit: a bare number is cmH2O',
      },
    ]);
    expect(refused(fall(30, 31.5, 10))).toEqual([
      {
        code: 'hold_pressure_rose',
        message: 'the pressure rose from 30 cmH2O to 31.5 cmH2O',
        remedy: 'is the flow still on? Shut it and hold again',
      },
    ]);
    expect(refused(makeUp(100, 20), NO_GAUGE)).toEqual([
      {
        code: 'hold_without_gauge',
        message:
          "a gauge reading was given, and the inventory knows no gauge that shows this pair's pressure",
        remedy:
          'watch the taut bag: --steady or --slack with --seconds; or add pressure_gauge: true to the circuit',
      },
    ]);
    expect(refused(makeUp(100, 25))).toEqual([
      {
        code: 'make_up_pressure_low',
        message: 'the make-up flow was measured at 25 cmH2O, below the 30 cmH2O that the practice holds at',
        remedy: 'measure it at 30 cmH2O or above: a leak is less at less pressure',
      },
    ]);
    const silent = judgeHold({ ...fall(30, 30, 10), popOff: undefined }, MARK);
    expect(silent).toMatchObject({
      outcome: 'refused',
      problems: [
        {
          code: 'pop_off_unanswered',
          message: 'nothing is said of the pop-off',
          remedy:
            'open it with the end still blocked, see the pressure fall to zero, and add --pop-off open; or --pop-off shut, --pop-off stuck',
        },
      ],
    });
    expect(refused(fall(30, 30, 4))).toEqual([
      {
        code: 'hold_too_short',
        message: '4 s are too short to pass: this pair is watched for 10 s',
        remedy: 'hold again for 10 s or longer',
      },
    ]);
  });

  it('and a taut bag that is watched beside a gauge decides the time', () => {
    expect(refused({ ...fall(30, 30, 10), ...taut(true, 4) }).map(({ code }) => code)).toEqual([
      'hold_too_short',
    ]);
    expect(told({ ...fall(30, 30, 10), ...taut(true, 20) })).toBe('30 cmH2O held for 10 s with no fall');
    expect(told({ ...fall(30, 30, 10), ...taut(false, 20) })).toBe('the bag went slack within 20 s');
  });
});

describe('what is told of a high-pressure test', () => {
  const cylinder = larkhill().supplies.find(supply => supply.kind === 'cylinder');
  if (cylinder?.kind !== 'cylinder') throw new Error('Larkhill has a cylinder');
  const judge = (from: number, to: number, min: number, gaugeUnit: 'psi' | 'bar' = 'psi') =>
    judgeSupplyHold(
      { fromPsi: psi(from), toPsi: psi(to), minutes: minutes(min) },
      { fallPsi: psi(100), minutes: minutes(5) },
      { ...cylinder, gaugeUnit },
    );

  it('of a pass and of a failure, in the unit of the gauge', () => {
    expect(judge(1500, 1480, 6)).toEqual({ outcome: 'pass', because: 'the gauge fell by 20 psi in 6 min' });
    expect(judge(1500, 1350, 2.5)).toEqual({
      outcome: 'fail',
      because: 'the gauge fell by 150 psi in 2.5 min; it must fall by less than 100 psi',
    });
    expect(judge(1500, 1500 - 10 * 14.503774, 5, 'bar')).toMatchObject({
      because: expect.stringMatching(
        /^the gauge fell by 10 bar in 5 min; it must fall by less than 6\.\d+ bar$/,
      ),
    });
  });

  it('of a refusal, with what to do', () => {
    const problems = (...given: Parameters<typeof judge>) => {
      const judgement = judge(...given);
      return judgement.outcome === 'refused'
        ? judgement.problems.map(({ code, message, remedy }) => ({ code, message, remedy }))
        : [];
    };
    expect(problems(1500, 1480, 3)).toEqual([
      {
        code: 'hold_too_short',
        message: '3 min are too short to pass: the gauge is watched for 5 min',
        remedy: 'watch it for 5 min or longer',
      },
    ]);
    // 1.3 × 1900 psi.
    expect(problems(2600, 2500, 5)).toEqual([
      {
        code: 'reading_out_of_range',
        message: '2600 psi is above 2470 psi, more than ward-e-1 can ever hold',
        remedy: 'read the gauge again, and mind the unit',
      },
    ]);
    expect(problems(1500, 1510, 5)).toEqual([
      {
        code: 'hold_pressure_rose',
        message: 'the gauge rose from 1500 psi to 1510 psi',
        remedy: 'is the cylinder shut? Open it, shut it again, and then read',
      },
    ]);
    expect(problems(90, 80, 5)).toEqual([
      {
        code: 'hold_supply_empty',
        message: 'the gauge began at 90 psi, from where it cannot fall by 100 psi: nothing would be shown',
        remedy: 'open the cylinder until the gauge is up, shut it, and read again',
      },
    ]);
    // From the mark itself it can.
    expect(judge(100, 100, 5).outcome).toBe('pass');
    expect(judge(100, 0, 5).outcome).toBe('fail');
    expect(problems(1400, 2600, 5).map(({ code }) => code)).toEqual([
      'reading_out_of_range',
      'hold_pressure_rose',
    ]);
  });
});
