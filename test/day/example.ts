/** The example practice, and days planned in it. */
import { todayIn } from '../../src/calendar/zone.ts';
import { type Day, planDay } from '../../src/day/day.ts';
import type { DayCase } from '../../src/day/day-case.ts';
import { readDayList } from '../../src/day/list/list.ts';
import type { Inventory } from '../../src/inventory/inventory.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { Source } from '../../src/inventory/source.ts';
import { type EquipmentState, NO_RECORD } from '../../src/plan/request.ts';

export const DATE = '2026-11-27';
const NOW = new Date('2026-11-25T09:00:00Z');

export function example(): Inventory {
  return ensureInventory('inventory.example.yaml', zone => todayIn(zone, NOW));
}

/** The cases of a list in CSV; fails where something is wrong with it. */
export function casesOf(text: string, inventory: Inventory = example()): readonly DayCase[] {
  const read = readDayList('csv', { source: new Source('day.csv', text), inventory, date: DATE });
  if (!read.ok) throw new Error(read.problems.map(({ message }) => message).join('; '));
  return read.cases;
}

/** A day from rows of CSV below the columns that are always there. */
export function dayOf(
  rows: string,
  inventory: Inventory = example(),
  equipment: EquipmentState = NO_RECORD,
): Day {
  const cases = casesOf(`${rows.trim()}\n`, inventory);
  return planDay({
    inventory,
    date: DATE,
    isPast: false,
    at: '2026-11-25T09:00:00+00:00',
    cases,
    equipmentFor: () => equipment,
  });
}
