/** What would let a clash go: another start, one thing more, a name left out, the other class of circuit. Each is tried. */
import { type CalendarDate, timestampIn } from '../calendar/zone.ts';
import type { Inventory } from '../inventory/inventory.ts';
import type { EquipmentState } from '../plan/request.ts';
import { type Steps, StepsSpent } from './assign/model.ts';
import { canAllBeServed, type DayClash, type Entrant, Stock } from './assign-day.ts';
import { candidatesFor, type DayScene, otherClassPairs } from './candidates.ts';
import { atMinute, type DayCase, startMinute } from './day-case.ts';

export type Remedy =
  | { readonly kind: 'start'; readonly ref: string; readonly start: Date; readonly shiftMinutes: number }
  | { readonly kind: 'one_more'; readonly what: 'machine' | 'circuit'; readonly id: string }
  | { readonly kind: 'one_more'; readonly what: 'bag'; readonly sizeMl: number }
  | { readonly kind: 'leave_out_name'; readonly ref: string; readonly id: string }
  | { readonly kind: 'other_class'; readonly ref: string; readonly circuit: string };

export interface RemedyScene extends DayScene {
  readonly date: CalendarDate;
  readonly entrants: readonly Entrant[];
  /** The cases that are served without the one set aside. */
  readonly served: ReadonlySet<number>;
  readonly equipment: EquipmentState;
  readonly steps: Steps;
  /** How many questions may still be asked, over all clashes of the day. */
  readonly questions: { left: number };
}

const MOST_STARTS = 3;

/**
 * What would let the case set aside be served with all the others, each by itself. Other starts: the least shifts, not
 * before the first start of the list and on the same date.
 */
export function remediesFor(clash: DayClash, scene: RemedyScene): Remedy[] {
  return [
    ...otherStarts(clash, scene),
    ...namesLeftOut(clash, scene),
    ...otherClasses(clash, scene),
    ...oneMore(clash, scene),
  ];
}

/** Whether all can be served with one entrant changed; false also where the questions or steps are spent. */
function helps(
  clash: DayClash,
  scene: RemedyScene,
  changed: ReadonlyMap<number, Entrant>,
  more: string | null = null,
): boolean {
  if (scene.questions.left <= 0) return false;
  scene.questions.left--;
  const together = [...scene.served, clash.setAside].sort((a, b) => a - b);
  const entrants = together.flatMap(i => changed.get(i) ?? scene.entrants[i] ?? []);
  try {
    return canAllBeServed(entrants, new Stock(scene.inventory, scene.equipment, more), scene.steps);
  } catch (error) {
    if (error instanceof StepsSpent) return false;
    throw error;
  }
}

function otherStarts(clash: DayClash, scene: RemedyScene): Remedy[] {
  const first = Math.min(...scene.entrants.map(({ dayCase }) => startMinute(dayCase)));
  const tries = clash.tasks
    .filter(i => i === clash.setAside || scene.served.has(i))
    .flatMap(i => {
      const entrant = scene.entrants[i];
      if (entrant === undefined) return [];
      const own = startMinute(entrant.dayCase);
      return startsToTry(i, entrant, scene)
        .filter(start => start >= first && start !== own && isOnDate(start, scene))
        .map(start => ({ i, entrant, start, shift: start - own }));
    })
    .sort((a, b) => Math.abs(a.shift) - Math.abs(b.shift) || b.shift - a.shift);
  const found: Remedy[] = [];
  const moved = new Set<number>();
  for (const { i, entrant, start, shift } of tries) {
    if (found.length === MOST_STARTS) break;
    if (moved.has(i)) continue;
    const at = atMinute(start);
    if (!helps(clash, scene, new Map([[i, { ...entrant, dayCase: { ...entrant.dayCase, start: at } }]])))
      continue;
    moved.add(i);
    found.push({ kind: 'start', ref: entrant.dayCase.ref, start: at, shiftMinutes: shift });
  }
  return found;
}

/** What a case overlaps changes only where it begins as another ends, or ends as another begins, turnover or none between. */
function startsToTry(i: number, { dayCase }: Entrant, { entrants, inventory }: RemedyScene): number[] {
  const rests = new Set([0, inventory.rules.turnoverMinutes.value]);
  const starts = [...entrants].flatMap(({ dayCase: other }, j) => {
    if (i === j) return [];
    const begin = startMinute(other);
    return [...rests].flatMap(rest => [begin + other.minutes + rest, begin - dayCase.minutes - rest]);
  });
  return [...new Set(starts)];
}

function isOnDate(minute: number, { inventory, date }: RemedyScene): boolean {
  return timestampIn(inventory.practice.timeZone, atMinute(minute)).startsWith(date);
}

function namesLeftOut(clash: DayClash, scene: RemedyScene): Remedy[] {
  return clash.tasks.flatMap(i => {
    const entrant = scene.entrants[i];
    if (entrant === undefined) return [];
    return (['machine', 'circuit'] as const).flatMap((name): Remedy[] => {
      const id = entrant.dayCase[name];
      if (id === null) return [];
      const dayCase: DayCase = { ...entrant.dayCase, [name]: null };
      const changed = { dayCase, candidates: candidatesFor(dayCase, scene) };
      return helps(clash, scene, new Map([[i, changed]]))
        ? [{ kind: 'leave_out_name', ref: dayCase.ref, id }]
        : [];
    });
  });
}

function otherClasses(clash: DayClash, scene: RemedyScene): Remedy[] {
  if (clash.part === 'bags') return [];
  return clash.tasks.flatMap((i): Remedy[] => {
    const entrant = scene.entrants[i];
    if (entrant === undefined) return [];
    const { dayCase, candidates } = entrant;
    const pairs = otherClassPairs(dayCase, scene, candidates.alone.zone);
    // Circuit by circuit, so that the one that is named is one that helps.
    const circuit = [...new Set(pairs.map(({ pair }) => pair.circuit.id))].find(id => {
      const own = pairs.filter(({ pair }) => pair.circuit.id === id);
      return helps(clash, scene, new Map([[i, { dayCase, candidates: { ...candidates, pairs: own } }]]));
    });
    return circuit === undefined ? [] : [{ kind: 'other_class', ref: dayCase.ref, circuit }];
  });
}

function oneMore(clash: DayClash, scene: RemedyScene): Remedy[] {
  const entrants = clash.tasks.flatMap(i => scene.entrants[i] ?? []);
  const none: ReadonlyMap<number, Entrant> = new Map();
  if (clash.part === 'bags') {
    const sizes = [...new Set(entrants.flatMap(({ candidates }) => candidates.bagSizes))].sort(
      (a, b) => a - b,
    );
    return sizes
      .filter(sizeMl => helps(clash, scene, none, `bag ${sizeMl}`))
      .map(sizeMl => ({ kind: 'one_more', what: 'bag', sizeMl }));
  }
  return (['circuit', 'machine'] as const).flatMap(what => {
    const wanted = new Set(
      entrants.flatMap(({ candidates }) => candidates.pairs.map(({ pair }) => pair[what].id)),
    );
    return idsInOrder(what, scene.inventory)
      .filter(id => wanted.has(id) && helps(clash, scene, none, `${what} ${id}`))
      .map((id): Remedy => ({ kind: 'one_more', what, id }));
  });
}

function idsInOrder(what: 'circuit' | 'machine', { circuits, machines }: Inventory): string[] {
  return (what === 'circuit' ? circuits : machines).map(({ id }) => id);
}
