/** What each oxygen cylinder's gauge last showed, and what was used since. A fold over the entries; pure. */
import type { CalendarDate, Timestamp } from '../calendar/zone.ts';
import type { Entry, ReadingEntry, UsageEntry } from '../generated/entry.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { type Ml, ml, type Psi, psi } from '../quantity/units.ts';
import { cancelledIds } from './cancelled.ts';

/** What a cylinder's gauge last showed, less what was used since. */
export interface GaugeState {
  readonly psi: Psi;
  readonly readAt: Timestamp | CalendarDate;
  /** Who read it. */
  readonly by: string;
  /** Oxygen that later uses have taken, in mL. */
  readonly usedSinceMl: Ml;
}

/**
 * The last reading of every cylinder and the oxygen taken from it since.
 *
 * An entry of use does not name the supply: the first of the machine's supplies that was in service at that moment served,
 * as in a plan. Where all were out of service the first in order is charged, since the gas came from somewhere and too
 * little left is the safe side.
 *
 * @param entriesInOrder - all stations' entries in the order on, at, station, line. Cancelled ones count for nothing.
 * @returns by the supply's id; a supply that was never read is absent.
 * @example foldGauges(inventory, entries).get('ward-e-1') //=> { psi: 1450, readAt: '2026-11-25T07:50:00+00:00', by: 'M. Quill', usedSinceMl: 45000 }
 */
export function foldGauges(
  inventory: Pick<Inventory, 'machines'>,
  entriesInOrder: readonly Entry[],
): ReadonlyMap<string, GaugeState> {
  const gauges = new Map<string, GaugeState>();
  for (const event of supplyEvents(inventory, entriesInOrder)) {
    if (event.supply === null) {
      const { asset, psi: shown, on, by } = event.entry;
      if (shown !== undefined) gauges.set(asset, { psi: psi(shown), readAt: on, by, usedSinceMl: ml(0) });
    } else {
      const gauge = gauges.get(event.supply);
      if (gauge === undefined) continue;
      gauges.set(event.supply, { ...gauge, usedSinceMl: ml(gauge.usedSinceMl + takenMl(event.entry)) });
    }
  }
  return gauges;
}

/** Oxygen that one use took from one supply. */
export interface OxygenUse {
  readonly supply: string;
  /** The practice's calendar date. */
  readonly date: CalendarDate;
  readonly takenMl: Ml;
}

/** Every use of oxygen with the supply that served, in the order of the entries; cancelled ones left out. */
export function oxygenUses(
  inventory: Pick<Inventory, 'machines'>,
  entriesInOrder: readonly Entry[],
): OxygenUse[] {
  const uses: OxygenUse[] = [];
  for (const { supply, entry } of supplyEvents(inventory, entriesInOrder)) {
    if (supply !== null) uses.push({ supply, date: entry.on.slice(0, 10), takenMl: takenMl(entry) });
  }
  return uses;
}

/** A gauge that was read, or a use with the supply that served. */
type SupplyEvent =
  | { readonly supply: null; readonly entry: ReadingEntry }
  | { readonly supply: string; readonly entry: UsageEntry };

function* supplyEvents(
  { machines }: Pick<Inventory, 'machines'>,
  entriesInOrder: readonly Entry[],
): Generator<SupplyEvent> {
  const cancelled = cancelledIds(entriesInOrder);
  const out = new Set<string>();
  for (const entry of entriesInOrder) {
    if (cancelled.has(entry.id)) continue;
    if (entry.kind === 'withdraw') out.add(entry.asset);
    else if (entry.kind === 'return') out.delete(entry.asset);
    else if (entry.kind === 'reading') yield { supply: null, entry };
    else if (entry.kind === 'usage') {
      const supplies = machines.find(({ id }) => id === entry.machine)?.oxygen ?? [];
      const supply = supplies.find(id => !out.has(id)) ?? supplies[0];
      if (supply !== undefined) yield { supply, entry };
    }
  }
}

function takenMl({ minutes, flow_ml_min }: UsageEntry): Ml {
  return ml(minutes * flow_ml_min);
}
