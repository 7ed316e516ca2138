/** The technician's morning list: before each case, in the order of time, what to connect, change, check and test. */
import { type Check, classOf, type Inventory } from '../inventory/inventory.ts';
import { supplyOf } from '../plan/fit.ts';
import type { EquipmentState } from '../plan/request.ts';
import { vaporizersFor } from '../plan/supplies/agent.ts';
import type { ComingEquipment } from './coming.ts';
import type { PlannedCase } from './day.ts';
import type { SupplyDay } from './supplies.ts';

export type MorningItem =
  | { readonly what: 'connect'; readonly circuit: string; readonly machine: string }
  | { readonly what: 'change'; readonly asset: string }
  | {
      readonly what: 'hold';
      readonly circuit: string;
      readonly machine: string;
      readonly pressureCmH2O: number;
      readonly seconds: number;
      readonly watch: 'gauge' | 'bag';
      readonly because: string;
    }
  | {
      readonly what: 'check';
      readonly asset: string;
      readonly check: string;
      readonly text: string | null;
      /** Stops the plan until it is done. */
      readonly blocks: boolean;
      readonly because: string;
    };

export interface BeforeCase {
  readonly ref: string;
  readonly start: Date;
  readonly items: readonly MorningItem[];
}

/** @param cases - those that are served, in the order of time */
export function morningList(
  cases: readonly PlannedCase[],
  supplies: readonly SupplyDay[],
  inventory: Inventory,
  coming: ComingEquipment,
): BeforeCase[] {
  const walk = new MorningWalk(inventory, coming);
  return cases.map(planned => ({
    ref: planned.dayCase.ref,
    start: planned.dayCase.start,
    items: [
      ...supplies
        .filter(({ changeBefore }) => changeBefore.includes(planned.dayCase.ref))
        .map(({ asset }): MorningItem => ({ what: 'change', asset: asset.id })),
      ...walk.before(planned),
    ],
  }));
}

/** What the day has done to the equipment so far. */
class MorningWalk {
  readonly #inventory: Inventory;
  readonly #equipment: EquipmentState;
  readonly #coming: ComingEquipment;
  readonly #circuitOn = new Map<string, string>();
  readonly #machineOf = new Map<string, string>();
  /** Checks done since the morning, as "check asset". */
  readonly #done = new Set<string>();

  constructor(inventory: Inventory, coming: ComingEquipment) {
    this.#inventory = inventory;
    this.#coming = coming;
    this.#equipment = coming.equipment;
  }

  before({ plan }: PlannedCase): MorningItem[] {
    const pair = plan.main?.choice.pair;
    if (!pair || plan.leakHold === null) return [];
    const [circuit, machine] = [pair.circuit.id, pair.machine.id];
    const before = this.#circuitOn.get(machine);
    const isFirstUse = before === undefined && !this.#machineOf.has(circuit);
    const isSamePair = before === circuit && this.#machineOf.get(circuit) === machine;
    this.#circuitOn.set(machine, circuit);
    this.#machineOf.set(circuit, machine);
    return [
      ...(isSamePair ? [] : [{ what: 'connect', circuit, machine } as const]),
      ...this.#checks(plan),
      ...this.#hold(plan, isFirstUse, isSamePair),
    ];
  }

  #hold({ leakHold, main }: PlannedCase['plan'], isFirstUse: boolean, isSamePair: boolean): MorningItem[] {
    const pair = main?.choice.pair;
    if (leakHold === null || !pair) return [];
    const perDay = this.#inventory.rules.leakHold.validFor.value === 'day';
    // A test that counts now still counts as long as neither part was used with another this day.
    if (isFirstUse && leakHold.state === 'held') return [];
    if (isSamePair && perDay) return [];
    const because = isFirstUse
      ? (leakHold.because ?? 'before the first case')
      : isSamePair
        ? 'before every case'
        : 'connected anew';
    const { pressureCmH2O, seconds, watch } = leakHold;
    return [
      {
        what: 'hold',
        circuit: pair.circuit.id,
        machine: pair.machine.id,
        pressureCmH2O,
        seconds,
        watch,
        because,
      },
    ];
  }

  /** Checks that stand overdue or failed, and those of the round before a case, the dated ones once a day. */
  #checks({ main, request }: PlannedCase['plan']): MorningItem[] {
    const pair = main?.choice.pair;
    if (!pair) return [];
    const { machine, circuit } = pair;
    const supply = supplyOf(machine, this.#inventory, this.#equipment);
    const assets = [
      machine.id,
      circuit.id,
      ...(classOf(circuit.kind) === 'rebreathing' && machine.absorber !== null ? [machine.absorber.id] : []),
      ...vaporizersFor(machine, request.agent, this.#equipment).map(({ id }) => id),
      ...(machine.scavenging === null ? [] : [machine.scavenging.id]),
      ...(supply === null ? [] : [supply.id]),
    ];
    const items: MorningItem[] = [];
    const troubles = this.#equipment.record === 'none' ? [] : this.#equipment.checks(assets);
    for (const { asset, check, blocks, words } of troubles) {
      const row = this.#inventory.checks.find(({ id }) => id === check);
      if (row === undefined || hasOwnLine(row) || !this.#isNew(check, asset)) continue;
      items.push({ what: 'check', asset, check, text: row.text, blocks, because: words });
    }
    for (const { asset, check } of this.#coming.dailyWork(assets)) {
      const row = this.#inventory.checks.find(({ id }) => id === check);
      if (row === undefined || hasOwnLine(row) || !this.#isNew(check, asset)) continue;
      items.push(roundItem(row, asset));
    }
    for (const check of this.#inventory.checks) {
      if (check.round !== 'before_case' || check.doneBy === 'hold') continue;
      for (const asset of check.assets.filter(id => assets.includes(id))) {
        if (check.every !== null && !this.#isNew(check.id, asset)) continue;
        if (items.some(item => item.what === 'check' && item.asset === asset && item.check === check.id))
          continue;
        items.push(roundItem(check, asset));
      }
    }
    return items;
  }

  #isNew(check: string, asset: string): boolean {
    const key = `${check} ${asset}`;
    if (this.#done.has(key)) return false;
    this.#done.add(key);
    return true;
  }
}

/** The leak test of the pair is a line of its own, and rounds of opening and closing have their own lists. */
function hasOwnLine({ doneBy, round }: Check): boolean {
  return doneBy === 'hold' || round === 'opening' || round === 'closing';
}

function roundItem(check: Check, asset: string): MorningItem {
  const because = check.every === null ? 'before every case' : 'before its first case of the day';
  return { what: 'check', asset, check: check.id, text: check.text, blocks: false, because };
}
