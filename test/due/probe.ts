/** Run as a program of its own under a zone: every form of one report, for days around which clocks change. */
import { readFileSync } from 'node:fs';
import { todayIn } from '../../src/calendar/zone.ts';
import { practiceDue } from '../../src/due/practice-due.ts';
import type { Entry } from '../../src/generated/entry.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { renderDueCsv } from '../../src/report/due-csv.ts';
import { renderDueIcs } from '../../src/report/due-ics.ts';
import { renderDueJson } from '../../src/report/due-json.ts';
import { renderDueText } from '../../src/report/due-text.ts';
import { seenIn } from './seen.ts';

const FIXTURES = 'test/scenarios/fixtures';
const inventory = ensureInventory(`${FIXTURES}/due.yaml`, () => '2026-11-25');
const entries = readFileSync(`${FIXTURES}/due-theatre.jsonl`, 'utf8')
  .trim()
  .split('\n')
  .map((line): Entry => JSON.parse(line));

process.stdout.write(`${new Intl.DateTimeFormat().resolvedOptions().timeZone}\n`);
// Just before and after midnight in Dublin, in summer and in winter, and the nights on which clocks change there or elsewhere.
for (const instant of [
  '2026-11-24T23:59:59Z',
  '2026-11-25T00:00:00Z',
  '2026-07-31T22:59:59Z',
  '2026-07-31T23:00:00Z',
  '2026-03-29T01:00:00Z',
  '2026-10-25T00:30:00Z',
  '2026-10-25T01:00:00Z',
  '2026-11-01T09:00:00Z',
]) {
  const madeAt = new Date(instant);
  const today = todayIn(inventory.practice.timeZone, madeAt) ?? '';
  const due = practiceDue({
    inventory,
    record: {
      folder: 'larkhill/record',
      state: 'read',
      ...seenIn(inventory, entries, { today, asOf: today }),
      stations: [],
      damage: [],
    },
    today,
    asOf: today,
    soonDays: 7,
    filter: { assets: [], checks: [], states: [] },
  });
  const report = { asOf: today, madeAt, practices: [due] };
  process.stdout.write(renderDueText(report, { width: 80, colour: false }));
  process.stdout.write(renderDueJson(report) + renderDueCsv(report) + renderDueIcs(report));
}
