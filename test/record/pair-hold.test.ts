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
        'it was opened after the leak test and the pressure did not fall',
      );
      const signedOff = signOff('09:00', 'bain-1', 'pop-off-open', 'fail');
      expect(bain([hold('08:00', 'bain-1', 'theatre-1'), signedOff]).popOff?.because).toBe(
        'it was signed off as not opening',
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

function onceADay(of: Inventory): Inventory {
  const validFor: Rule<'case' | 'day'> = { ...of.rules.leakHold.validFor, value: 'day' };
  return { ...of, rules: { ...of.rules, leakHold: { ...of.rules.leakHold, validFor } } };
}
