import { readFileSync } from 'node:fs';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Day, hasDayStop, type PlannedCase, planDay } from '../../src/day/day.ts';
import type { DayCase } from '../../src/day/day-case.ts';
import type { Remedy } from '../../src/day/remedies.ts';
import { type EquipmentState, NO_RECORD } from '../../src/plan/request.ts';
import { psi } from '../../src/quantity/units.ts';
import { renderDayCsv } from '../../src/report/day-csv.ts';
import { renderDayHtml } from '../../src/report/day-html.ts';
import { dayDocument, renderDayJson } from '../../src/report/day-json.ts';
import { renderDayText } from '../../src/report/day-text.ts';
import { openingCommands } from '../../src/report/day-words.ts';
import { planFor } from '../support/plan.ts';
import { casesOf, DATE, dayOf, example } from './example.ts';

const HEADER = 'ref,species,weight,start,minutes';
const AT = '2026-11-25T09:00:00+00:00';
const READ: EquipmentState = { ...NO_RECORD, record: 'read' };

function plan(cases: readonly DayCase[], more: Partial<Parameters<typeof planDay>[0]> = {}): Day {
  return planDay({
    inventory: example(),
    date: DATE,
    isPast: false,
    at: AT,
    cases,
    equipmentFor: () => NO_RECORD,
    ...more,
  });
}

const planned = ({ cases }: Day): PlannedCase[] => cases.filter(one => one.state === 'planned');
const pairOf = ({ plan }: PlannedCase) =>
  `${plan.main?.choice.pair?.circuit.id} ${plan.main?.choice.pair?.machine.id}`;
const codes = ({ cautions }: Day) => cautions.map(({ code }) => code);

const row = fc.record({
  species: fc.constantFrom('dog', 'cat'),
  tenths: fc.integer({ min: 6, max: 350 }),
  quarter: fc.integer({ min: 0, max: 8 }),
  minutes: fc.integer({ min: 1, max: 5 }),
});

function casesFrom(
  rows: readonly (typeof row extends fc.Arbitrary<infer T> ? T : never)[],
): readonly DayCase[] {
  const lines = rows.map(({ species, tenths, quarter, minutes }, i) => {
    const weight = species === 'cat' ? Math.min(80, tenths) : tenths;
    const clock = `${String(8 + Math.floor(quarter / 4)).padStart(2, '0')}:${String((quarter % 4) * 15).padStart(2, '0')}`;
    return `R-${i},${species},${weight / 10}kg,${clock},${minutes * 15}`;
  });
  return casesOf(`${HEADER}\n${lines.join('\n')}\n`);
}

/** The pairs that may serve a case, read off plans of practices that have one pair alone, in two passes: own class first. */
function naivePairs({ species, weightKg }: DayCase): string[] {
  const inventory = example();
  const own: string[] = [];
  const standIns: string[] = [];
  for (const circuit of inventory.circuits) {
    for (const machine of inventory.machines) {
      const alone = { ...inventory, circuits: [circuit], machines: [machine] };
      const { main, cautions } = planFor(alone, weightKg, { species });
      if (main?.choice.pair == null) continue;
      const isStandIn = cautions.some(({ code }) => code === 'class_substituted');
      (isStandIn ? standIns : own).push(`${circuit.id} ${machine.id}`);
    }
  }
  return [...own, ...standIns];
}

function meet(a: DayCase, b: DayCase, turnoverMinutes = 10): boolean {
  const ms = (minutes: number) => minutes * 60_000;
  const [aFrom, bFrom] = [a.start.getTime(), b.start.getTime()];
  return aFrom < bFrom + ms(b.minutes + turnoverMinutes) && bFrom < aFrom + ms(a.minutes + turnoverMinutes);
}

/** Tries every way to give pairs to the cases, the preferred first. */
function naiveAssignment(
  cases: readonly DayCase[],
  pairs: readonly (readonly string[])[],
  taken: string[] = [],
): string[] | null {
  const next = cases[taken.length];
  if (next === undefined) return taken;
  for (const pair of pairs[taken.length] ?? []) {
    const [circuit, machine] = pair.split(' ');
    const isFree = taken.every((other, i) => {
      const before = cases[i];
      if (before === undefined || !meet(before, next)) return true;
      const [otherCircuit, otherMachine] = other.split(' ');
      return circuit !== otherCircuit && machine !== otherMachine;
    });
    if (!isFree) continue;
    const rest = naiveAssignment(cases, pairs, [...taken, pair]);
    if (rest !== null) return rest;
  }
  return null;
}

/** The day again with what a remedy says. */
function changedDay(cases: readonly DayCase[], remedy: Remedy): Day {
  const inventory = example();
  switch (remedy.kind) {
    case 'start': {
      const moved = cases.map(one => (one.ref === remedy.ref ? { ...one, start: remedy.start } : one));
      return plan(moved.sort((a, b) => a.start.getTime() - b.start.getTime()));
    }
    case 'one_more': {
      const twice = <T extends { readonly id: string }>(list: readonly T[], id: string): T[] =>
        list.flatMap(one => (one.id === id ? [one, { ...one, id: `${id}-more` }] : [one]));
      if (remedy.what === 'bag') {
        const bags = inventory.bags.map(bag =>
          bag.sizeMl === remedy.sizeMl ? { ...bag, count: bag.count + 1, ids: [] } : bag,
        );
        return plan(cases, { inventory: { ...inventory, bags } });
      }
      const list =
        remedy.what === 'machine'
          ? { machines: twice(inventory.machines, remedy.id) }
          : { circuits: twice(inventory.circuits, remedy.id) };
      return plan(cases, { inventory: { ...inventory, ...list } });
    }
    case 'other_class':
      return plan(cases.map(one => (one.ref === remedy.ref ? { ...one, circuit: remedy.circuit } : one)));
    case 'leave_out_name':
      return plan(
        cases.map(one => (one.ref === remedy.ref ? { ...one, machine: null, circuit: null } : one)),
      );
  }
}

describe('planDay', () => {
  it('plans a single case as a plan for it alone does', () => {
    fc.assert(
      fc.property(row, one => {
        const cases = casesFrom([one]);
        const alone = planFor(example(), cases[0]?.weightKg ?? 0, { species: cases[0]?.species ?? null });
        const first = plan(cases).cases[0];
        expect(first?.plan.main?.choice.pair).toEqual(alone.main?.choice.pair);
        expect(first?.plan.main?.flows?.phases).toEqual(alone.main?.flows?.phases);
        expect(first?.state === 'planned' ? first.bag?.sizeMl : null).toBe(
          alone.main?.choice.pair ? alone.bag?.sizeMl : null,
        );
      }),
      { numRuns: 60 },
    );
  });

  it('gives what trying everything gives, and says so when nothing can be given', () => {
    let clashes = 0;
    fc.assert(
      fc.property(fc.array(row, { minLength: 2, maxLength: 4 }), rows => {
        const cases = casesFrom(rows);
        // Bags are assigned by themselves; here there are enough of them.
        const inventory = { ...example(), bags: example().bags.map(bag => ({ ...bag, count: 9, ids: [] })) };
        const day = plan(cases, { inventory });
        const expected = naiveAssignment(cases, cases.map(naivePairs));
        if (expected !== null) {
          expect(planned(day).map(pairOf)).toEqual(expected);
          return;
        }
        clashes++;
        expect(codes(day)).toContain('day_no_assignment');
        const [clash] = day.clashes;
        const some = cases.filter(({ ref }) => clash?.refs.includes(ref));
        expect(naiveAssignment(some, some.map(naivePairs))).toBeNull();
        for (const left of some) {
          const others = some.filter(one => one !== left);
          expect(naiveAssignment(others, others.map(naivePairs))).not.toBeNull();
        }
      }),
      { numRuns: 60 },
    );
    expect(clashes).toBeGreaterThan(0);
  });

  it('never has a machine, a circuit or a single bag in use twice, the turnover included', () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 5, maxLength: 14 }), rows => {
        const all = planned(plan(casesFrom(rows)));
        for (const [i, a] of all.entries()) {
          for (const b of all.slice(i + 1)) {
            if (!meet(a.dayCase, b.dayCase)) continue;
            const [aPair, bPair] = [a.plan.main?.choice.pair, b.plan.main?.choice.pair];
            expect(aPair?.machine.id).not.toBe(bPair?.machine.id);
            expect(aPair?.circuit.id).not.toBe(bPair?.circuit.id);
            if (a.bag?.sizeMl === b.bag?.sizeMl) expect(a.bag?.which).not.toBe(b.bag?.which);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('takes other starts for remedies only where they resolve the clash, and none nearer is missed', () => {
    const cases = casesOf(
      `${HEADER}\nA,dog,20kg,08:00,60\nB,dog,21kg,08:00,60\nC,dog,22kg,08:00,60\nD,dog,23kg,08:30,60\n`,
    );
    const day = plan(cases);
    const [clash] = day.clashes;
    expect(clash).toMatchObject({ refs: ['A', 'B', 'C'], isSmallest: true });
    const starts = (clash?.remedies ?? []).flatMap(remedy => (remedy.kind === 'start' ? [remedy] : []));
    expect(starts.length).toBeGreaterThan(0);
    for (const { ref, start } of starts) {
      // Only against those that are planned: another case may be set aside for a clash of its own.
      const kept = new Set([...planned(day).map(({ dayCase }) => dayCase.ref), 'C']);
      const moved = cases
        .filter(one => kept.has(one.ref))
        .map(one => (one.ref === ref ? { ...one, start } : one));
      const sorted = [...moved].sort((a, b) => a.start.getTime() - b.start.getTime());
      expect(plan(sorted).clashes).toEqual([]);
    }
  });

  it('names only remedies that let the case be planned with all the others that are', () => {
    let tried = 0;
    fc.assert(
      fc.property(fc.array(row, { minLength: 3, maxLength: 7 }), rows => {
        const cases = casesFrom(rows);
        const day = plan(cases);
        const served = new Set(planned(day).map(({ dayCase }) => dayCase.ref));
        for (const { refs, setAside: _, remedies } of day.clashes) {
          const left = refs.filter(ref => !served.has(ref));
          for (const remedy of remedies) {
            tried++;
            // One of those left out finds room beside all that are planned.
            const outcomes = left.map(ref => {
              const together = cases.filter(one => served.has(one.ref) || one.ref === ref);
              return planned(changedDay(together, remedy)).length === together.length;
            });
            expect(outcomes).toContain(true);
          }
        }
      }),
      { numRuns: 40 },
    );
    expect(tried).toBeGreaterThan(0);
  });

  it('names one circuit more where that is what is lacking', () => {
    const day = dayOf(`${HEADER}\nA,dog,20kg,08:00,60\nB,dog,21kg,08:00,60\nC,dog,22kg,08:00,60`);
    const kinds = day.clashes[0]?.remedies.filter(({ kind }) => kind === 'one_more');
    expect(kinds).toContainEqual({ kind: 'one_more', what: 'circuit', id: 'y-large' });
    expect(kinds?.some(remedy => remedy.kind === 'one_more' && remedy.what === 'machine')).toBe(false);
  });

  it('says that leaving out a name or the other class would resolve a clash', () => {
    const named = dayOf(
      `${HEADER},machine,circuit\nA,dog,20kg,08:00,60,theatre-1,y-large\nB,dog,40kg,08:00,60,,`,
    );
    expect(named.clashes[0]?.remedies).toContainEqual({ kind: 'leave_out_name', ref: 'A', id: 'y-large' });
    const bains = dayOf(`${HEADER}\nA,dog,6kg,08:00,60\nB,dog,6kg,08:00,60\nC,dog,7.5kg,08:00,60`);
    const other = bains.clashes[0]?.remedies.find(({ kind }) => kind === 'other_class');
    expect(other).toMatchObject({ ref: 'C', circuit: 'coaxial-1' });
  });

  it('names the stops of single cases and plans the rest', () => {
    const day = dayOf(`${HEADER}\nA,cat,45kg,08:00,30\nB,other,3kg,08:00,30\nC,dog,9kg,09:30,30`);
    expect(day.cases.map(({ state }) => state)).toEqual(['stopped', 'planned', 'planned']);
    expect(day.cases[0]?.plan.cautions.map(({ code }) => code)).toContain('weight_implausible');
    expect(day.cases[1]?.plan.cautions.map(({ code }) => code)).toContain('tidal_volume_unknown');
    expect(day.cases[1]?.state === 'planned' && day.cases[1].bag).toBeNull();
    expect(hasDayStop(day)).toBe(true);
  });

  it('hangs the next larger bag where those of the size are in use, and no larger one', () => {
    const inventory = example();
    const bags = inventory.bags.map(bag =>
      bag.sizeMl === 2000 ? { ...bag, count: 1, ids: ['two-litre-a'] } : bag,
    );
    const rows = `${HEADER}\nA,dog,20kg,08:00,60\nB,dog,21kg,08:00,60`;
    const larger = dayOf(rows, { ...inventory, bags });
    expect(planned(larger).map(({ bag }) => bag?.sizeMl)).toEqual([2000, 3000]);
    expect(codes(larger)).toContain('day_bag_larger');
    // A bag that was withdrawn is not there: of two sizes that might do, none is left for B.
    const withdrawn: EquipmentState = { ...READ, outOfService: id => (id === 'two-litre-a' ? 'torn' : null) };
    const clash = dayOf(
      `${rows}\nC,dog,22kg,08:00,60`.replace('C,dog,22kg', 'C,cat,4kg'),
      { ...inventory, bags },
      withdrawn,
    );
    expect(clash.clashes[0]).toMatchObject({ part: 'bags', refs: ['A', 'B'] });
    expect(clash.clashes[0]?.remedies).toContainEqual({ kind: 'one_more', what: 'bag', sizeMl: 3000 });
  });

  it('claims nothing where the search was given up', () => {
    const day = plan(casesOf(`${HEADER}\nA,dog,20kg,08:00,60\n`), { searchSteps: 0 });
    expect(day.cases.map(({ state }) => state)).toEqual(['undecided']);
    expect(codes(day)).toContain('day_undecided');
    expect(hasDayStop(day)).toBe(true);
  });

  it('notes midnight, a closed day and a day gone by', () => {
    expect(codes(dayOf(`${HEADER}\nA,dog,20kg,23:30,60`))).toEqual(
      expect.arrayContaining(['day_past_midnight']),
    );
    const sunday = plan(casesOf(`${HEADER}\nA,dog,20kg,08:00,60\n`), { date: '2026-11-29', isPast: true });
    expect(codes(sunday)).toEqual(expect.arrayContaining(['day_closed', 'day_past']));
  });

  it('says which starts have passed when it is planned, but not of a day gone by', () => {
    const cases = casesOf(`${HEADER}\nA,dog,20kg,08:30,30\nB,dog,20kg,09:00,30\nC,dog,20kg,09:30,30\n`);
    const passed = (more: Partial<Parameters<typeof planDay>[0]>) =>
      plan(cases, more).cautions.flatMap(({ code, ref }) => (code === 'day_start_passed' ? [ref] : []));
    expect(passed({ at: '2026-11-27T09:00:00+00:00' })).toEqual(['A']);
    expect(passed({ at: '2026-11-27T17:34:00+00:00' })).toEqual(['A', 'B', 'C']);
    expect(passed({ at: '2026-11-27T08:30:00+00:00' })).toEqual([]);
    expect(passed({ at: '2026-11-28T09:00:00+00:00', isPast: true })).toEqual([]);
  });

  it('shares a concentrator between machines up to what it gives', () => {
    const inventory = example();
    const machines = inventory.machines.map(machine => ({ ...machine, oxygen: ['dental-concentrator'] }));
    // Two dogs of 30 kg start with 2.25 L/min and more each: the 5 L/min serve two, not three.
    const rows = (n: number) =>
      `${HEADER}\n${['A', 'B', 'C']
        .slice(0, n)
        .map(ref => `${ref},dog,14kg,08:00,60`)
        .join('\n')}`;
    const thirsty = {
      ...inventory,
      machines,
      supplies: inventory.supplies.map(one =>
        one.kind === 'concentrator' ? { ...one, maxMlPerMin: 2500 as typeof one.maxMlPerMin } : one,
      ),
    };
    expect(dayOf(rows(2), thirsty).clashes).toEqual([]);
    expect(dayOf(rows(3), thirsty).clashes[0]?.refs).toEqual(['A', 'B', 'C']);
    expect(dayOf(rows(3), { ...inventory, machines }).clashes).toEqual([]);
  });
});

describe('the morning list', () => {
  const holds = (day: Day) =>
    day.morning.map(({ items }) => items.filter(({ what }) => what === 'hold').length);
  const rows = `${HEADER},machine,circuit\nA,dog,20kg,08:00,30,theatre-1,y-large\nB,dog,20kg,09:00,30,theatre-1,y-large\nC,dog,20kg,10:00,30,theatre-1,coaxial-1\nD,dog,20kg,11:00,30,theatre-1,y-large`;
  const HELD: EquipmentState = { ...READ, hold: () => ({ state: 'held', last: null, because: null }) };

  it('has a leak test before every case, but where one counts now', () => {
    expect(holds(dayOf(rows))).toEqual([1, 1, 1, 1]);
    expect(holds(dayOf(rows, example(), HELD))).toEqual([0, 1, 1, 1]);
  });

  it('has one a day for a pair that stays together, where the practice says so', () => {
    const inventory = example();
    const { leakHold } = inventory.rules;
    const perDay = {
      ...inventory,
      rules: {
        ...inventory.rules,
        leakHold: { ...leakHold, validFor: { ...leakHold.validFor, value: 'day' as const } },
      },
    };
    expect(holds(dayOf(rows, perDay))).toEqual([1, 0, 1, 1]);
    expect(holds(dayOf(rows, perDay, HELD))).toEqual([0, 0, 1, 1]);
  });

  it('has what is overdue once, before the first case that it stops', () => {
    const words = 'overdue since 2026-11-20';
    const trouble = {
      asset: 'y-large',
      check: 'circuit-wash',
      state: 'overdue',
      blocks: true,
      words,
    } as const;
    const state: EquipmentState = {
      ...HELD,
      checks: assets => (assets.includes('y-large') ? [trouble] : []),
    };
    const day = dayOf(rows, example(), state);
    const washes = day.morning.map(
      ({ items }) => items.filter(item => item.what === 'check' && item.check === 'circuit-wash').length,
    );
    expect(washes).toEqual([1, 0, 0, 0]);
    expect(hasDayStop(day)).toBe(true);
  });

  describe('of a coming day', () => {
    const inventory = example();
    const bain = `${HEADER},circuit\nA,dog,6kg,08:00,30,bain-1\nB,dog,6kg,09:00,30,bain-1`;
    const trouble = (check: string, state: 'overdue' | 'failed') => ({
      asset: 'bain-1',
      check,
      state,
      blocks: true,
      words: `${state}, as the record says`,
    });
    const withTroubles = (...troubles: readonly ReturnType<typeof trouble>[]): EquipmentState => ({
      ...HELD,
      checks: assets => troubles.filter(({ asset }) => assets.includes(asset)),
    });
    const dayWith = (then: EquipmentState, equipmentToday: EquipmentState, checks = inventory.checks) =>
      plan(casesOf(`${bain}\n`), {
        inventory: { ...inventory, checks },
        equipmentFor: () => then,
        equipmentToday,
      });
    const lines = (day: Day, check: string) =>
      day.morning.map(({ items }) =>
        items.flatMap(item =>
          item.what === 'check' && item.check === check ? [`${item.blocks} ${item.because}`] : [],
        ),
      );

    it('says calmly and once what is done daily, as the list of a day like today does', () => {
      const day = dayWith(withTroubles(trouble('inner-tube', 'overdue')), HELD);
      expect(lines(day, 'inner-tube')).toEqual([['false before its first case of the day'], []]);
      expect(hasDayStop(day)).toBe(false);
      // In no round at all it would else be said nowhere.
      const checks = inventory.checks.map(check =>
        check.id === 'inner-tube' ? { ...check, round: null } : check,
      );
      const other = dayWith(withTroubles(trouble('inner-tube', 'overdue')), HELD, checks);
      expect(lines(other, 'inner-tube')).toEqual([['false before its first case of the day'], []]);
      expect(hasDayStop(other)).toBe(false);
    });

    it('stops at what is overdue today already, what failed, and what is not done daily', () => {
      const overdue = withTroubles(trouble('inner-tube', 'overdue'));
      for (const [then, today] of [
        [overdue, overdue],
        [withTroubles(trouble('inner-tube', 'failed')), HELD],
        [withTroubles(trouble('circuit-wash', 'overdue')), HELD],
      ] as const) {
        const day = dayWith(then, today);
        expect(hasDayStop(day)).toBe(true);
        const [check] = then.checks(['bain-1']).map(({ check }) => check);
        expect(lines(day, check ?? '')).toEqual([[`true ${then.checks(['bain-1'])[0]?.words}`], []]);
      }
      const byUse = inventory.checks.map(check =>
        check.id === 'inner-tube' ? { ...check, after: { ...check.after, hoursInUse: 4 as never } } : check,
      );
      expect(hasDayStop(dayWith(overdue, HELD, byUse))).toBe(true);
    });
  });

  it('begins with the opening round of each machine used, and each circuit with a check in it once', () => {
    const day = dayOf(
      `${HEADER},machine,circuit\nA,dog,6kg,08:00,30,theatre-2,bain-1\nB,cat,4kg,08:00,30,theatre-1,t-piece-1\nC,dog,6kg,09:00,30,theatre-1,bain-1`,
    );
    expect(day.opening).toEqual([
      { machine: 'theatre-1', circuits: ['t-piece-1'] },
      { machine: 'theatre-2', circuits: ['bain-1'] },
    ]);
    expect(openingCommands(day)).toEqual([
      'holdfast round opening theatre-1 --circuit t-piece-1',
      'holdfast round opening theatre-2 --circuit bain-1',
    ]);
    expect(renderDayHtml(day)).toContain('holdfast round opening theatre-1 --circuit t-piece-1');
    const inventory = example();
    const without = (keep: (round: string | null, id: string) => boolean) => ({
      ...inventory,
      checks: inventory.checks.filter(({ round, id }) => keep(round, id)),
    });
    const rows = `${HEADER},circuit\nA,cat,4kg,08:00,30,t-piece-1`;
    expect(
      dayOf(
        rows,
        without(round => round !== 'opening'),
      ).opening,
    ).toEqual([]);
    expect(
      openingCommands(
        dayOf(
          rows,
          without((_, id) => id !== 'pop-off'),
        ),
      ),
    ).toEqual(['holdfast round opening theatre-1']);
  });
});

describe('supplies over the day', () => {
  const inventory = example();
  const onCylinder = {
    ...inventory,
    machines: inventory.machines.map(machine =>
      machine.id === 'theatre-1' ? { ...machine, oxygen: ['theatre-1-e'] } : machine,
    ),
  };
  const gauge: EquipmentState = {
    ...READ,
    gauge: id =>
      id === 'theatre-1-e' ? { psi: psi(700), readAt: DATE, by: 'M. Quill', usedSinceMl: 0 as never } : null,
  };

  it('say before which case to change the cylinder, and go on with a full one', () => {
    // 660 L × (700 − 200) / 1900 = 173.7 L. A 20 kg dog on a circle: 15 × 1.5 + 20 × 0.6 + 5 × 1.5 = 42 L over 40 minutes.
    const rows = ['A', 'B', 'C', 'D', 'E', 'F'].map(
      (ref, i) => `${ref},dog,20kg,${String(8 + i).padStart(2, '0')}:00,40,theatre-1`,
    );
    const day = dayOf(`${HEADER},machine\n${rows.join('\n')}`, onCylinder, gauge);
    const cylinder = day.supplies.find(({ asset }) => asset.id === 'theatre-1-e');
    expect(cylinder?.left).toBeCloseTo(173.68, 2);
    const each = (cylinder?.used ?? 0) / 6;
    const lasts = Math.floor(173.68 / each);
    expect(cylinder?.changeBefore).toEqual([['A', 'B', 'C', 'D', 'E', 'F'][lasts]]);
    expect(codes(day)).toContain('day_change');
    expect(day.morning[lasts]?.items[0]).toEqual({ what: 'change', asset: 'theatre-1-e' });
  });

  it('say when even a full cylinder is too small, and what is not known', () => {
    // 24 h at 0.8 L/min and more are over 1000 L; a full one gives 660 × 1700 / 1900.
    const day = dayOf(`${HEADER},machine\nA,dog,31kg,08:00,1440,theatre-1`, onCylinder, gauge);
    expect(codes(day)).toContain('day_oxygen_short');
    const unknown = dayOf(`${HEADER},machine\nA,dog,31kg,08:00,60,theatre-1`, onCylinder, READ);
    expect(codes(unknown)).toContain('day_supply_unknown');
  });
});

describe('the forms of a day', () => {
  const day = dayOf(readFileSync('test/day/day.example.csv', 'utf8'));
  const hostile = dayOf(
    `${HEADER}\n"=cmd|' /C calc'!A0",cat,4kg,08:00,30\n<script>alert(1)</script>,dog,9kg,10:00,30`,
  );

  it('is the JSON that the schema describes', () => {
    const ajv = new Ajv({ strictTypes: false, allowUnionTypes: true });
    addFormats(ajv, ['date']);
    const validate = ajv.compile(JSON.parse(readFileSync('schemas/day.schema.json', 'utf8')));
    for (const one of [day, hostile]) {
      validate(JSON.parse(renderDayJson(one)));
      expect(validate.errors).toBeNull();
    }
    expect(dayDocument(day).cases.map(({ ref }) => ref)).toHaveLength(8);
  });

  it('keeps within the columns of the terminal', () => {
    for (const width of [40, 60, 80, 120]) {
      const text = renderDayText(day, { width, colour: false });
      const longest = Math.max(
        ...text
          .split('\n')
          .filter(line => !line.startsWith('A calculation'))
          .map(line => line.length),
      );
      expect(longest).toBeLessThanOrEqual(Math.min(width, 80));
    }
  });

  it('lets no cell run in a spreadsheet or a browser', () => {
    expect(renderDayCsv(hostile)).toContain("'=cmd|' /C calc'!A0");
    expect(renderDayHtml(hostile)).not.toContain('<script');
    expect(renderDayHtml(hostile)).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
    expect(renderDayHtml(day)).not.toMatch(/https?:|<link|<img|url\(/);
  });
});
