import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { openItems } from '../../src/record/open-items.ts';
import { openPopOff } from '../../src/record/pop-off.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { correct, failedHold, hold, larkhill, signOff } from './entries.ts';

const inventory = larkhill();
const SHUT = { pop_off: 'shut' } as const;

function popOff(entries: readonly Entry[], circuit: string, machine: string) {
  return openPopOff(foldStanding(inventory, entries), inventory, circuit, machine);
}

describe('the pop-off of a circle', () => {
  const shut = hold('08:00', 'y-piece-1', 'theatre-1', SHUT);

  it('is the machine’s: left shut by one circle it is shut for the next', () => {
    expect(popOff([shut], 'coaxial-1', 'theatre-1')).toMatchObject({
      because: 'it was left shut after the leak test',
      circuit: 'y-piece-1',
      machine: 'theatre-1',
      answer: 'holdfast sign-off y-piece-1 pop-off-open',
    });
    expect(popOff([shut], 'y-piece-1', 'dental')).toBeNull();
    // A Bain and a T-piece have their own.
    expect(popOff([shut], 'bain-1', 'theatre-1')).toBeNull();
  });

  it('found stuck is stuck for the next circle too', () => {
    const stuck = failedHold('08:00', 'y-piece-1', 'theatre-1', {
      pop_off: 'stuck',
      reason: 'pop_off_stuck',
    });
    expect(popOff([stuck], 'coaxial-1', 'theatre-1')?.because).toContain('the pressure did not fall');
  });

  it('is answered for all circles by a test that saw it open, and by the sign-off of the circuit that was on', () => {
    expect(popOff([shut, hold('09:00', 'coaxial-1', 'theatre-1')], 'coaxial-1', 'theatre-1')).toBeNull();
    const signedOff = signOff('09:00', 'y-piece-1', 'pop-off-open');
    expect(popOff([shut, signedOff], 'coaxial-1', 'theatre-1')).toBeNull();
    expect(popOff([shut, signedOff], 'y-piece-1', 'theatre-1')).toBeNull();
    expect(
      popOff([shut, signedOff, correct('09:30', signedOff.id)], 'coaxial-1', 'theatre-1'),
    ).not.toBeNull();
  });

  it('is open again where it was left shut after the sign-off, and whatever was entered first', () => {
    const before = signOff('07:00', 'y-piece-1', 'pop-off-open');
    for (const circuit of ['y-piece-1', 'coaxial-1']) {
      expect(popOff([before, shut], circuit, 'theatre-1')).toMatchObject({ circuit: 'y-piece-1' });
      const openBefore = [hold('07:30', 'coaxial-1', 'theatre-1'), shut];
      expect(popOff([before, ...openBefore], 'y-piece-1', 'theatre-1')).not.toBeNull();
    }
    const last = hold('09:00', 'coaxial-1', 'theatre-1', SHUT);
    expect(
      popOff([hold('07:00', 'coaxial-1', 'theatre-1'), shut, last], 'coaxial-1', 'theatre-1'),
    ).toMatchObject({
      circuit: 'coaxial-1',
    });
  });

  it('signed off as not opening is a question also where the circuit was never tested', () => {
    const failed = signOff('08:00', 'y-piece-1', 'pop-off-open', 'fail');
    expect(popOff([failed], 'y-piece-1', 'theatre-1')).toMatchObject({
      because: 'it did not open at the sign-off',
      machine: null,
      answer: 'holdfast sign-off y-piece-1 pop-off-open',
    });
  });

  it('is shut for every circle also where the circuit that left it so is no longer in the inventory', () => {
    const gone = hold('08:00', 'sold-1', 'theatre-1', SHUT);
    expect(popOff([gone], 'y-piece-1', 'theatre-1')).toMatchObject({ circuit: 'sold-1' });
  });

  it('is answered by a sign-off of where the circuit was last, whatever other circuits were held since', () => {
    const signedOff = signOff('09:00', 'y-piece-1', 'pop-off-open');
    const other = hold('08:30', 'coaxial-1', 'dental');
    expect(popOff([shut, other, signedOff], 'y-piece-1', 'theatre-1')).toBeNull();
    const back = [hold('07:00', 'y-piece-1', 'theatre-1'), hold('07:30', 'y-piece-1', 'dental'), shut];
    expect(popOff([...back, signedOff], 'y-piece-1', 'theatre-1')).toBeNull();
  });

  it('signed off as not opening before any test stays to be signed off, wherever it was held since', () => {
    const failed = signOff('08:00', 'y-piece-1', 'pop-off-open', 'fail');
    const entries = [failed, hold('09:00', 'y-piece-1', 'dental')];
    expect(popOff(entries, 'y-piece-1', 'theatre-1')).toMatchObject({
      machine: null,
      answer: 'holdfast sign-off y-piece-1 pop-off-open',
    });
  });

  it('on two machines is two: one sign-off answers the one on which the circuit was last', () => {
    const entries = [
      shut,
      hold('08:30', 'y-piece-1', 'dental', SHUT),
      signOff('09:00', 'y-piece-1', 'pop-off-open'),
    ];
    expect(popOff(entries, 'y-piece-1', 'dental')).toBeNull();
    expect(popOff(entries, 'y-piece-1', 'theatre-1')).toMatchObject({
      machine: 'theatre-1',
      answer: 'holdfast hold y-piece-1 --machine theatre-1',
    });
    // Each was answered in its time.
    const [first, second, last] = entries;
    const each = [first, signOff('08:10', 'y-piece-1', 'pop-off-open'), second, last].flatMap(
      one => one ?? [],
    );
    expect(popOff(each, 'y-piece-1', 'theatre-1')).toBeNull();
  });
});

describe('the pop-off of a Bain', () => {
  const shut = hold('08:00', 'bain-1', 'theatre-1', SHUT);

  it('goes with the circuit from machine to machine', () => {
    expect(popOff([shut], 'bain-1', 'dental')).toMatchObject({ circuit: 'bain-1', machine: 'theatre-1' });
    expect(popOff([shut, signOff('09:00', 'bain-1', 'pop-off-open')], 'bain-1', 'dental')).toBeNull();
    expect(popOff([shut], 't-piece-1', 'theatre-1')).toBeNull();
  });

  it('stays a question for its pair until that pair is tested again or it is signed off', () => {
    const elsewhere = [shut, hold('09:00', 'bain-1', 'dental')];
    expect(popOff(elsewhere, 'bain-1', 'dental')).toBeNull();
    // The valve is the Bain's own: it can be signed off wherever the Bain is now.
    expect(popOff(elsewhere, 'bain-1', 'theatre-1')).toMatchObject({
      machine: 'theatre-1',
      answer: 'holdfast sign-off bain-1 pop-off-open',
    });
  });
});

describe('what stands open', () => {
  it('names each pop-off once, under the pair that left it so', () => {
    const entries = [hold('07:00', 'coaxial-1', 'theatre-1'), hold('08:00', 'y-piece-1', 'theatre-1', SHUT)];
    const items = openItems(foldStanding(inventory, entries), inventory);
    expect(items.map(({ what, assets }) => [what, ...assets])).toEqual([
      ['pop_off', 'y-piece-1', 'theatre-1'],
    ]);
  });

  it('names a pop-off beside a leak that decided the test: the one is not mended with the other', () => {
    for (const pop_off of ['stuck', 'shut'] as const) {
      const leak = failedHold('08:00', 'bain-1', 'theatre-1', { pop_off });
      const items = openItems(foldStanding(inventory, [leak]), inventory);
      expect(items.map(({ what, because }) => [what, because])).toEqual([
        ['failed_hold', 'the pressure fell'],
        [
          'pop_off',
          pop_off === 'shut'
            ? 'it was left shut after the leak test'
            : 'the pressure did not fall when it was opened after the leak test',
        ],
      ]);
    }
  });

  it('names a stuck pop-off as the failed test alone', () => {
    const stuck = failedHold('08:00', 'y-piece-1', 'theatre-1', {
      pop_off: 'stuck',
      reason: 'pop_off_stuck',
    });
    const entries = [hold('07:00', 'coaxial-1', 'theatre-1'), stuck];
    expect(openItems(foldStanding(inventory, entries), inventory).map(({ what }) => what)).toEqual([
      'failed_hold',
    ]);
  });
});
