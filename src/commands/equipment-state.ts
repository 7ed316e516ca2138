/** What the record says of the equipment, put together for a plan: standing, leak tests, and the checks that are due. */
import { todayIn } from '../calendar/zone.ts';
import { dueItems } from '../due/due.ts';
import { checkTroubles } from '../due/troubles.ts';
import type { Entry } from '../generated/entry.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { type EquipmentState, type LastHold, NO_RECORD } from '../plan/request.ts';
import { holdReasonWords } from '../record/counting.ts';
import { stateFolder } from '../record/head.ts';
import { type PairHold, pairHold } from '../record/pair-hold.ts';
import { readRecord } from '../record/read.ts';
import { foldStanding } from '../record/standing.ts';
import { type AssetStanding, standsFailed } from '../record/standing-types.ts';
import { foldGauges } from '../record/supply-use.ts';
import { wearOf } from '../record/wear.ts';
import { unseenReturn } from '../round/round.ts';
import type { Context } from './context.ts';
import { type FileOptions, recordFolder } from './files.ts';
import { warnOfDamage } from './record/opened.ts';

/**
 * Reads the record that is meant and says what it knows. Without a record folder nothing is known; with a damaged record
 * nothing that speaks for the equipment is believed.
 *
 * @throws Refusal (exit 3) where the record cannot be read.
 */
export function equipmentState(
  context: Context,
  options: FileOptions,
  inventory: Inventory,
  caseRef: string | null,
  now: Date,
): EquipmentState {
  const { timeZone } = inventory.practice;
  const today = todayIn(timeZone, now) ?? now.toISOString().slice(0, 10);
  const folder = recordFolder(context, options, inventory.file);
  const record = readRecord(folder, { timeZone, asOf: today, stateDir: stateFolder(context.env) });
  warnOfDamage(record, context);
  if (!record.exists) return NO_RECORD;
  return stateOf(inventory, record.entries, { today, caseRef, damaged: record.damage.length > 0 });
}

interface Moment {
  readonly today: string;
  readonly caseRef: string | null;
  readonly damaged: boolean;
}

/** The same from entries that are at hand, in the order of the record. Pure. */
function stateOf(
  inventory: Inventory,
  entries: readonly Entry[],
  { caseRef, ...moment }: Moment,
): EquipmentState {
  return statesOf(inventory, entries, moment)(caseRef);
}

/** The same for several cases: the entries are folded once. */
export function statesOf(
  inventory: Inventory,
  entries: readonly Entry[],
  { today, damaged }: Omit<Moment, 'caseRef'>,
): (caseRef: string | null) => EquipmentState {
  const standing = foldStanding(inventory, entries);
  const gauges = foldGauges(inventory, entries);
  const troubles = checkTroubles(dueItems({ inventory, standing, asOf: today, soonDays: 0 }));
  return caseRef => {
    const hold = (circuit: string, machine: string): PairHold =>
      pairHold(standing, inventory, circuit, machine, { today, caseRef });
    return {
      record: damaged ? 'damaged' : 'read',
      outOfService: asset => withdrawnWords(standing.assets.get(asset)),
      hold: (circuit, machine) => {
        const { state, last, because } = hold(circuit, machine);
        if (damaged && state === 'held')
          return { state: 'needed', last: lastHold(last), because: 'the record is damaged' };
        return { state, last: lastHold(last), because };
      },
      popOffShut: (circuit, machine) => hold(circuit, machine).popOff,
      failedElsewhere: (circuit, machine) =>
        hold(circuit, machine).failedElsewhere.map(
          ({ id, with: partner, hold: { done } }) =>
            `${id} failed its leak test with ${partner} on ${done.date} and is not cleared`,
        ),
      checks: assets => troubles.filter(({ asset }) => assets.includes(asset)),
      unseenReturn: asset => unseenReturn(inventory, standing, asset),
      supplyHoldFailed: supply => supplyWords(standing.assets.get(supply)),
      gauge: supply => gauges.get(supply) ?? null,
      wear: id => {
        const asset = inventory.assets.get(id);
        const wears = asset?.type === 'absorber' || asset?.type === 'scavenging';
        return wears ? wearOf(inventory, asset, standing.assets.get(id)) : null;
      },
    };
  };
}

function withdrawnWords(asset: AssetStanding | undefined): string | null {
  if (asset === undefined || asset.withdrawn === null) return null;
  const { because, done } = asset.withdrawn;
  return `${because} (${done.by}, since ${done.date})`;
}

function supplyWords(asset: AssetStanding | undefined): string | null {
  if (asset === undefined || !standsFailed(asset.supplyHold)) return null;
  return `the high-pressure test of ${asset.id} failed on ${asset.supplyHold.lastFail?.date}`;
}

function lastHold(last: PairHold['last']): LastHold | null {
  if (last === null) return null;
  const { entry, on, by, result, reason } = last;
  return { entry, on, by, result, words: holdReasonWords(reason) };
}
