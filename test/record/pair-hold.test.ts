import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import type { Inventory, Rule } from '../../src/inventory/inventory.ts';
import { pairHold } from '../../src/record/pair-hold.ts';
import { foldStanding } from '../../src/record/standing.ts';
import {
  compliance,
  correct,
  failedHold,
  giveBack,
  hold,
  larkhill,
  reading,
  signOff,
  usage,
  withdraw,
} from './entries.ts';

const inventory = larkhill();

function bain(
  entries: Entry[],
  {
    caseRef,
    today = '2026-11-25',
    rules = inventory,
  }: { caseRef?: string; today?: string; rules?: Inventory } = {},
) {
  return pairHold(foldStanding(rules, entries), rules, 'bain-1', 'theatre-1', { today, caseRef });
}

/** The state and the words, as one line. */
function told(...args: Parameters<typeof bain>): string {
  const { state, because } = bain(...args);
  return because === null ? state : `${state}: ${because}`;
}

describe('pairHold', () => {
  it('needs a hold where the pair was never tested', () => {
    expect(told([])).toBe('needed: bain-1 was never leak-tested on theatre-1');
    expect(bain([]).last).toBeNull();
  });

  it('is held after a pass, and shows it', () => {
    const pass = hold('08:00', 'bain-1', 'theatre-1', { case: '4711' });
    expect(told([pass])).toBe('held');
    expect(bain([pass]).last).toMatchObject({
      entry: pass.id,
      on: pass.on,
      by: 'M. Quill',
      result: 'pass',
      reason: 'held',
      caseRef: '4711',
    });
  });

  it.each<[string, string, (pass: Entry) => Entry[]]>([
    [
      'the day is over',
      'the last leak test was on 2026-11-24, and one counts only for its day',
      () => [hold('2026-11-24T23:59:59+00:00', 'bain-1', 'theatre-1')],
    ],
    [
      'the circuit was held elsewhere',
      'bain-1 was on dental since the leak test',
      pass => [pass, hold('09:00', 'bain-1', 'dental')],
    ],
    [
      'the circuit failed elsewhere',
      'bain-1 was on dental since the leak test',
      pass => [pass, failedHold('09:00', 'bain-1', 'dental')],
    ],
    [
      'the machine was held with another circuit',
      'theatre-1 had y-piece-1 on it since the leak test',
      pass => [pass, hold('09:00', 'y-piece-1', 'theatre-1')],
    ],
    [
      'another assembly of the machine was measured',
      'theatre-1 had y-piece-1 on it since the leak test',
      pass => [pass, compliance('09:00', 'y-piece-1', 'theatre-1')],
    ],
    [
      'the circuit was used elsewhere',
      'bain-1 was on dental since the leak test',
      pass => [pass, usage('09:00', 'dental', 'bain-1')],
    ],
    [
      'the machine was used with another circuit',
      'theatre-1 had t-piece-1 on it since the leak test',
      pass => [pass, usage('09:00', 'theatre-1', 't-piece-1')],
    ],
    [
      'the circuit was withdrawn',
      'bain-1 was withdrawn since the leak test',
      pass => [pass, withdraw('09:00', 'bain-1')],
    ],
    [
      'the machine was withdrawn',
      'theatre-1 was withdrawn since the leak test',
      pass => [pass, withdraw('09:00', 'theatre-1')],
    ],
    [
      'the circuit was returned',
      'bain-1 was out of service and returned since the leak test',
      pass => [withdraw('07:00', 'bain-1'), pass, giveBack('09:00', 'bain-1')],
    ],
    [
      'a vaporizer was taken off',
      'theatre-1-iso was withdrawn since the leak test',
      pass => [pass, withdraw('09:00', 'theatre-1-iso')],
    ],
    [
      'a check of the circuit failed',
      "the check 'inner-tube' of bain-1 failed since the leak test",
      pass => [pass, signOff('09:00', 'bain-1', 'inner-tube', 'fail')],
    ],
    [
      'a failed check was passed again',
      "the check 'inner-tube' of bain-1 failed since the leak test",
      pass => [
        pass,
        signOff('09:00', 'bain-1', 'inner-tube', 'fail'),
        signOff('09:10', 'bain-1', 'inner-tube'),
      ],
    ],
    [
      'the absorbent was changed',
      "the check 'absorbent-change' was signed off on theatre-1-absorber since the leak test",
      pass => [pass, signOff('09:00', 'theatre-1-absorber', 'absorbent-change')],
    ],
    [
      'the vaporizer was serviced',
      "the check 'vaporizer-service' was signed off on theatre-1-iso since the leak test",
      pass => [pass, signOff('09:00', 'theatre-1-iso', 'vaporizer-service')],
    ],
    [
      'the pair was used',
      'a case was entered for the pair since the leak test',
      pass => [pass, usage('09:00', 'theatre-1', 'bain-1')],
    ],
    [
      'the pop-off was left shut',
      'the last leak test does not count: the pop-off was left shut',
      pass => [pass, hold('09:00', 'bain-1', 'theatre-1', { pop_off: 'shut' })],
    ],
  ])('no longer counts a pass when %s', (_, because, entries) => {
    expect(told(entries(hold('08:00', 'bain-1', 'theatre-1')))).toBe(`needed: ${because}`);
  });

  it.each<[string, (pass: Entry) => Entry[]]>([
    [
      'the same things happened before the pass',
      pass => [
        usage('06:00', 'dental', 'bain-1'),
        hold('06:10', 'y-piece-1', 'theatre-1'),
        withdraw('06:20', 'bain-1'),
        giveBack('06:30', 'bain-1'),
        signOff('06:40', 'theatre-1-iso', 'vaporizer-service'),
        pass,
      ],
    ],
    [
      'another pair was used',
      pass => [pass, usage('09:00', 'dental', 'y-piece-1'), hold('09:10', 't-piece-1', 'dental')],
    ],
    ['the inner tube was checked and passed', pass => [pass, signOff('09:00', 'bain-1', 'inner-tube')]],
    [
      'the canister was weighed or changed, which lies behind the pop-off',
      pass => [
        pass,
        reading('09:00', 'theatre-1-charcoal', { g: 812, new: true }),
        signOff('09:10', 'theatre-1-charcoal', 'canister-change'),
      ],
    ],
    [
      'the compliance of the same pair was measured',
      pass => [pass, compliance('09:00', 'bain-1', 'theatre-1')],
    ],
    [
      'the other machine had its absorbent changed',
      pass => [pass, signOff('09:00', 'dental-absorber', 'absorbent-change')],
    ],
  ])('still counts a pass when %s', (_, entries) => {
    expect(told(entries(hold('08:00', 'bain-1', 'theatre-1')))).toBe('held');
  });

  it('counts a pass again when what ended it was cancelled', () => {
    const pass = hold('08:00', 'bain-1', 'theatre-1');
    const used = usage('09:00', 'dental', 'bain-1');
    expect(told([pass, used, correct('09:30', used.id)])).toBe('held');
  });

  it('counts no pass that was cancelled itself', () => {
    const pass = hold('08:00', 'bain-1', 'theatre-1');
    expect(told([pass, correct('09:30', pass.id)])).toBe('needed: bain-1 was never leak-tested on theatre-1');
  });

  it('lets a correction of a correction change nothing', () => {
    const pass = hold('08:00', 'bain-1', 'theatre-1');
    const first = correct('09:30', pass.id);
    expect(bain([pass, first, correct('09:40', first.id)]).state).toBe('needed');
  });

  describe('for a case', () => {
    it('ends with a case of the pair, and names it', () => {
      const entries = [
        hold('08:00', 'bain-1', 'theatre-1'),
        usage('09:00', 'theatre-1', 'bain-1', { case: '4711' }),
      ];
      expect(told(entries)).toBe('needed: case 4711 was entered for the pair since the leak test');
    });

    it('holds for the case that it names', () => {
      const entries = [hold('08:00', 'bain-1', 'theatre-1', { case: '4711' })];
      expect(told(entries, { caseRef: '4711' })).toBe('held');
      expect(told(entries, { caseRef: '4712' })).toBe(
        'needed: the last leak test was for case 4711, and this plan is for case 4712',
      );
    });

    it('does not take a hold without a case for that of a plan with one', () => {
      expect(told([hold('08:00', 'bain-1', 'theatre-1')], { caseRef: '4711' })).toBe(
        'needed: the last leak test names no case, and this plan is for case 4711',
      );
    });

    it('does not matter where the practice holds once a day', () => {
      const daily = onceADay(inventory);
      const entries = [
        hold('08:00', 'bain-1', 'theatre-1', { case: '1' }),
        usage('09:00', 'theatre-1', 'bain-1'),
      ];
      expect(told(entries, { rules: daily, caseRef: '2' })).toBe('held');
      expect(told([...entries, usage('10:00', 'dental', 'bain-1')], { rules: daily })).toBe(
        'needed: bain-1 was on dental since the leak test',
      );
    });
  });

  describe('after a failure', () => {
    const fail = failedHold('08:00', 'bain-1', 'theatre-1');

    it('stands failed until the same pair passes, also on later days', () => {
      expect(told([fail], { today: '2026-12-24' })).toBe(
        'failed: the leak test of 2026-11-25 failed: the pressure fell; only a pass of the same pair clears it',
      );
      expect(told([fail, hold('08:30', 'bain-1', 'theatre-1')])).toBe('held');
    });

    it('is not cleared by passes of the parts with other partners', () => {
      expect(
        bain([fail, hold('08:30', 'bain-1', 'dental'), hold('08:40', 'y-piece-1', 'theatre-1')]).state,
      ).toBe('failed');
    });

    it('is not cleared by a pass with the pop-off left shut', () => {
      expect(bain([fail, hold('08:30', 'bain-1', 'theatre-1', { pop_off: 'shut' })]).state).toBe('failed');
    });

    it('shows in other pairs as parts that failed elsewhere, each until it passes somewhere', () => {
      const entries: Entry[] = [
        failedHold('08:00', 'bain-1', 'dental'),
        failedHold('08:10', 'y-piece-1', 'theatre-1'),
      ];
      const parts = (more: Entry[]) =>
        bain([...entries, ...more]).failedElsewhere.map(({ part, id, with: partner }) => [part, id, partner]);
      expect(parts([])).toEqual([
        ['circuit', 'bain-1', 'dental'],
        ['machine', 'theatre-1', 'y-piece-1'],
      ]);
      expect(parts([hold('09:00', 't-piece-1', 'theatre-1')])).toEqual([['circuit', 'bain-1', 'dental']]);
      expect(parts([hold('09:00', 'bain-1', 'theatre-1')])).toEqual([]);
      expect(parts([hold('09:00', 'bain-1', 'theatre-1', { pop_off: 'shut' })])).toHaveLength(2);
    });

    it('does not hide a failure elsewhere behind one of the same pair', () => {
      const entries = [failedHold('07:00', 'bain-1', 'dental'), fail];
      expect(bain(entries).failedElsewhere.map(({ with: partner }) => partner)).toEqual(['dental']);
    });
  });

  describe('a pass of before the inventory was changed', () => {
    const pass = hold('08:00', 'bain-1', 'theatre-1');
    const now = (change: Partial<Inventory>) =>
      pairHold(foldStanding(inventory, [pass]), { ...inventory, ...change }, 'bain-1', 'theatre-1', {
        today: '2026-11-25',
      });
    const withRule = (more: object) => {
      const { leakHold } = inventory.rules;
      const bainRule = { ...leakHold.bain, ...more };
      return { rules: { ...inventory.rules, leakHold: { ...leakHold, bain: bainRule } } };
    };
    const rule = <T>(value: T) => ({ ...inventory.rules.leakHold.bain.seconds, value }) as never;

    it('counts only if it is one by the present rule', () => {
      expect(now({}).state).toBe('held');
      expect(now(withRule({ seconds: rule(20) })).because).toBe(
        'the rule is now 20 cmH2O for 20 s, which the leak test did not reach',
      );
      expect(now(withRule({ pressureCmH2O: rule(35) })).state).toBe('needed');
      expect(now(withRule({ seconds: rule(5) })).state).toBe('held');
    });

    it('does not count for what came into service later under the same id', () => {
      const assets = new Map(inventory.assets);
      const circuit = inventory.assets.get('bain-1');
      if (circuit === undefined) throw new Error('no bain-1');
      assets.set('bain-1', { ...circuit, since: '2026-11-26' });
      expect(now({ assets }).because).toBe('bain-1 came into service on 2026-11-26, after the leak test');
      assets.set('bain-1', { ...circuit, since: '2026-11-25' });
      expect(now({ assets }).state).toBe('held');
    });
  });

  describe('a leak that the gauge has shown', () => {
    const onGauge = failedHold('08:00', 'bain-1', 'theatre-1', {
      fall: { from_cmh2o: 20, to_cmh2o: 8, seconds: 10 },
    });
    const byBag = (on: string) =>
      hold(on, 'bain-1', 'theatre-1', { fall: undefined, taut: { steady: true, seconds: 30 } } as object);

    it('is not cleared by the bag, but by the gauge or a make-up flow', () => {
      expect(bain([onGauge, byBag('09:00')])).toMatchObject({
        state: 'failed',
        because: expect.stringContaining(
          'the bag was taut afterwards, which clears no leak that a gauge has shown',
        ),
      });
      expect(bain([onGauge, byBag('09:00'), hold('10:00', 'bain-1', 'theatre-1')]).state).toBe('held');
      const madeUp = { fall: undefined, make_up: { flow_ml_min: 80, at_cmh2o: 20 } } as object;
      expect(bain([onGauge, byBag('09:00'), hold('10:00', 'bain-1', 'theatre-1', madeUp)]).state).toBe(
        'held',
      );
      // Nor by a slack bag in between that a taut one clears.
      const slack = failedHold('08:30', 'bain-1', 'theatre-1', {
        fall: undefined,
        taut: { steady: false, seconds: 10 },
        reason: 'went_slack',
      } as object);
      expect(bain([onGauge, slack, byBag('09:00')]).because).toContain('the pressure fell');
      expect(bain([slack, byBag('09:00')]).state).toBe('held');
    });

    it('is not acquitted of by the bag in another pair either', () => {
      const elsewhere = failedHold('08:00', 'y-piece-1', 'theatre-1');
      const bag = { fall: undefined, taut: { steady: true, seconds: 30 } } as object;
      const told = (entries: readonly Entry[]) =>
        bain([elsewhere, ...entries]).failedElsewhere.map(({ id }) => id);
      expect(told([])).toEqual(['theatre-1']);
      expect(told([byBag('09:00')])).toEqual(['theatre-1']);
      expect(told([hold('09:00', 'bain-1', 'theatre-1')])).toEqual([]);
      // This pair has no gauge: the bag is all there is.
      expect(told([hold('09:00', 't-piece-1', 'theatre-1', bag)])).toEqual([]);
    });

    it('is cleared by the bag where the pair has no gauge any more, or the leak test failed by the pop-off alone', () => {
      const circuits = inventory.circuits.map(one => ({ ...one, pressureGauge: false }));
      const entries = [onGauge, byBag('09:00')];
      const standing = foldStanding(inventory, entries);
      const moment = { today: '2026-11-25' };
      expect(pairHold(standing, { ...inventory, circuits }, 'bain-1', 'theatre-1', moment).state).toBe(
        'held',
      );
      const stuck = failedHold('08:00', 'bain-1', 'theatre-1', { pop_off: 'stuck', reason: 'pop_off_stuck' });
      expect(bain([stuck, byBag('09:00')]).state).toBe('held');
    });
  });

  describe('the pop-off', () => {
    const shut = hold('08:00', 'bain-1', 'theatre-1', { pop_off: 'shut' });

    it('is repeated until a later hold of the pair or its sign-off answers', () => {
      expect(bain([shut]).popOff?.because).toBe('it was left shut after the leak test');
      expect(bain([shut], { today: '2026-12-24' }).popOff).not.toBeNull();
      expect(bain([shut, hold('09:00', 'bain-1', 'dental')]).popOff).not.toBeNull();
      expect(bain([shut, hold('09:00', 'bain-1', 'theatre-1')]).popOff).toBeNull();
      expect(bain([shut, signOff('09:00', 'bain-1', 'pop-off-open')]).popOff).toBeNull();
    });

    it('answered by a sign-off does not make the pass count', () => {
      expect(bain([shut, signOff('09:00', 'bain-1', 'pop-off-open')]).state).toBe('needed');
    });

    it('is repeated after a hold at which it was stuck, and after a failed sign-off', () => {
      const stuck = failedHold('08:00', 'bain-1', 'theatre-1', { pop_off: 'stuck', reason: 'pop_off_stuck' });
      expect(bain([stuck]).popOff?.because).toBe(
        'the pressure did not fall when it was opened after the leak test',
      );
      const signedOff = signOff('09:00', 'bain-1', 'pop-off-open', 'fail');
      expect(bain([hold('08:00', 'bain-1', 'theatre-1'), signedOff]).popOff?.because).toBe(
        'it did not open at the sign-off',
      );
    });
  });

  it('no longer counts a pass when what was withdrawn before it is withdrawn once more, as by a second workplace', () => {
    const entries = [
      withdraw('07:00', 'theatre-1'),
      hold('08:00', 't-piece-1', 'theatre-1'),
      withdraw('09:00', 'theatre-1'),
    ];
    expect(
      pairHold(foldStanding(larkhill(), entries), larkhill(), 't-piece-1', 'theatre-1', {
        today: '2026-11-25',
      }),
    ).toMatchObject({
      state: 'needed',
      because: 'theatre-1 was withdrawn since the leak test',
    });
  });
});

describe('of several things that ended a pass', () => {
  const pass = hold('08:00', 'bain-1', 'theatre-1');

  it('the latest test elsewhere is named', () => {
    expect(told([pass, hold('09:00', 'bain-1', 'dental'), hold('09:30', 'y-piece-1', 'theatre-1')])).toBe(
      'needed: theatre-1 had y-piece-1 on it since the leak test',
    );
    expect(told([pass, hold('09:00', 'y-piece-1', 'theatre-1'), hold('09:30', 'bain-1', 'dental')])).toBe(
      'needed: bain-1 was on dental since the leak test',
    );
    // A measurement counts as late as a test does, whichever of the two came last.
    expect(
      told([
        pass,
        hold('09:00', 'y-piece-1', 'theatre-1'),
        hold('09:10', 'bain-1', 'dental'),
        compliance('09:20', 'y-piece-1', 'theatre-1'),
      ]),
    ).toBe('needed: theatre-1 had y-piece-1 on it since the leak test');
    expect(
      told([
        pass,
        compliance('09:00', 'y-piece-1', 'theatre-1'),
        hold('09:10', 'bain-1', 'dental'),
        hold('09:20', 'y-piece-1', 'theatre-1'),
      ]),
    ).toBe('needed: theatre-1 had y-piece-1 on it since the leak test');
  });

  it('a test elsewhere is named before a use, a use before a withdrawal, a withdrawal before a check', () => {
    const use = usage('09:00', 'theatre-1', 't-piece-1');
    const out = withdraw('09:10', 'bain-1');
    const failed = signOff('09:20', 'bain-1', 'inner-tube', 'fail');
    const changed = signOff('09:30', 'theatre-1-absorber', 'absorbent-change');
    const elsewhere = hold('09:40', 'bain-1', 'dental');
    const all: Entry[] = [use, out, failed, changed, elsewhere];
    const words = [
      'bain-1 was on dental since the leak test',
      'theatre-1 had t-piece-1 on it since the leak test',
      'bain-1 was withdrawn since the leak test',
      "the check 'inner-tube' of bain-1 failed since the leak test",
      "the check 'absorbent-change' was signed off on theatre-1-absorber since the leak test",
    ];
    const rest: Entry[] = [elsewhere, use, out, failed, changed];
    for (const [i, because] of words.entries())
      expect(told([pass, ...all.filter(entry => rest.slice(i).includes(entry))])).toBe(`needed: ${because}`);
  });

  it('the last use elsewhere is named', () => {
    expect(told([pass, usage('09:00', 'dental', 'bain-1'), usage('09:10', 'dental', 'bain-1')])).toBe(
      'needed: bain-1 was on dental since the leak test',
    );
    expect(
      told([pass, usage('09:00', 'theatre-1', 't-piece-1'), usage('09:10', 'theatre-1', 'y-piece-1')]),
    ).toBe('needed: theatre-1 had y-piece-1 on it since the leak test');
  });

  it('a use elsewhere is found behind later ones of the pair itself', () => {
    const there = usage('09:00', 'dental', 'bain-1');
    const here = usage('09:10', 'theatre-1', 'bain-1');
    expect(told([pass, there, here])).toBe('needed: bain-1 was on dental since the leak test');
    expect(told([pass, there, here], { rules: onceADay(inventory) })).toBe(
      'needed: bain-1 was on dental since the leak test',
    );
  });

  it('the parts of the machine of the pair, and of no other', () => {
    const onDental = (entry: Entry) =>
      pairHold(
        foldStanding(inventory, [hold('08:00', 'bain-1', 'dental'), entry]),
        inventory,
        'bain-1',
        'dental',
        { today: '2026-11-25' },
      ).because;
    expect(onDental(signOff('09:00', 'dental-absorber', 'absorbent-change'))).toBe(
      "the check 'absorbent-change' was signed off on dental-absorber since the leak test",
    );
    expect(onDental(signOff('09:00', 'theatre-1-absorber', 'absorbent-change'))).toBeNull();
  });

  it('a part of the machine that came back, or of which a check failed', () => {
    expect(
      told([withdraw('07:00', 'theatre-1-absorber'), pass, giveBack('09:00', 'theatre-1-absorber')]),
    ).toBe('needed: theatre-1-absorber was out of service and returned since the leak test');
    expect(told([pass, withdraw('09:00', 'theatre-1-absorber')])).toBe(
      'needed: theatre-1-absorber was withdrawn since the leak test',
    );
    expect(told([pass, signOff('09:00', 'theatre-1-sevo', 'vaporizer-service', 'fail')])).toBe(
      "needed: the check 'vaporizer-service' was signed off on theatre-1-sevo since the leak test",
    );
    expect(told([pass, signOff('09:00', 'theatre-1', 'ready', 'fail')])).toBe(
      "needed: the check 'ready' of theatre-1 failed since the leak test",
    );
    // Signed off as in order, the machine itself was not opened.
    expect(told([pass, signOff('09:00', 'theatre-1', 'ready')])).toBe('held');
  });

  it('none of the parts of a machine that has left the inventory', () => {
    const without = { ...inventory, machines: inventory.machines.filter(({ id }) => id !== 'theatre-1') };
    expect(told([pass, withdraw('09:00', 'theatre-1-absorber')], { rules: without })).toBe('held');
    const bare = {
      ...inventory,
      machines: inventory.machines.map(machine => ({ ...machine, absorber: null, vaporizers: [] })),
    };
    expect(told([pass, signOff('09:00', 'theatre-1-iso', 'vaporizer-service')], { rules: bare })).toBe(
      'held',
    );
  });

  it('a withdrawal before the pass alone is none, though it still stands', () => {
    expect(told([withdraw('07:00', 'bain-1'), pass])).toBe('held');
  });

  it('a case of the pair, the last one named, and no case of the circuit before the pass', () => {
    const on = (at: string, reference?: string) =>
      usage(at, 'theatre-1', 'bain-1', reference === undefined ? {} : { case: reference });
    expect(told([on('07:00', '1'), pass, on('09:00', '2'), on('09:30', '3')])).toBe(
      'needed: case 3 was entered for the pair since the leak test',
    );
    expect(told([on('07:00', '1'), pass])).toBe('held');
  });
});

describe('what is shown of the last test', () => {
  it('is all of it, with the leak where there is one', () => {
    const fell = failedHold('08:00', 'bain-1', 'theatre-1', { leak: { ml_min: 240, at_least: true } });
    expect(bain([fell]).last).toEqual({
      entry: fell.id,
      order: 0,
      date: '2026-11-25',
      on: fell.on,
      at: fell.at,
      by: 'M. Quill',
      result: 'fail',
      reason: 'fell',
      popOff: 'open',
      caseRef: null,
      leak: { ml_min: 240, at_least: true },
    });
    expect(bain([hold('08:00', 'bain-1', 'theatre-1')]).last).toMatchObject({ leak: null, result: 'pass' });
  });

  it('is the last one also where an earlier failure stands, or a pass that does not count follows', () => {
    const fail = failedHold('08:00', 'bain-1', 'theatre-1', { reason: 'make_up_above' });
    const shut = hold('09:00', 'bain-1', 'theatre-1', { pop_off: 'shut' });
    const { state, last, because, popOff } = bain([fail, shut]);
    expect(state).toBe('failed');
    expect(last?.entry).toBe(shut.id);
    expect(because).toBe(
      'the leak test of 2026-11-25 failed: the make-up flow was above the limit; only a pass of the same pair clears it',
    );
    expect(popOff).toMatchObject({ done: { entry: shut.id } });
  });

  it('names the failure elsewhere with its partner and its test, the last of several', () => {
    const first = failedHold('08:00', 'bain-1', 'dental');
    const second = failedHold('09:00', 'bain-1', 'dental');
    expect(bain([first, second]).failedElsewhere).toMatchObject([
      { part: 'circuit', id: 'bain-1', with: 'dental', hold: { entry: { id: second.id } } },
    ]);
    const machineFailed = failedHold('09:10', 't-piece-1', 'theatre-1');
    expect(
      bain([failedHold('08:00', 'y-piece-1', 'theatre-1'), machineFailed]).failedElsewhere,
    ).toMatchObject([
      { part: 'machine', id: 'theatre-1', with: 't-piece-1', hold: { entry: { id: machineFailed.id } } },
    ]);
    // A failure after the pass that cleared the one before it stands again.
    expect(
      bain([first, hold('08:30', 'bain-1', 'dental'), second]).failedElsewhere.map(
        ({ hold: of }) => of.entry.id,
      ),
    ).toEqual([second.id]);
    // The pair's own failure is none elsewhere.
    expect(bain([failedHold('08:00', 'bain-1', 'theatre-1')]).failedElsewhere).toEqual([]);
  });

  it('of the pop-off is the last word, of sign-offs and tests alike', () => {
    const stuck = failedHold('08:00', 'bain-1', 'theatre-1', { pop_off: 'stuck', reason: 'pop_off_stuck' });
    const ok = signOff('09:00', 'bain-1', 'pop-off-open');
    const bad = signOff('10:00', 'bain-1', 'pop-off-open', 'fail');
    expect(bain([stuck, ok]).popOff).toBeNull();
    expect(bain([stuck, ok, bad]).popOff).toMatchObject({
      done: { entry: bad.id },
      because: 'it did not open at the sign-off',
    });
    expect(bain([bad, signOff('11:00', 'bain-1', 'pop-off-open')]).popOff).toBeNull();
    expect(bain([bad]).popOff).toMatchObject({ because: 'it did not open at the sign-off' });
    expect(bain([ok]).popOff).toBeNull();
    expect(bain([]).popOff).toBeNull();
  });
});

function onceADay(of: Inventory): Inventory {
  const validFor: Rule<'case' | 'day'> = { ...of.rules.leakHold.validFor, value: 'day' };
  return { ...of, rules: { ...of.rules, leakHold: { ...of.rules.leakHold, validFor } } };
}
