/** The one fold over the entries: what the record says of every asset and every pair. Pure. */
import type {
  ComplianceEntry,
  Entry,
  HoldEntry,
  ReadingEntry,
  SignOffEntry,
  SupplyHoldEntry,
  UsageEntry,
} from '../generated/entry.ts';
import { type Check, classOf, type Inventory } from '../inventory/inventory.ts';
import { grams, minutes, mlPerCmH2O, mlPerMin, percent, psi } from '../quantity/units.ts';
import { cancelledIds } from './cancelled.ts';
import { POP_OFF_CHECK } from './pop-off.ts';
import {
  type AssetStanding,
  type CheckStanding,
  type Done,
  type HoldDone,
  type PairStanding,
  pairKey,
  type Reading,
  type Standing,
  type Use,
} from './standing-types.ts';

/** An asset's standing while the fold goes on. */
interface AssetDraft {
  id: string;
  withdrawn: AssetStanding['withdrawn'];
  lastWithdrawal: Done | null;
  returned: Done | null;
  checks: Map<string, CheckStanding>;
  popOffAnswers: AssetStanding['popOffAnswers'][number][];
  supplyHold: CheckStanding;
  uses: Use[];
  readings: Reading[];
}

interface PairDraft {
  circuit: string;
  machine: string;
  holds: HoldDone[];
  compliances: PairStanding['compliances'][number][];
}

const NEVER: CheckStanding = { lastPass: null, lastFail: null };

/**
 * What the record says of each asset and pair.
 *
 * @param inventory - which checks a hold or a reading answers, and which parts a machine has.
 * @param entriesInOrder - all stations' entries in the order on, at, station, line. Cancelled ones count for nothing.
 * @example foldStanding(inventory, entries).assets.get('bain-1')?.withdrawn //=> null
 */
export function foldStanding(inventory: Inventory, entriesInOrder: readonly Entry[]): Standing {
  const fold = new Fold(inventory);
  const cancelled = cancelledIds(entriesInOrder);
  for (const [order, entry] of entriesInOrder.entries()) {
    if (!cancelled.has(entry.id)) fold.take(entry, doneOf(entry, order));
  }
  return { assets: fold.assets, pairs: fold.pairs };
}

/** An entry as something done. `on` carries the practice's own offset, so that its first ten letters are the date there. */
function doneOf(entry: Entry, order: number): Done {
  return { entry: entry.id, order, date: entry.on.slice(0, 10), on: entry.on, at: entry.at, by: entry.by };
}

class Fold {
  readonly assets = new Map<string, AssetDraft>();
  readonly pairs = new Map<string, PairDraft>();
  readonly #inventory: Inventory;
  readonly #checksOf: ReadonlyMap<string, readonly Check[]>;

  constructor(inventory: Inventory) {
    this.#inventory = inventory;
    this.#checksOf = checksByAsset(inventory);
  }

  take(entry: Entry, done: Done): void {
    switch (entry.kind) {
      case 'hold':
        this.#hold(entry, done);
        break;
      case 'supply_hold':
        this.#supplyHold(entry, done);
        break;
      case 'sign_off':
        this.#signOff(entry, done);
        break;
      case 'reading':
        this.#reading(entry, done);
        break;
      case 'withdraw':
        this.#withdraw(entry.asset, done, entry.because);
        break;
      case 'return':
        this.#asset(entry.asset).withdrawn = null;
        this.#asset(entry.asset).returned = done;
        break;
      case 'usage':
        this.#usage(entry, done);
        break;
      case 'compliance':
        this.#compliance(entry, done);
        break;
      case 'correct':
        break;
    }
  }

  #hold(entry: HoldEntry, done: Done): void {
    this.#asset(entry.machine);
    this.#asset(entry.circuit);
    this.#pair(entry.circuit, entry.machine).holds.push({ done, entry });
    // A pass with the pop-off left shut does not count, for the check as little as for the pair.
    if (entry.result === 'pass' && entry.pop_off !== 'open') return;
    for (const check of this.#checks(entry.circuit, 'hold'))
      this.#mark(entry.circuit, check.id, entry.result, done);
  }

  #supplyHold(entry: SupplyHoldEntry, done: Done): void {
    const asset = this.#asset(entry.supply);
    asset.supplyHold = marked(asset.supplyHold, entry.result, done);
    for (const check of this.#checks(entry.supply, 'supply_hold'))
      this.#mark(entry.supply, check.id, entry.result, done);
  }

  #signOff(entry: SignOffEntry, done: Done): void {
    if (entry.check === POP_OFF_CHECK)
      this.#asset(entry.asset).popOffAnswers.push({ done, result: entry.result });
    this.#mark(entry.asset, entry.check, entry.result, done);
  }

  #reading(entry: ReadingEntry, done: Done): void {
    this.#asset(entry.asset).readings.push({
      done,
      psi: entry.psi === undefined ? null : psi(entry.psi),
      g: entry.g === undefined ? null : grams(entry.g),
      isNew: entry.new,
    });
    for (const check of this.#checksOf.get(entry.asset) ?? []) {
      // Weighing a canister never renews it; only a fresh one answers the check on what it has gained.
      const answers = check.after.gainG === null ? check.doneBy === 'reading' : entry.new;
      if (answers) this.#mark(entry.asset, check.id, 'pass', done);
    }
  }

  #usage(entry: UsageEntry, done: Done): void {
    const use: Use = {
      done,
      minutes: minutes(entry.minutes),
      machine: entry.machine,
      circuit: entry.circuit,
      flowMlPerMin: mlPerMin(entry.flow_ml_min),
      agent: entry.agent ?? null,
      settingPercent: entry.setting_percent === undefined ? null : percent(entry.setting_percent),
      caseRef: entry.case ?? null,
    };
    for (const id of wornBy(this.#inventory, entry)) this.#asset(id).uses.push(use);
  }

  #compliance(entry: ComplianceEntry, done: Done): void {
    const mlPerCm = mlPerCmH2O(entry.compliance_ml_cmh2o);
    this.#pair(entry.circuit, entry.machine).compliances.push({ done, mlPerCmH2O: mlPerCm });
  }

  #mark(assetId: string, checkId: string, result: 'pass' | 'fail', done: Done): void {
    const { checks } = this.#asset(assetId);
    checks.set(checkId, marked(checks.get(checkId) ?? NEVER, result, done));
  }

  #checks(assetId: string, doneBy: Check['doneBy']): readonly Check[] {
    return (this.#checksOf.get(assetId) ?? []).filter(check => check.doneBy === doneBy);
  }

  #withdraw(id: string, done: Done, because: string): void {
    const asset = this.#asset(id);
    asset.withdrawn ??= { done, because };
    asset.lastWithdrawal = done;
  }

  #asset(id: string): AssetDraft {
    let asset = this.assets.get(id);
    if (asset === undefined) {
      asset = {
        id,
        withdrawn: null,
        lastWithdrawal: null,
        returned: null,
        checks: new Map(),
        popOffAnswers: [],
        supplyHold: NEVER,
        uses: [],
        readings: [],
      };
      this.assets.set(id, asset);
    }
    return asset;
  }

  #pair(circuit: string, machine: string): PairDraft {
    const key = pairKey(circuit, machine);
    let pair = this.pairs.get(key);
    if (pair === undefined) {
      pair = { circuit, machine, holds: [], compliances: [] };
      this.pairs.set(key, pair);
    }
    return pair;
  }
}

/** The ids of what a case wore, by the inventory as it is now. */
export function wornBy(
  inventory: Pick<Inventory, 'machines' | 'circuits'>,
  { machine: machineId, circuit: circuitId, agent }: WornInCase,
): string[] {
  const worn = [machineId, circuitId];
  const machine = inventory.machines.find(({ id }) => id === machineId);
  if (machine === undefined) return worn;
  const circuit = inventory.circuits.find(({ id }) => id === circuitId);
  // A circuit that has left the inventory may have been a circle: absorbent is counted as worn, the safe side.
  const isCircle = circuit === undefined || classOf(circuit.kind) === 'rebreathing';
  if (machine.absorber !== null && isCircle) worn.push(machine.absorber.id);
  for (const vaporizer of machine.vaporizers) {
    if (agent === undefined || vaporizer.agent === agent) worn.push(vaporizer.id);
  }
  if (machine.scavenging !== null) worn.push(machine.scavenging.id);
  return worn;
}

interface WornInCase {
  readonly machine: string;
  readonly circuit: string;
  readonly agent?: UsageEntry['agent'] | undefined;
}

function marked(before: CheckStanding, result: 'pass' | 'fail', done: Done): CheckStanding {
  return result === 'pass' ? { ...before, lastPass: done } : { ...before, lastFail: done };
}

function checksByAsset(inventory: Inventory): Map<string, Check[]> {
  const byAsset = new Map<string, Check[]>();
  for (const check of inventory.checks) {
    for (const asset of check.assets) byAsset.set(asset, [...(byAsset.get(asset) ?? []), check]);
  }
  return byAsset;
}
