/**
 * A day: from the list of cases to who gets what, what clashes, what runs out, and what to do before each case. Pure.
 *
 * What "preferred" means, exactly: the cases stand in the order of their starts (those that start together in the order of
 * the list). The first takes the first of its pairs with which all the others can still be served; then the second takes
 * the first of its own with which the first keeps its pair and all the others can still be served; and so on. The same for
 * bags. A case's pairs stand in the order of a single plan: the inventory's circuits, and for each the inventory's machines.
 */
import type { CalendarDate, Timestamp } from '../calendar/zone.ts';
import type { Inventory } from '../inventory/inventory.ts';
import type { Plan } from '../plan/plan.ts';
import type { EquipmentState } from '../plan/request.ts';
import type { DayCautionCode, Level } from '../problem/codes.ts';
import type { Ml } from '../quantity/units.ts';
import { Steps, StepsSpent } from './assign/model.ts';
import {
  type Assignment,
  assignDay,
  bagsInService,
  type DayClash,
  type Entrant,
  Stock,
} from './assign-day.ts';
import { type CandidatePair, candidatesFor, type DayScene, planOn } from './candidates.ts';
import { cautionsOf } from './cautions.ts';
import { comingEquipment } from './coming.ts';
import { type DayCase, endOf } from './day-case.ts';
import { type BeforeCase, morningList } from './morning.ts';
import { type OpeningRound, openingRounds } from './opening.ts';
import { type Remedy, remediesFor } from './remedies.ts';
import { type SupplyDay, suppliesOfDay } from './supplies.ts';

export interface DayRequest {
  readonly inventory: Inventory;
  readonly date: CalendarDate;
  /** Whether the date has passed. */
  readonly isPast: boolean;
  /** When it is planned. */
  readonly at: Timestamp;
  /** In the order of their starts. */
  readonly cases: readonly DayCase[];
  /** How many steps the search may take; else far more than any list has needed in the bench. */
  readonly searchSteps?: number;
  /** What is known of the equipment on that day, for a case with this reference. */
  equipmentFor(caseRef: string | null): EquipmentState;
  /** For a day to come: what is known of it today. */
  readonly equipmentToday?: EquipmentState | null;
}

export interface DayBag {
  readonly sizeMl: Ml;
  /** The size that the case would have alone. */
  readonly wantedSizeMl: Ml;
  /** The id, or which of so many without ids. */
  readonly which: string | number;
  readonly of: number;
}

/** A case that is served: everything about it. */
export interface PlannedCase {
  readonly state: 'planned';
  readonly dayCase: DayCase;
  readonly plan: Plan;
  /** Its pair's place among those that fit, from 1. */
  readonly rank: number;
  readonly ranks: number;
  /** null: no bag is worked out, or none is in stock. */
  readonly bag: DayBag | null;
}

/** A case that nothing can serve (stopped), that a clash keeps out (set_aside), or that was not decided. */
export interface UnplannedCase {
  readonly state: 'stopped' | 'set_aside' | 'undecided';
  readonly dayCase: DayCase;
  /** The plan for the case alone, with what speaks against it. */
  readonly plan: Plan;
}

export interface ExplainedClash extends DayClash {
  readonly refs: readonly string[];
  readonly remedies: readonly Remedy[];
  /** Whether everything was tried that could let it go. */
  readonly isSearched: boolean;
}

export interface DayCaution {
  readonly code: DayCautionCode;
  readonly level: Level;
  /** The case that it is about; null: the day. */
  readonly ref: string | null;
  /** One sentence without a full stop. */
  readonly message: string;
}

export interface Day {
  readonly inventory: Inventory;
  readonly date: CalendarDate;
  readonly at: Timestamp;
  readonly record: EquipmentState['record'];
  /** In the order of their starts. */
  readonly cases: readonly (PlannedCase | UnplannedCase)[];
  readonly clashes: readonly ExplainedClash[];
  readonly supplies: readonly SupplyDay[];
  /** Before the first case; empty where the practice has no opening round. */
  readonly opening: readonly OpeningRound[];
  readonly morning: readonly BeforeCase[];
  readonly cautions: readonly DayCaution[];
}

const SEARCH_STEPS = 300_000;
const REMEDY_STEPS = 10_000;
const MOST_QUESTIONS = 80;

export function planDay(request: DayRequest): Day {
  const { inventory, date, at } = request;
  const comingFor = (ref: string | null) =>
    comingEquipment(request.equipmentFor(ref), request.equipmentToday ?? null, inventory);
  const scene: DayScene = { inventory, at, equipmentFor: remembered(ref => comingFor(ref).equipment) };
  const equipment = scene.equipmentFor(null);
  const all = request.cases.map(dayCase => ({ dayCase, candidates: candidatesFor(dayCase, scene) }));
  const entrants = all.filter(({ candidates }) => candidates.pairs.length > 0);
  const assignment = decide(entrants, inventory, equipment, request.searchSteps ?? SEARCH_STEPS);
  const bags =
    assignment === null ? new Map<number, DayBag>() : namedBags(entrants, assignment, inventory, equipment);
  const cases = all.map(entrant => caseOf(entrant, entrants.indexOf(entrant), assignment, bags, scene));
  const planned = cases.filter(one => one.state === 'planned');
  const supplies = suppliesOfDay(planned);
  const clashes = assignment === null ? [] : explained(entrants, assignment, { ...scene, date, equipment });
  const day = { inventory, date, at, record: equipment.record, cases, clashes, supplies };
  return {
    ...day,
    opening: openingRounds(planned, inventory),
    morning: morningList(planned, supplies, inventory, comingFor(null)),
    cautions: cautionsOf(day, request.isPast, assignment === null && entrants.length > 0),
  };
}

/** Something to act on: exit code 1. */
export function hasDayStop({ cases, cautions }: Day): boolean {
  return (
    cautions.some(({ level }) => level === 'stop') ||
    cases.some(
      ({ state, plan }) => state !== 'planned' || plan.cautions.some(({ level }) => level === 'stop'),
    )
  );
}

function remembered(ask: (ref: string | null) => EquipmentState): (ref: string | null) => EquipmentState {
  const known = new Map<string | null, EquipmentState>();
  return ref => {
    const equipment = known.get(ref) ?? ask(ref);
    known.set(ref, equipment);
    return equipment;
  };
}

/** null: not decided in the steps there are. */
function decide(
  entrants: readonly Entrant[],
  inventory: Inventory,
  equipment: EquipmentState,
  searchSteps: number,
): Assignment | null {
  try {
    return assignDay(entrants, new Stock(inventory, equipment), new Steps(searchSteps));
  } catch (error) {
    if (error instanceof StepsSpent) return null;
    throw error;
  }
}

function caseOf(
  { dayCase, candidates }: Entrant,
  index: number,
  assignment: Assignment | null,
  bags: ReadonlyMap<number, DayBag>,
  scene: DayScene,
): PlannedCase | UnplannedCase {
  const unplanned = (state: UnplannedCase['state']): UnplannedCase => ({
    state,
    dayCase,
    plan: candidates.alone,
  });
  if (index === -1) return unplanned('stopped');
  if (assignment === null) return unplanned('undecided');
  const rank = assignment.pairs.get(index);
  const chosen: CandidatePair | undefined = rank === undefined ? undefined : candidates.pairs[rank];
  if (rank === undefined || chosen === undefined) return unplanned('set_aside');
  const bag = bags.get(index) ?? null;
  const plan = planOn(candidates, chosen, bag?.sizeMl ?? null, scene);
  return { state: 'planned', dayCase, plan, rank: rank + 1, ranks: candidates.pairs.length, bag };
}

/** Gives each case a bag of its size that nobody else has then: in the order of time the first that is free. */
function namedBags(
  entrants: readonly Entrant[],
  { served, bags }: Assignment,
  inventory: Inventory,
  equipment: EquipmentState,
): Map<number, DayBag> {
  const freeAt = new Map<string, number>();
  const named = new Map<number, DayBag>();
  for (const i of served) {
    const entrant = entrants[i];
    const sizeMl = entrant?.candidates.bagSizes[bags.get(i) ?? -1];
    const size = inventory.bags.find(bag => bag.sizeMl === sizeMl);
    if (entrant === undefined || sizeMl === undefined || size === undefined) continue;
    const single = bagsInService(size, equipment);
    const { dayCase } = entrant;
    const which = single.find(one => (freeAt.get(`${sizeMl} ${one}`) ?? 0) <= dayCase.start.getTime());
    if (which === undefined) throw new Error(`no ${sizeMl} mL bag left for ${dayCase.ref}`);
    const turnoverMs = inventory.rules.turnoverMinutes.value * 60_000;
    freeAt.set(`${sizeMl} ${which}`, endOf(dayCase).getTime() + turnoverMs);
    named.set(i, {
      sizeMl,
      wantedSizeMl: entrant.candidates.bagSizes[0] ?? sizeMl,
      which,
      of: single.length,
    });
  }
  return named;
}

function explained(
  entrants: readonly Entrant[],
  { served, clashes }: Assignment,
  scene: DayScene & { readonly date: CalendarDate; readonly equipment: EquipmentState },
): ExplainedClash[] {
  const questions = { left: MOST_QUESTIONS };
  const steps = new Steps(REMEDY_STEPS);
  return clashes.map(found => {
    // Its last case may have found room after another of them was set aside; one of them is always left.
    const setAside = served.has(found.setAside)
      ? (found.tasks.find(i => !served.has(i)) ?? found.setAside)
      : found.setAside;
    const clash = { ...found, setAside };
    const refs = clash.tasks.flatMap(i => entrants[i]?.dayCase.ref ?? []);
    const remedies = remediesFor(clash, { ...scene, entrants, served, steps, questions });
    return { ...clash, refs, remedies, isSearched: questions.left > 0 };
  });
}
