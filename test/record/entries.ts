/** Made-up entries for tests: each function fills in what a test does not care about. */
import type {
  ComplianceEntry,
  CorrectEntry,
  HoldEntry,
  ReadingEntry,
  ReturnEntry,
  SignOffEntry,
  SupplyHoldEntry,
  UsageEntry,
  WithdrawEntry,
} from '../../src/generated/entry.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { ensureInventory } from '../../src/inventory/load.ts';

export const LARKHILL = 'test/record/larkhill.yaml';

/** The invented practice of larkhill.yaml. */
export function larkhill(): Inventory {
  return ensureInventory(LARKHILL, () => '2026-11-25');
}

const ENVELOPE = {
  v: 1,
  station: 'theatre',
  by: 'M. Quill',
  inventory: 'a'.repeat(40),
  tool: '0.1.0',
  prev: '0'.repeat(64),
} as const;

let count = 0;

/** A fresh id and the time: `on` is an hour and minute of the 25th, or a whole timestamp. */
function when(on: string) {
  count += 1;
  const instant = on.length === 5 ? `2026-11-25T${on}:00+00:00` : on;
  return {
    ...ENVELOPE,
    id: `entry-${String(count).padStart(6, '0')}`,
    at: instant.length === 10 ? `${instant}T18:00:00+00:00` : instant,
    on: instant,
  };
}

type Given<E> = Partial<E>;

export function hold(on: string, circuit: string, machine: string, given: Given<HoldEntry> = {}): HoldEntry {
  return {
    ...when(on),
    kind: 'hold',
    circuit,
    machine,
    fall: { from_cmh2o: 30, to_cmh2o: 30, seconds: 10 },
    pop_off: 'open',
    rule: { pressure_cmh2o: 30, seconds: 10, drop_cmh2o: 0, make_up_ml_min: 200 },
    result: 'pass',
    reason: 'held',
    ...given,
  };
}

export function failedHold(
  on: string,
  circuit: string,
  machine: string,
  given: Given<HoldEntry> = {},
): HoldEntry {
  return hold(on, circuit, machine, {
    fall: { from_cmh2o: 30, to_cmh2o: 22, seconds: 10 },
    result: 'fail',
    reason: 'fell',
    ...given,
  });
}

export function supplyHold(on: string, supply: string, result: 'pass' | 'fail'): SupplyHoldEntry {
  return {
    ...when(on),
    kind: 'supply_hold',
    supply,
    from_psi: 1500,
    to_psi: result === 'pass' ? 1480 : 1300,
    minutes: 5,
    rule: { fall_psi: 100, minutes: 5 },
    result,
  };
}

export function signOff(
  on: string,
  asset: string,
  check: string,
  result: 'pass' | 'fail' = 'pass',
): SignOffEntry {
  return { ...when(on), kind: 'sign_off', asset, check, result };
}

export function reading(on: string, asset: string, given: Given<ReadingEntry>): ReadingEntry {
  return { ...when(on), kind: 'reading', asset, new: false, ...given };
}

export function withdraw(on: string, asset: string, because = 'a split hose'): WithdrawEntry {
  return { ...when(on), kind: 'withdraw', asset, because };
}

export function giveBack(on: string, asset: string): ReturnEntry {
  return { ...when(on), kind: 'return', asset };
}

export function usage(
  on: string,
  machine: string,
  circuit: string,
  given: Given<UsageEntry> = {},
): UsageEntry {
  return { ...when(on), kind: 'usage', machine, circuit, minutes: 45, flow_ml_min: 1000, ...given };
}

export function correct(on: string, entry: string): CorrectEntry {
  return { ...when(on), kind: 'correct', entry, because: 'typed for the wrong circuit' };
}

export function compliance(on: string, circuit: string, machine: string, mlPerCm = 8): ComplianceEntry {
  return {
    ...when(on),
    kind: 'compliance',
    circuit,
    machine,
    flow_ml_min: 1000,
    from_cmh2o: 10,
    to_cmh2o: 30,
    seconds: 9.6,
    compliance_ml_cmh2o: mlPerCm,
  };
}
