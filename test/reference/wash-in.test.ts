/** How fast a mixture changes, beside published figures and a differential equation solved by a library. */
import { parser } from 'mathjs';
import { describe, it } from 'vitest';
import { timeConstant } from '../../src/plan/supplies/wash-in.ts';
import { ml, mlPerMin } from '../../src/quantity/units.ts';
import { check } from './check.ts';

const MIXING = parser();
MIXING.evaluate('mixing(t, share) = perMinute * (1 - share)');

/** The share of a change that has arrived in one well-mixed volume after so many minutes. */
function arrived(litres: number, litresPerMin: number, minutes: number): number {
  MIXING.set('perMinute', litresPerMin / litres);
  MIXING.evaluate(`solved = solveODE(mixing, [0, ${minutes}], [0], { tol: 1e-9 })`);
  return Number(MIXING.evaluate('solved.y[end, 1]'));
}

describe('wash-in', () => {
  it('W1: time constant = volume / flow: 5 L at 1 L/min is 5 min, 95 % after 15', () => {
    const constant = timeConstant(ml(5000), mlPerMin(1000));
    const row = { id: 'W1', source: 'OpenAnesthesia', how: 'seen' as const };
    check({ ...row, figure: '5 L at 1 L/min, min', ours: constant, theirs: 5 });
    check({ ...row, figure: '95 % of it, min', ours: 3 * constant, theirs: 15 });
    check({
      ...row,
      figure: 'share after 1 time constant, by the differential equation',
      ours: arrived(5, 1, constant),
      theirs: 0.63,
      tolerance: 0.005,
    });
    check({
      ...row,
      figure: 'share after 2 time constants',
      ours: arrived(5, 1, 2 * constant),
      theirs: 0.86,
      tolerance: 0.005,
    });
    check({
      ...row,
      figure: 'share after 3 time constants',
      ours: arrived(5, 1, 3 * constant),
      theirs: 0.95,
      tolerance: 0.005,
    });
  });

  it.each([
    [3, 16.4],
    [6, 8.2],
    [10, 4.9],
  ])('W2: 49.26 L at %i L/min have a time constant of %f min', (flow, theirs) => {
    check({
      id: 'W2',
      figure: `49.26 L at ${flow} L/min, min`,
      ours: timeConstant(ml(49_260), mlPerMin(flow * 1000)),
      theirs,
      tolerance: 0.05,
      source: 'Bukoski, Vet Anaesth Analg 2012;39:185-189',
      how: 'seen',
    });
  });
});
