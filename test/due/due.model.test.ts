/**
 * dueItems against a naive model written on purpose: it looks at the raw entries anew for every question and finds dates by
 * walking day by day. Nothing is shared with src/due, src/calendar or the fold of the record.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dueItems } from '../../src/due/due.ts';
import type { Entry } from '../../src/generated/entry.ts';
import type { Asset, Check } from '../../src/inventory/inventory.ts';
import { foldStanding } from '../../src/record/standing.ts';
import { walk, walkMonths, walkOpenDays } from '../calendar/naive.ts';
import {
  correct,
  failedHold,
  giveBack,
  hold,
  reading,
  signOff,
  supplyHold,
  usage,
  withdraw,
} from '../record/entries.ts';
import { larkhill } from './helpers.ts';

const inventory = larkhill();
const CIRCUITS = ['bain-1', 'y-piece-1', 't-piece-1'];
const PAIRS = inventory.checks.flatMap(check => check.assets.map(asset => ({ asset, check: check.id })));

/** One entry at an hour of a day between 1 October and 9 December 2026. */
const somethingDone: fc.Arbitrary<(day: string) => Entry> = fc.oneof(
  fc
    .record({ pair: fc.constantFrom(...PAIRS), result: fc.constantFrom('pass' as const, 'fail' as const) })
    .map(
      ({ pair, result }) =>
        (day: string): Entry =>
          signOff(day, pair.asset, pair.check, result),
    ),
  fc.constantFrom(...CIRCUITS).map(
    circuit =>
      (day: string): Entry =>
        hold(day, circuit, 'theatre-1'),
  ),
  fc.constantFrom(...CIRCUITS).map(
    circuit =>
      (day: string): Entry =>
        hold(day, circuit, 'theatre-1', { pop_off: 'shut' }),
  ),
  fc.constantFrom(...CIRCUITS).map(
    circuit =>
      (day: string): Entry =>
        failedHold(day, circuit, 'theatre-1'),
  ),
  fc.constantFrom('pass' as const, 'fail' as const).map(
    result =>
      (day: string): Entry =>
        supplyHold(day, 'ward-e-1', result),
  ),
  fc.record({ circuit: fc.constantFrom(...CIRCUITS), minutes: fc.constantFrom(30, 90, 240) }).map(
    ({ circuit, minutes }) =>
      (day: string): Entry =>
        usage(day, 'theatre-1', circuit, { minutes, agent: 'isoflurane', setting_percent: 2 }),
  ),
  fc.record({ g: fc.constantFrom(800, 820, 851, 870), isNew: fc.boolean() }).map(
    ({ g, isNew }) =>
      (day: string): Entry =>
        reading(day, 'theatre-1-charcoal', { g, new: isNew }),
  ),
  fc.constantFrom(...PAIRS).map(
    ({ asset }) =>
      (day: string): Entry =>
        withdraw(day, asset),
  ),
  fc.constantFrom(...PAIRS).map(
    ({ asset }) =>
      (day: string): Entry =>
        giveBack(day, asset),
  ),
);

const history: fc.Arbitrary<Entry[]> = fc
  .array(
    fc.record({
      days: fc.integer({ min: 0, max: 3 }),
      done: somethingDone,
      cancels: fc.integer({ min: 0, max: 5 }),
    }),
    { maxLength: 40 },
  )
  .map(steps => {
    let day = '2026-10-01';
    const entries: Entry[] = [];
    for (const { days, done, cancels } of steps) {
      day = walk(day, days);
      const on = `${day}T10:00:00+01:00`;
      entries.push(done(on));
      const target = cancels === 0 ? entries.at(-2) : undefined;
      if (target !== undefined) entries.push(correct(on, target.id));
    }
    return entries;
  });

type Answer = { state: string; dueOn: string | null; daysOverdue: number; lastDoneOn: string | null };

function naive(asset: Asset, check: Check, all: readonly Entry[], asOf: string, soonDays: number): Answer {
  const gone = all.flatMap(entry => (entry.kind === 'correct' ? [entry.entry] : []));
  const entries = all.filter(entry => !gone.includes(entry.id) || entry.kind === 'correct');
  const isPass = (entry: Entry) => outcome(entry, asset, check) === 'pass';
  const isFail = (entry: Entry) => outcome(entry, asset, check) === 'fail';
  const lastPass = entries.findLast(isPass);
  const failed =
    entries.findLastIndex(isFail) > entries.findLastIndex(isPass) ? entries.findLast(isFail) : undefined;
  const lastDoneOn = lastPass?.on.slice(0, 10) ?? null;
  const candidates = [
    failed?.on.slice(0, 10),
    byCalendar(asset, check, lastDoneOn),
    byHours(asset, check, entries),
    byGrams(asset, check, entries),
  ];
  const dueOn = candidates.filter(date => date !== undefined).sort()[0] ?? null;
  const isWithdrawn =
    entries.findLast(e => (e.kind === 'withdraw' || e.kind === 'return') && e.asset === asset.id)?.kind ===
    'withdraw';
  let late = 0;
  if (dueOn !== null) while (walk(dueOn, late) < asOf) late++;
  const state = isWithdrawn
    ? 'withdrawn'
    : failed !== undefined || late > 0
      ? 'overdue'
      : dueOn === null
        ? 'ok'
        : dueOn === asOf
          ? 'due'
          : isLong(check, soonDays) && dueOn <= walk(asOf, soonDays)
            ? 'soon'
            : 'ok';
  return { state, dueOn, daysOverdue: state === 'overdue' ? late : 0, lastDoneOn };
}

function outcome(entry: Entry, asset: Asset, check: Check): 'pass' | 'fail' | null {
  if (entry.kind === 'sign_off')
    return entry.asset === asset.id && entry.check === check.id ? entry.result : null;
  if (entry.kind === 'hold' && check.doneBy === 'hold' && entry.circuit === asset.id) {
    return entry.result === 'pass' && entry.pop_off !== 'open' ? null : entry.result;
  }
  if (entry.kind === 'supply_hold' && check.doneBy === 'supply_hold' && entry.supply === asset.id)
    return entry.result;
  if (entry.kind === 'reading' && entry.asset === asset.id && check.after.gainG !== null && entry.new)
    return 'pass';
  return null;
}

function byCalendar(asset: Asset, check: Check, lastDoneOn: string | null): string | undefined {
  if (check.every === null) return undefined;
  const base = lastDoneOn ?? asset.since ?? '';
  const { openDays, closedDates } = inventory.practice;
  const { unit, count } = check.every;
  const step = (from: string, n: number) =>
    unit === 'open_days'
      ? walkOpenDays(from, n * count, openDays, closedDates)
      : unit === 'months' || unit === 'years'
        ? walkMonths(from, n * count * (unit === 'years' ? 12 : 1))
        : walk(from, n * count * (unit === 'weeks' ? 7 : 1));
  if (check.countedFrom === 'last_done') return step(base, 1);
  let n = 0;
  while (step(check.starting ?? '', n) <= base) n++;
  return step(check.starting ?? '', n);
}

/** In this inventory the absorber wears with the Y-piece alone, the canister with every case. */
function byHours(asset: Asset, check: Check, entries: readonly Entry[]): string | undefined {
  if (check.after.hoursInUse === null) return undefined;
  const from = entries.findLastIndex(
    e => outcome(e, asset, check) === 'pass' || (e.kind === 'reading' && e.asset === asset.id && e.new),
  );
  if (from === -1 && asset.type === 'scavenging') return undefined;
  let minutes = 0;
  for (const entry of entries.slice(from + 1)) {
    if (entry.kind !== 'usage' || (asset.type === 'absorber' && entry.circuit !== 'y-piece-1')) continue;
    minutes += entry.minutes;
    if (minutes >= check.after.hoursInUse * 60) return entry.on.slice(0, 10);
  }
  return undefined;
}

function byGrams(asset: Asset, check: Check, entries: readonly Entry[]): string | undefined {
  if (check.after.gainG === null) return undefined;
  const readings = entries
    .filter(entry => entry.kind === 'reading')
    .filter(entry => entry.asset === asset.id);
  const from = readings.findLastIndex(entry => entry.new);
  const empty = readings[from]?.g;
  if (empty === undefined) return undefined;
  const limit = check.after.gainG;
  // What is lighter than when it was new is no weighing of this canister, and says nothing.
  const later = readings.slice(from + 1).filter(({ g }) => (g ?? 0) >= empty);
  const byScale = later.find(({ g }) => (g ?? 0) - empty >= limit);
  if (byScale !== undefined) return byScale.on.slice(0, 10);
  let gained = Math.max(0, ...later.map(({ g }) => (g ?? 0) - empty));
  for (const entry of entries.slice(entries.lastIndexOf((later.at(-1) ?? readings[from]) as Entry) + 1)) {
    if (entry.kind !== 'usage') continue;
    // 2 % of the flow is vapour; 195 mL of it are 1 mL of liquid, which weighs 1.496 g.
    gained += ((entry.flow_ml_min * entry.minutes * 0.02) / 195) * 1.496;
    if (gained >= limit) return entry.on.slice(0, 10);
  }
  return undefined;
}

function isLong({ every }: Check, soonDays: number): boolean {
  if (every === null) return false;
  const days = {
    days: 1,
    weeks: 7,
    months: 30,
    years: 365,
    open_days: 7 / inventory.practice.openDays.length,
  }[every.unit];
  return every.count * days > soonDays;
}

describe('dueItems', () => {
  it('says of every check of every asset what a look at the raw entries says', () => {
    const days = fc.integer({ min: 0, max: 40 });
    fc.assert(
      fc.property(history, days, fc.constantFrom(0, 7, 14, 31), (entries, after, soonDays) => {
        const asOf = walk(entries.at(-1)?.on.slice(0, 10) ?? '2026-10-01', after);
        const items = dueItems({ inventory, standing: foldStanding(inventory, entries), asOf, soonDays });
        expect(items).toHaveLength(PAIRS.length);
        for (const { asset, check, state, dueOn, daysOverdue, lastDoneOn } of items) {
          const answer = naive(asset, check, entries, asOf, soonDays);
          expect({ of: `${asset.id} ${check.id}`, state, dueOn, daysOverdue, lastDoneOn }).toEqual({
            of: `${asset.id} ${check.id}`,
            ...answer,
          });
        }
      }),
      { numRuns: 60 },
    );
  });
});
