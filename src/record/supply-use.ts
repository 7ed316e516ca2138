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
  const cancelled = cancelledIds(entriesInOrder);
  const out = new Set<string>();
  const gauges = new Map<string, GaugeState>();
  for (const entry of entriesInOrder) {
    if (cancelled.has(entry.id)) continue;
    if (entry.kind === 'withdraw') out.add(entry.asset);
    else if (entry.kind === 'return') out.delete(entry.asset);
    else if (entry.kind === 'reading') takeReading(gauges, entry);
    else if (entry.kind === 'usage') takeUsage(gauges, out, inventory, entry);
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
  { machines }: Pick<Inventory, 'machines'>,
  entriesInOrder: readonly Entry[],
): OxygenUse[] {
  const cancelled = cancelledIds(entriesInOrder);
  const out = new Set<string>();
  const uses: OxygenUse[] = [];
  for (const entry of entriesInOrder) {
    if (cancelled.has(entry.id)) continue;
    if (entry.kind === 'withdraw') out.add(entry.asset);
    else if (entry.kind === 'return') out.delete(entry.asset);
    else if (entry.kind === 'usage') {
      const supply = servingSupply(machines, out, entry.machine);
      if (supply !== undefined) {
        uses.push({ supply, date: entry.on.slice(0, 10), takenMl: ml(entry.minutes * entry.flow_ml_min) });
      }
    }
  }
  return uses;
}

function servingSupply(
  machines: Inventory['machines'],
  out: ReadonlySet<string>,
  machine: string,
): string | undefined {
  const supplies = machines.find(({ id }) => id === machine)?.oxygen ?? [];
  return supplies.find(id => !out.has(id)) ?? supplies[0];
}

type Gauges = Map<string, GaugeState>;

function takeReading(gauges: Gauges, { asset, psi: shown, on, by }: ReadingEntry): void {
  if (shown !== undefined) gauges.set(asset, { psi: psi(shown), readAt: on, by, usedSinceMl: ml(0) });
}

function takeUsage(
  gauges: Gauges,
  out: ReadonlySet<string>,
  { machines }: Pick<Inventory, 'machines'>,
  usage: UsageEntry,
): void {
  const serving = servingSupply(machines, out, usage.machine);
  const gauge = serving === undefined ? undefined : gauges.get(serving);
  if (serving === undefined || gauge === undefined) return;
  const usedSinceMl = ml(gauge.usedSinceMl + usage.minutes * usage.flow_ml_min);
  gauges.set(serving, { ...gauge, usedSinceMl });
}
