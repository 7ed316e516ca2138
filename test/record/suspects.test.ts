import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { findSuspects, type SuspectGroup } from '../../src/record/suspects.ts';
import { bestSwap } from '../../src/record/swap.ts';
import { failedHold, hold, larkhill, withdraw } from './entries.ts';

const inventory = larkhill();

function groupsOf(entries: Entry[]): SuspectGroup[] {
  return findSuspects(foldStanding(inventory, entries), inventory);
}

/** Suspects in their order, and what is cleared, as plain ids. */
function told(entries: Entry[]) {
  return groupsOf(entries).map(({ suspects, cleared, leaks }) => ({
    suspects: suspects.map(({ part }) => part.id),
    cleared: cleared.map(({ part }) => part.id),
    leaks,
  }));
}

function swap(entries: Entry[]) {
  const standing = foldStanding(inventory, entries);
  const groups = findSuspects(standing, inventory);
  const group = groups[0];
  return group === undefined ? null : bestSwap(group, groups, standing, inventory);
}

const BAG_A = { bag: { size_ml: 3000, id: 'three-litre-a' } };

describe('findSuspects', () => {
  it('has nobody to suspect where nothing failed', () => {
    expect(told([hold('08:00', 'bain-1', 'theatre-1')])).toEqual([]);
  });

  it('suspects bag, circuit and machine of a failed hold, in the order in which leaks are found', () => {
    expect(told([failedHold('08:00', 'y-piece-1', 'theatre-1', BAG_A)])).toEqual([
      { suspects: ['three-litre-a', 'y-piece-1', 'theatre-1'], cleared: [], leaks: 1 },
    ]);
  });

  it('clears what passed in another pair since, not before', () => {
    const fail = failedHold('08:00', 'y-piece-1', 'theatre-1');
    expect(told([hold('07:00', 'y-piece-1', 'dental'), fail])[0]?.suspects).toEqual([
      'y-piece-1',
      'theatre-1',
    ]);
    expect(told([fail, hold('09:00', 'y-piece-1', 'dental')])).toEqual([
      { suspects: ['theatre-1'], cleared: ['y-piece-1'], leaks: 1 },
    ]);
  });

  it('clears nothing by a pass with the pop-off left shut', () => {
    expect(
      told([
        failedHold('08:00', 'y-piece-1', 'theatre-1'),
        hold('09:00', 'y-piece-1', 'dental', { pop_off: 'shut' }),
      ])[0]?.cleared,
    ).toEqual([]);
  });

  it('forgets a failure once the same pair passed', () => {
    expect(
      told([failedHold('08:00', 'y-piece-1', 'theatre-1'), hold('09:00', 'y-piece-1', 'theatre-1')]),
    ).toEqual([]);
  });

  it('puts first what explains all failures alone', () => {
    expect(
      told([failedHold('08:00', 'y-piece-1', 'theatre-1'), failedHold('08:10', 'bain-1', 'theatre-1')]),
    ).toEqual([{ suspects: ['theatre-1', 'y-piece-1', 'bain-1'], cleared: [], leaks: 1 }]);
  });

  it('parts failures that have nothing in common', () => {
    expect(
      told([failedHold('08:00', 'y-piece-1', 'theatre-1'), failedHold('08:10', 'bain-1', 'dental')]),
    ).toHaveLength(2);
  });

  it('needs two leaks where no part is in all failures', () => {
    const entries = [
      failedHold('08:00', 'y-piece-1', 'theatre-1'),
      failedHold('08:10', 'y-piece-1', 'dental'),
      failedHold('08:20', 'bain-1', 'dental'),
    ];
    expect(told(entries)[0]).toMatchObject({
      leaks: 2,
      suspects: ['y-piece-1', 'dental', 'bain-1', 'theatre-1'],
    });
  });

  it('is left without suspects where every part passed elsewhere since', () => {
    const entries = [
      failedHold('08:00', 'y-piece-1', 'theatre-1'),
      hold('09:00', 'y-piece-1', 'dental'),
      hold('09:10', 'bain-1', 'theatre-1'),
    ];
    expect(told(entries)).toEqual([{ suspects: [], cleared: ['y-piece-1', 'theatre-1'], leaks: null }]);
  });

  it('lays a stuck pop-off to the part that carries it', () => {
    const stuck = { pop_off: 'stuck', reason: 'pop_off_stuck' } as const;
    expect(told([failedHold('08:00', 'y-piece-1', 'theatre-1', stuck)])[0]?.suspects).toEqual(['theatre-1']);
    expect(told([failedHold('08:00', 'bain-1', 'theatre-1', stuck)])[0]?.suspects).toEqual(['bain-1']);
  });
});

describe('bestSwap', () => {
  it('changes one part for one that passed, so that either answer tells', () => {
    const entries = [hold('07:00', 'bain-1', 'dental'), failedHold('08:00', 'y-piece-1', 'theatre-1')];
    expect(swap(entries)).toMatchObject({
      circuit: 'y-piece-1',
      machine: 'dental',
      in: 'dental',
      proven: true,
      ifFail: [[{ id: 'y-piece-1' }]],
      ifPass: [[{ id: 'theatre-1' }]],
    });
  });

  it('does not take a Bain in place of a circle, for it tells nothing of absorber and valves', () => {
    const fail = failedHold('08:00', 'y-piece-1', 'theatre-1');
    expect(swap([fail, withdraw('08:10', 'dental'), hold('08:20', 'bain-1', 'theatre-1')])).toBeNull();
    expect(swap([fail, withdraw('08:10', 'dental')])).toMatchObject({
      circuit: 'coaxial-1',
      machine: 'theatre-1',
      proven: false,
    });
    const group = groupsOf([fail, hold('09:00', 'bain-1', 'theatre-1')])[0];
    expect(group?.cleared[0]).toMatchObject({ part: { id: 'theatre-1' }, exceptCircle: true });
  });

  it('never names a partner that is withdrawn or itself suspect', () => {
    const fail = failedHold('08:00', 'y-piece-1', 'theatre-1');
    const others = ['t-piece-1', 'bain-1', 'coaxial-1'].map((id, i) => withdraw(`08:0${i + 1}`, id));
    expect(swap([fail, ...others])).toMatchObject({ machine: 'dental' });
    expect(swap([fail, ...others, withdraw('08:10', 'dental')])).toBeNull();
    expect(swap([fail, ...others, failedHold('08:20', 'coaxial-1', 'dental')])).toBeNull();
  });

  it('exchanges a named bag where that is as telling, for it is the quickest', () => {
    expect(swap([failedHold('08:00', 'y-piece-1', 'theatre-1', BAG_A)])?.out.kind).not.toBeUndefined();
    const cleared = [
      failedHold('08:00', 'y-piece-1', 'theatre-1', BAG_A),
      hold('09:00', 'y-piece-1', 'dental'),
    ];
    expect(swap(cleared)).toMatchObject({
      out: { id: 'three-litre-a' },
      in: null,
      ifPass: [[{ id: 'three-litre-a' }]],
      ifFail: [[{ id: 'theatre-1' }]],
    });
  });

  it('has nothing to tell where one suspect is left', () => {
    expect(
      swap([failedHold('08:00', 'y-piece-1', 'theatre-1'), hold('09:00', 'y-piece-1', 'dental')]),
    ).toBeNull();
  });
});

describe('what is told of suspects', () => {
  const circle = failedHold('08:00', 'y-piece-1', 'theatre-1');
  const suspectsOf = (entries: Entry[]) =>
    groupsOf(entries).map(({ suspects }) =>
      suspects.map(
        ({ part, alone, explains, withAnother }) =>
          `${part.kind} ${part.id}${alone ? ' alone' : ''} ${explains} ${withAnother}`,
      ),
    );
  const explanationsOf = (entries: Entry[]) =>
    groupsOf(entries).map(({ explanations }) =>
      explanations.map(parts => parts.map(({ id }) => id).join('+')),
    );

  it('is which part explains how many failures, and with how many others', () => {
    expect(suspectsOf([circle])).toEqual([['circuit y-piece-1 alone 1 0', 'machine theatre-1 alone 1 0']]);
    expect(explanationsOf([circle])).toEqual([['y-piece-1', 'theatre-1']]);
    const three = [
      circle,
      failedHold('08:10', 'y-piece-1', 'dental'),
      failedHold('08:20', 'bain-1', 'dental'),
    ];
    expect(suspectsOf(three)).toEqual([
      ['circuit y-piece-1 2 2', 'machine dental 2 2', 'circuit bain-1 1 1', 'machine theatre-1 1 1'],
    ]);
    expect(explanationsOf(three)).toEqual([['y-piece-1+dental', 'y-piece-1+bain-1', 'theatre-1+dental']]);
  });

  it('knows no explanation where more than two parts must leak', () => {
    const entries = [
      failedHold('08:00', 'bain-1', 'dental'),
      failedHold('08:10', 'y-piece-1', 'dental'),
      failedHold('08:20', 'y-piece-1', 'theatre-1'),
      failedHold('08:30', 't-piece-1', 'theatre-1'),
      hold('09:00', 'coaxial-1', 'dental'),
      hold('09:10', 'coaxial-1', 'theatre-1'),
    ];
    // Both machines passed since: three circuits are left, each with a failure of its own.
    expect(groupsOf(entries).map(({ leaks }) => leaks)).toEqual([1, 1, 1]);
    const star = [
      failedHold('08:00', 'bain-1', 'theatre-1'),
      failedHold('08:10', 'y-piece-1', 'theatre-1'),
      failedHold('08:20', 'y-piece-1', 'dental'),
      failedHold('08:30', 't-piece-1', 'dental'),
    ];
    // The Bain asks for the one machine, the T-piece for the other, and the circle for either.
    expect(explanationsOf(star)).toEqual([['theatre-1+dental']]);
    expect(groupsOf(star)[0]?.leaks).toBe(2);
  });

  it('joins failures through a third that shares a part with each', () => {
    const apart = [circle, failedHold('08:10', 'bain-1', 'dental')];
    expect(groupsOf(apart).map(({ failures }) => failures.length)).toEqual([1, 1]);
    const joined = groupsOf([...apart, failedHold('08:20', 'bain-1', 'theatre-1')]);
    expect(joined.map(({ failures }) => failures.map(({ done }) => done.order))).toEqual([[0, 1, 2]]);
  });

  it('lists the groups and their failures in the order in which they were done', () => {
    const entries = [
      failedHold('08:00', 'bain-1', 'dental'),
      failedHold('08:10', 'y-piece-1', 'theatre-1'),
      failedHold('08:20', 't-piece-1', 'dental'),
    ];
    expect(groupsOf(entries).map(({ failures }) => failures.map(({ entry }) => entry.circuit))).toEqual([
      ['y-piece-1'],
      ['bain-1', 't-piece-1'],
    ]);
  });

  it('names the last pass that clears a part, and clears none that another failure holds', () => {
    const first = hold('09:00', 'y-piece-1', 'dental');
    const last = hold('10:00', 'y-piece-1', 'dental');
    const [group] = groupsOf([circle, first, last]);
    expect(group?.cleared).toMatchObject([
      { part: { kind: 'circuit', id: 'y-piece-1' }, by: { entry: { id: last.id } }, exceptCircle: false },
    ]);
    // theatre-1 passed after the first failure and failed again after that.
    const again = [
      circle,
      hold('09:00', 'bain-1', 'theatre-1'),
      failedHold('10:00', 'coaxial-1', 'theatre-1'),
      failedHold('10:10', 'coaxial-1', 'dental'),
      failedHold('10:20', 'y-piece-1', 'dental'),
    ];
    expect(groupsOf(again)[0]?.cleared).toEqual([]);
    expect(groupsOf([circle, hold('09:00', 'bain-1', 'theatre-1')])[0]?.cleared).toHaveLength(1);
  });

  it('goes by when things were done, not by which pair was known first', () => {
    const known = [hold('06:00', 'bain-1', 'theatre-1'), hold('06:10', 'y-piece-1', 'dental')];
    const order = groupsOf([
      ...known,
      failedHold('08:00', 'y-piece-1', 'dental'),
      failedHold('08:10', 'bain-1', 'theatre-1'),
    ]).map(({ failures }) => failures.map(({ entry }) => entry.circuit));
    expect(order).toEqual([['y-piece-1'], ['bain-1']]);
    const last = hold('10:00', 'bain-1', 'theatre-1');
    const [group] = groupsOf([...known, circle, hold('09:00', 't-piece-1', 'theatre-1'), last]);
    expect(group?.cleared.find(({ part }) => part.id === 'theatre-1')?.by.entry.id).toBe(last.id);
  });

  it('says of a cleared machine whether its circle was in the test that clears it', () => {
    const clearedBy = (failed: string, passed: string) =>
      groupsOf([failedHold('08:00', failed, 'theatre-1'), hold('09:00', passed, 'theatre-1')])[0]?.cleared[0];
    expect(clearedBy('y-piece-1', 'bain-1')).toMatchObject({ exceptCircle: true });
    expect(clearedBy('y-piece-1', 'coaxial-1')).toMatchObject({ exceptCircle: false });
    expect(clearedBy('bain-1', 't-piece-1')).toMatchObject({ exceptCircle: false });
    expect(clearedBy('bain-1', 'y-piece-1')).toMatchObject({ exceptCircle: false });
    // A circuit that passes elsewhere is cleared whole.
    expect(groupsOf([circle, hold('09:00', 'y-piece-1', 'dental')])[0]?.cleared[0]).toMatchObject({
      part: { id: 'y-piece-1' },
      exceptCircle: false,
    });
  });

  it('holds a stuck pop-off against a circuit that has left the inventory, not against the machine', () => {
    const stuck = { pop_off: 'stuck', reason: 'pop_off_stuck' } as const;
    expect(told([failedHold('08:00', 'y-piece-9', 'theatre-1', stuck)])[0]?.suspects).toEqual(['y-piece-9']);
  });
});

describe('which swap is named', () => {
  const circle = failedHold('08:00', 'y-piece-1', 'theatre-1');

  it('a circuit rather than a machine, where both tell as much and neither is proven', () => {
    expect(swap([circle])).toEqual({
      circuit: 'coaxial-1',
      machine: 'theatre-1',
      out: { kind: 'circuit', id: 'y-piece-1' },
      in: 'coaxial-1',
      ifFail: [[{ kind: 'machine', id: 'theatre-1' }]],
      ifPass: [[{ kind: 'circuit', id: 'y-piece-1' }]],
      proven: false,
    });
  });

  it('one that passed its last test rather than one that did not', () => {
    expect(swap([hold('07:00', 'bain-1', 'dental'), circle])).toMatchObject({ in: 'dental', proven: true });
    // A pass that does not count proves nothing, nor one before a failure.
    const shut = hold('07:00', 'bain-1', 'dental', { pop_off: 'shut' });
    expect(swap([shut, circle])).toMatchObject({ in: 'coaxial-1', proven: false });
    const other = [
      hold('06:00', 'coaxial-1', 'dental'),
      hold('07:00', 'coaxial-1', 'dental', { pop_off: 'shut' }),
    ];
    expect(swap([...other, circle])).toMatchObject({ proven: false });
  });

  it('a circuit that passed its last test with any machine, whichever was known first', () => {
    expect(swap([hold('06:00', 'coaxial-1', 'dental'), circle])).toMatchObject({
      in: 'coaxial-1',
      proven: true,
    });
    const again = [
      hold('05:00', 'coaxial-1', 'dental'),
      hold('06:00', 'coaxial-1', 'theatre-1', { pop_off: 'shut' }),
      hold('07:00', 'coaxial-1', 'dental'),
    ];
    expect(swap([...again, circle])).toMatchObject({ in: 'coaxial-1', proven: true });
    // With its last one not counting, the machine that passed is the better partner.
    expect(swap([...again.slice(0, 2), circle])).toMatchObject({ in: 'dental', proven: true });
  });

  it('one that splits the explanations most evenly', () => {
    // Three explanations: bag, circuit, machine. Any one part leaves two and one.
    expect(swap([failedHold('08:00', 'y-piece-1', 'theatre-1', BAG_A)])).toMatchObject({
      out: { kind: 'bag', id: 'three-litre-a' },
      in: null,
      proven: false,
    });
  });

  it('of a Bain another non-rebreathing circuit, and a machine that drives a Bain', () => {
    const bain = failedHold('08:00', 'bain-1', 'theatre-1');
    expect(swap([bain])).toMatchObject({ circuit: 't-piece-1', machine: 'theatre-1', in: 't-piece-1' });
    expect(swap([bain, withdraw('08:10', 't-piece-1')])).toMatchObject({
      circuit: 'bain-1',
      machine: 'dental',
    });
    const narrow = {
      ...inventory,
      machines: inventory.machines.map(machine =>
        machine.id === 'dental' ? { ...machine, drives: ['circle' as const] } : machine,
      ),
    };
    const standing = foldStanding(narrow, [bain, withdraw('08:10', 't-piece-1')]);
    const groups = findSuspects(standing, narrow);
    expect(groups[0] && bestSwap(groups[0], groups, standing, narrow)).toBeNull();
  });

  it('none on a machine or circuit that is itself out of service', () => {
    expect(swap([circle, withdraw('08:10', 'theatre-1')])).toMatchObject({ machine: 'dental' });
    expect(swap([circle, withdraw('08:10', 'y-piece-1')])).toMatchObject({ circuit: 'coaxial-1' });
    expect(swap([circle, withdraw('08:10', 'y-piece-1'), withdraw('08:11', 'theatre-1')])).toBeNull();
  });

  it('none for a circuit that has left the inventory', () => {
    expect(swap([failedHold('08:00', 'y-piece-9', 'theatre-1')])).toBeNull();
    expect(swap([failedHold('08:00', 'y-piece-1', 'theatre-9')])).toMatchObject({ out: { id: 'theatre-9' } });
  });
});
