/** The checks of one round at one machine: which apply, and how each stands. Pure. */
import type { CalendarDate } from '../calendar/zone.ts';
import type { Asset, Check, Inventory, Machine } from '../inventory/inventory.ts';
import type { Done, Standing } from '../record/standing-types.ts';

export type RoundName = NonNullable<Check['round']>;

export const ROUNDS: readonly RoundName[] = ['opening', 'before_case', 'closing', 'weekly'];

/** One check of one asset in a round. */
export interface RoundItem {
  readonly asset: Asset;
  readonly check: Check;
  /** How it was last passed; null: never. */
  readonly lastPass: Done | null;
  /** Whether the last that is known is a failure. */
  readonly standsFailed: boolean;
}

export interface Round {
  readonly name: RoundName;
  readonly machine: Machine;
  readonly items: readonly RoundItem[];
  /** The assets that came back into service and that no round has looked at since, with the date of their return. */
  readonly firstSince: readonly { readonly asset: string; readonly date: CalendarDate }[];
  /** Checks of this round that are of circuits which were not named. */
  readonly otherCircuits: number;
}

/**
 * The round of a machine: the checks that the inventory puts in it and that are of the machine, its parts, its oxygen, or
 * the circuits named. In the order of the inventory's checks.
 *
 * @example roundOf(inventory, standing, 'opening', theatre1, []).items.map(({ check }) => check.id) //=> ['oxygen', …]
 */
export function roundOf(
  inventory: Inventory,
  standing: Standing,
  name: RoundName,
  machine: Machine,
  circuits: readonly string[],
): Round {
  const mine = [...partsOf(machine), ...machine.oxygen, ...circuits];
  const inRound = inventory.checks.filter(({ round }) => round === name);
  const items = inRound.flatMap(check =>
    check.assets
      .filter(id => mine.includes(id))
      .flatMap(id => inventory.assets.get(id) ?? [])
      .filter(asset => standing.assets.get(asset.id)?.withdrawn == null)
      .map((asset): RoundItem => {
        const { lastPass = null, lastFail = null } =
          standing.assets.get(asset.id)?.checks.get(check.id) ?? {};
        return {
          asset,
          check,
          lastPass,
          standsFailed: lastFail !== null && lastFail.order > (lastPass?.order ?? -1),
        };
      }),
  );
  const named = new Set(circuits);
  return {
    name,
    machine,
    items,
    firstSince: mine.flatMap(id => {
      const date = unseenReturn(inventory, standing, id);
      return date === null ? [] : [{ asset: id, date }];
    }),
    otherCircuits: inRound
      .flatMap(check => check.assets)
      .filter(id => inventory.assets.get(id)?.type === 'circuit' && !named.has(id)).length,
  };
}

/** The machine and what is built into it. */
function partsOf(machine: Machine): string[] {
  return [machine, machine.absorber, ...machine.vaporizers, machine.scavenging].flatMap(
    part => part?.id ?? [],
  );
}

/**
 * The date on which an asset came back into service, where no check of a round was passed on it since; null where one was,
 * where it never was away, or where no round looks at it.
 */
export function unseenReturn(inventory: Inventory, standing: Standing, id: string): CalendarDate | null {
  const asset = standing.assets.get(id);
  if (asset === undefined || asset.returned === null || asset.withdrawn !== null) return null;
  const { order, date } = asset.returned;
  const looked = inventory.checks.filter(check => check.round !== null && check.assets.includes(id));
  const isSeen = looked.some(check => (asset.checks.get(check.id)?.lastPass?.order ?? -1) > order);
  return looked.length === 0 || isSeen ? null : date;
}
