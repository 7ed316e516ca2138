/** What the record says of the equipment, put together for a plan: standing, leak tests, and the checks that are due. */
import { type CalendarDate, todayIn } from '../calendar/zone.ts';
import { dueItems } from '../due/due.ts';
import { checkTroubles } from '../due/troubles.ts';
import type { Inventory } from '../inventory/inventory.ts';
import { type EquipmentState, type LastHold, NO_RECORD } from '../plan/request.ts';
import { problem } from '../problem/problem.ts';
import { holdReasonWords } from '../record/counting.ts';
import { assetsOf } from '../record/filter.ts';
import { type CountedEntries, countedOn, futureWords } from '../record/future.ts';
import { stateFolder } from '../record/head.ts';
import { type PairHold, pairHold, pressurisedParts } from '../record/pair-hold.ts';
import { readRecord } from '../record/read.ts';
import { foldStanding } from '../record/standing.ts';
import { type AssetStanding, standsFailed } from '../record/standing-types.ts';
import { foldGauges } from '../record/supply-use.ts';
import { wearOf } from '../record/wear.ts';
import { printCautions } from '../report/cautions.ts';
import { unseenReturn } from '../round/round.ts';
import type { Context } from './context.ts';
import { type FileOptions, recordToRead } from './files.ts';
import { warnOfDamage } from './record/opened.ts';

/**
 * Reads the record that is meant and says what it knows. Without a record folder nothing is known; with a damaged record
 * nothing that speaks for the equipment is believed.
 *
 * @param beside - the inventory beside which the record lies where none is named.
 * @throws Refusal (exit 3) where the record cannot be read, or was named and is not there.
 */
export function equipmentState(
  context: Context,
  options: FileOptions,
  inventory: Inventory,
  caseRef: string | null,
  now: Date,
  beside: string = inventory.file,
): EquipmentState {
  const { timeZone } = inventory.practice;
  const today = todayIn(timeZone, now) ?? now.toISOString().slice(0, 10);
  const folder = recordToRead(context, options, beside);
  const record = readRecord(folder, { timeZone, stateDir: stateFolder(context.env) });
  warnOfDamage(record, context);
  if (!record.exists) return NO_RECORD;
  const damaged = record.damage.length > 0;
  return statesOf(inventory, countedOn(record.entries, today), { now: today, today, damaged })(caseRef);
}

/** On stderr, for a form of output that has no place for it. */
export function warnOfFuture({ entriesInFuture }: EquipmentState, context: Context): void {
  if (entriesInFuture === null) return;
  const remedy = 'what passes counts again once it is entered with its right date';
  printCautions([problem('entry_in_future', entriesInFuture, remedy)], context);
}

interface Moment {
  /** The day it is. */
  readonly now: CalendarDate;
  /** The day that is planned. */
  readonly today: CalendarDate;
  readonly damaged: boolean;
}

/** The same for several cases: the entries are folded once. Pure. */
export function statesOf(
  inventory: Inventory,
  { entries, future }: CountedEntries,
  { now, today, damaged }: Moment,
): (caseRef: string | null) => EquipmentState {
  const entriesInFuture = futureWords(future, now);
  const namedInFuture = new Set(future.flatMap(assetsOf));
  const standing = foldStanding(inventory, entries);
  const gauges = foldGauges(inventory, entries);
  const troubles = checkTroubles(dueItems({ inventory, standing, asOf: today, soonDays: 0 }));
  return caseRef => {
    const hold = (circuit: string, machine: string): PairHold =>
      pairHold(standing, inventory, circuit, machine, { today, caseRef });
    return {
      record: damaged ? 'damaged' : 'read',
      entriesInFuture,
      outOfService: asset => withdrawnWords(standing.assets.get(asset)),
      hold: (circuit, machine) => {
        const { state, last, because } = hold(circuit, machine);
        if (damaged && state === 'held')
          return { state: 'needed', last: lastHold(last), because: 'the record is damaged' };
        // A test elsewhere, a return or a part that was opened would have ended it.
        const doubtful = [circuit, machine, ...pressurisedParts(inventory, machine)].find(id =>
          namedInFuture.has(id),
        );
        if (doubtful !== undefined && state === 'held') {
          const doubt = `an entry on ${doubtful} is dated after today, and may have been made since the leak test`;
          return { state: 'needed', last: lastHold(last), because: doubt };
        }
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
