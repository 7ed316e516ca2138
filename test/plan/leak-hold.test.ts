import { describe, expect, it } from 'vitest';
import { planFor } from '../support/plan.ts';
import { circuit, machine, practice } from '../support/practice.ts';

const KINDS = [
  circuit('t-piece-1', 't_piece'),
  circuit('t-gauge', 't_piece', { pressure_gauge: true }),
  circuit('bain-1', 'bain', { pressure_gauge: true }),
  circuit('bain-2', 'bain'),
  circuit('y-piece-1', 'circle_y'),
  circuit('coaxial-1', 'circle_coaxial'),
];
const inventory = practice({
  machines: [machine('theatre-1'), machine('bare', { pressure_gauge: false, flush_to: 'none' })],
  circuits: KINDS,
});
const hold = (id: string, on = 'theatre-1') => planFor(inventory, 7.5, { circuit: id, machine: on }).leakHold;

describe('the leak test of a pair', () => {
  it.each([
    ['t-piece-1', 20, 30, 'flowmeter', 'bag', 150],
    ['t-gauge', 20, 10, 'flowmeter', 'gauge', 150],
    ['bain-1', 20, 10, 'flowmeter', 'gauge', 150],
    ['bain-2', 20, 30, 'flowmeter', 'bag', 150],
    ['y-piece-1', 30, 10, 'flush', 'gauge', 200],
    ['coaxial-1', 30, 10, 'flush', 'gauge', 200],
  ] as const)(
    '%s: %i cmH2O for %i s, filled by %s, watching the %s',
    (id, pressure, seconds, fill, watch, makeUp) => {
      expect(hold(id)).toMatchObject({
        pressureCmH2O: pressure,
        seconds,
        fill,
        watch,
        dropCmH2O: 0,
        makeUpMlPerMin: makeUp,
        state: 'needed',
        last: null,
      });
    },
  );

  it('never fills a non-rebreathing circuit by the flush, and a circle only where there is one', () => {
    for (const id of ['t-piece-1', 'bain-1', 'bain-2']) expect(hold(id)?.fill).toBe('flowmeter');
    expect(hold('y-piece-1', 'bare')?.fill).toBe('flowmeter');
  });

  it('watches the bag of a circle on a machine without a gauge, for as long as a bag is watched', () => {
    expect(hold('y-piece-1', 'bare')).toMatchObject({ watch: 'bag', seconds: 30 });
  });

  it('goes by the rules of the practice, kind by kind', () => {
    const own = practice({
      rules: {
        leak_hold: {
          bain: { pressure_cmh2o: 25, seconds: 20, drop_cmh2o: 1, make_up_ml_min: 100 },
          without_gauge: { seconds: 45 },
        },
      },
      circuits: KINDS,
    });
    expect(planFor(own, 6, { circuit: 'bain-1' }).leakHold).toMatchObject({
      pressureCmH2O: 25,
      seconds: 20,
      dropCmH2O: 1,
      makeUpMlPerMin: 100,
    });
    expect(planFor(own, 6, { circuit: 't-piece-1' }).leakHold).toMatchObject({
      pressureCmH2O: 20,
      seconds: 45,
    });
  });

  it('says of the seconds whether they are those of a pair without a gauge', () => {
    const formulas = (id: string) =>
      hold(id)?.reasons.map(({ figure, formula, inputs }) => [figure, formula, inputs.gauge]);
    expect(formulas('bain-1')).toEqual([
      ['leak_hold.pressure_cmh2o', 'the rule for a Bain', 'yes'],
      ['leak_hold.seconds', 'the rule for a Bain', 'yes'],
      ['leak_hold.drop_cmh2o', 'the rule for a Bain', 'yes'],
      ['leak_hold.make_up_ml_min', 'the rule for a Bain', 'yes'],
    ]);
    expect(formulas('bain-2')).toEqual([
      ['leak_hold.pressure_cmh2o', 'the rule for a Bain', 'no'],
      ['leak_hold.seconds', 'the rule for a pair without a gauge', 'no'],
      ['leak_hold.drop_cmh2o', 'the rule for a Bain', 'no'],
      ['leak_hold.make_up_ml_min', 'the rule for a Bain', 'no'],
    ]);
  });
});
