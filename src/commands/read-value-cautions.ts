/** What is odd about a gauge or scale that was read: recorded all the same, and said at once, while it can be read again. */
import type { Asset, Cylinder, Scavenging } from '../inventory/inventory.ts';
import { isAbove } from '../quantity/compare.ts';
import { formatGauge, formatNumber } from '../quantity/format.ts';
import { psi } from '../quantity/units.ts';
import { MOST_TIMES_GAIN_LIMIT, UNLIKELY_FALL, WARMTH } from '../record/reading-limits.ts';
import { foldStanding } from '../record/standing.ts';
import { foldGauges } from '../record/supply-use.ts';
import { canisterLeft } from '../record/wear.ts';
import type { Desk } from './entering.ts';
import type { Read } from './read-value.ts';

interface Taken {
  readonly isNew: boolean;
  /** When it was read, as in the entry; undefined: now. */
  readonly on: string | undefined;
}

/** Cautions at the desk on a figure, by what the record says of the time before it was read. */
export function cautionReading(desk: Desk, asset: Asset, figure: Read['figure'], taken: Taken): void {
  if ('psi' in figure && asset.type === 'supply' && asset.kind === 'cylinder')
    cautionGauge(desk, asset, figure.psi, taken);
  else if ('g' in figure && asset.type === 'scavenging') cautionScale(desk, asset, figure.g, taken);
}

const READ_AGAIN =
  'read it again, and mind the unit; if the entry is wrong, cancel it with holdfast correct and enter it anew';

function cautionGauge(desk: Desk, cylinder: Cylinder, read: number, taken: Taken): void {
  const { id, gaugeUnit, fullPsi, reservePsi } = cylinder;
  const shown = (value: number) => formatGauge(psi(value), gaugeUnit);
  if (isAbove(reservePsi, read)) {
    const remedy =
      'change the cylinder; if another figure or unit was meant, cancel this entry and enter it anew';
    desk.caution(
      'gauge_below_reserve',
      `${id}: ${shown(read)} is below its reserve of ${shown(reservePsi)}`,
      remedy,
    );
  }
  // A fresh cylinder has nothing to do with the one before.
  if (taken.isNew) return;
  const before = foldGauges(desk.inventory, entriesBefore(desk, taken)).get(id);
  if (before === undefined) return;
  const date = before.readAt.slice(0, 10);
  if (isAbove(read, before.psi + WARMTH * fullPsi)) {
    sayFresh(desk, `${id} read ${shown(before.psi)} on ${date}, and is fuller now`);
  } else if (before.usedSinceMl === 0 && isAbove(before.psi * UNLIKELY_FALL, read)) {
    const message = `${id} read ${shown(before.psi)} on ${date} and ${shown(read)} now, without a use in between`;
    desk.caution('reading_unlikely', message, READ_AGAIN);
  }
}

function cautionScale(desk: Desk, canister: Scavenging, g: number, taken: Taken): void {
  if (taken.isNew) return;
  const { id } = canister;
  const standing = foldStanding(desk.inventory, entriesBefore(desk, taken));
  const fresh = standing.assets.get(id)?.readings.findLast(reading => reading.isNew && reading.g !== null);
  if (fresh?.g == null) return;
  if (isAbove(fresh.g, g)) {
    sayFresh(
      desk,
      `${id} weighed ${formatNumber(fresh.g)} g when it was fresh, on ${fresh.done.date}, and is lighter now`,
    );
  }
  const limit = canisterLeft(desk.inventory, canister, null).gain?.limitG ?? null;
  if (limit !== null && isAbove(g - fresh.g, limit * MOST_TIMES_GAIN_LIMIT)) {
    const gained = `${formatNumber(g - fresh.g)} g gained since it was fresh (${formatNumber(fresh.g)} g)`;
    const message = `${id}: ${gained} is more than ${MOST_TIMES_GAIN_LIMIT} times its limit of ${formatNumber(limit)} g`;
    desk.caution('reading_unlikely', message, READ_AGAIN);
  }
}

/** A cylinder fuller, or a canister lighter, than it was: somebody may have changed it and left --new out. */
function sayFresh(desk: Desk, message: string): void {
  const remedy = 'if it is a fresh one, cancel this entry with holdfast correct and enter it with --new';
  desk.caution('fresh_one_unsaid', message, remedy);
}

/** What was done before the reading: what was done since says nothing against it. */
function entriesBefore(desk: Desk, { on }: Taken) {
  return desk.record.entries.filter(entry => entry.kind === 'correct' || !desk.comesBefore(on, entry));
}
