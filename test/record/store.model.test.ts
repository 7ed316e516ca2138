/** The store against a list of what was entered, with writers killed in the middle of a line. */
import { readFileSync, writeFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { recallHead } from '../../src/record/head.ts';
import { readRecord } from '../../src/record/read.ts';
import { verifyRecord } from '../../src/record/verify.ts';
import { TestRecord, TIME_ZONE, usage } from './store-kit.ts';

const READ = { timeZone: TIME_ZONE };

describe('the store against a model', () => {
  const step = fc.oneof(
    {
      weight: 6,
      arbitrary: fc.record({
        do: fc.constant('append' as const),
        hours: fc.integer({ min: -50, max: 4000 }),
        note: fc.string({ minLength: 1, unit: 'binary' }),
      }),
    },
    {
      weight: 2,
      arbitrary: fc.record({
        do: fc.constant('kill' as const),
        part: fc.double({ min: 0, max: 1, noNaN: true }),
      }),
    },
    { weight: 1, arbitrary: fc.record({ do: fc.constant('retry' as const) }) },
  );

  it('keeps every entry whatever was cut off in the middle of the next', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { maxLength: 25 }), async steps => {
        const record = new TestRecord();
        const model: { id: string; note: string }[] = [];
        let now = Date.parse('2026-06-01T00:00:00Z');
        for (const one of steps) {
          if (one.do === 'append') {
            now += one.hours * 3_600_000;
            const { entry } = await record.append(usage({ note: one.note }), { now: new Date(now) });
            model.push({ id: entry.id, note: one.note });
          } else if (one.do === 'kill') await killedAppend(record, now, one.part);
          else {
            const last = model.at(-1);
            if (last === undefined) continue;
            const { already } = await record.append(usage({ note: last.note }), {
              id: last.id,
              now: new Date(now),
            });
            expect(already).toBe(true);
          }
        }
        await record.append(usage({ note: 'end' }), { now: new Date(now) });
        expect(verifyRecord(record.dir, record).damage).toEqual([]);
        const { entries, damage } = readRecord(record.dir, { ...READ, stateDir: record.stateDir });
        expect(damage).toEqual([]);
        const kept = entries.filter(({ note }) => note !== 'killed' && note !== 'end');
        expect(kept.map(({ id, note }) => ({ id, note })).sort(byId)).toEqual(model.toSorted(byId));
      }),
      { numRuns: 60 },
    );
  });

  /** What a writer leaves that was killed in its write: the first bytes of a line, and nothing remembered of it. */
  async function killedAppend(record: TestRecord, now: number, part: number): Promise<void> {
    const { file, entry } = await record.append(usage({ note: 'killed' }), {
      now: new Date(now),
      stateDir: null,
    });
    const whole = readFileSync(file);
    const line = Buffer.byteLength(JSON.stringify(entry)) + 1;
    const start = whole.length - line;
    writeFileSync(file, whole.subarray(0, start + Math.floor(part * line)));
    expect(recallHead(record.stateDir, record.dir, 'prep')?.last.head).not.toBe(entry.id);
  }

  function byId(a: { id: string }, b: { id: string }): number {
    return a.id < b.id ? -1 : 1;
  }
});
