/** What is out of service, and why: the list for the engineer. Pure. */
import type { Inventory } from '../inventory/inventory.ts';
import { holdReasonWords } from './counting.ts';
import { standingFailure } from './pair-hold.ts';
import { openPopOff, POP_OFF_CHECK } from './pop-off.ts';
import {
  type Done,
  type HoldDone,
  type PairStanding,
  type Standing,
  standsFailed,
} from './standing-types.ts';

export interface OpenItem {
  readonly what: 'withdrawn' | 'failed_hold' | 'pop_off' | 'failed_check' | 'failed_supply_hold';
  /** One id, or circuit and machine. */
  readonly assets: readonly string[];
  readonly check: string | null;
  readonly done: Done;
  readonly because: string;
  /** Of a failed leak test. */
  readonly hold: HoldDone | null;
}

/** Everything that stands open, what is withdrawn first, each in the order in which it was found. */
export function openItems(standing: Standing, inventory: Inventory): OpenItem[] {
  const order = [
    ...withdrawn(standing),
    ...failedHolds(standing, inventory),
    ...popOffs(standing, inventory),
    ...failedChecks(standing, inventory),
    ...failedSupplyHolds(standing),
  ];
  const rank = (item: OpenItem) => KINDS.indexOf(item.what);
  return order.sort((a, b) => rank(a) - rank(b) || a.done.order - b.done.order);
}

const KINDS: readonly OpenItem['what'][] = [
  'withdrawn',
  'failed_hold',
  'pop_off',
  'failed_check',
  'failed_supply_hold',
];

function* withdrawn(standing: Standing): Generator<OpenItem> {
  for (const { id, withdrawn: out } of standing.assets.values()) {
    if (out !== null)
      yield {
        what: 'withdrawn',
        assets: [id],
        check: null,
        done: out.done,
        because: out.because,
        hold: null,
      };
  }
}

function* failedHolds(standing: Standing, inventory: Inventory): Generator<OpenItem> {
  for (const pair of standing.pairs.values()) {
    const hold = standingFailure(pair, inventory);
    if (hold === null) continue;
    const because = holdReasonWords(hold.entry.reason);
    yield {
      what: 'failed_hold',
      assets: [pair.circuit, pair.machine],
      check: null,
      done: hold.done,
      because,
      hold,
    };
  }
}

/** Each pop-off once, under the pair that left it so. */
function* popOffs(standing: Standing, inventory: Inventory): Generator<OpenItem> {
  const pairs = [...standing.pairs.values()];
  // A test that failed for it alone has told of it. Where a leak decided, it is a second fault, named besides.
  const told = new Set(pairs.flatMap(pair => failedForPopOff(pair, inventory)?.done.entry ?? []));
  for (const pair of pairs) {
    const open = openPopOff(standing, inventory, pair.circuit, pair.machine);
    if (open === null || told.has(open.done.entry)) continue;
    told.add(open.done.entry);
    yield {
      what: 'pop_off',
      assets: [open.circuit, open.machine ?? pair.machine],
      check: null,
      done: open.done,
      because: open.because,
      hold: null,
    };
  }
}

function failedForPopOff(pair: PairStanding, inventory: Inventory) {
  const hold = standingFailure(pair, inventory);
  return hold?.entry.reason === 'pop_off_stuck' ? hold : null;
}

/** Checks that a leak test answers stand under that test already. */
function* failedChecks(standing: Standing, inventory: Inventory): Generator<OpenItem> {
  const byTest = new Set(
    inventory.checks
      .filter(({ doneBy }) => doneBy === 'hold' || doneBy === 'supply_hold')
      .map(({ id }) => id),
  );
  for (const { id, checks } of standing.assets.values()) {
    for (const [check, state] of checks) {
      if (!standsFailed(state) || state.lastFail === null || byTest.has(check) || check === POP_OFF_CHECK)
        continue;
      yield {
        what: 'failed_check',
        assets: [id],
        check,
        done: state.lastFail,
        because: 'signed off as failed',
        hold: null,
      };
    }
  }
}

function* failedSupplyHolds(standing: Standing): Generator<OpenItem> {
  for (const { id, supplyHold } of standing.assets.values()) {
    if (!standsFailed(supplyHold) || supplyHold.lastFail === null) continue;
    yield {
      what: 'failed_supply_hold',
      assets: [id],
      check: null,
      done: supplyHold.lastFail,
      because: 'the gauge fell too far',
      hold: null,
    };
  }
}
