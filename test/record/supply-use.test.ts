import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { foldGauges, oxygenUses } from '../../src/record/supply-use.ts';
import { correct, giveBack, larkhill, reading, usage, withdraw } from './entries.ts';

const inventory = larkhill();
const used = (entries: readonly Entry[], supply = 'ward-e-1') =>
  foldGauges(inventory, entries).get(supply)?.usedSinceMl;

describe('foldGauges', () => {
  it('gives the last reading, with who read it and when', () => {
    const entries = [
      reading('07:50', 'ward-e-1', { psi: 1450 }),
      reading('12:10', 'ward-e-1', { psi: 1100, by: 'A. Finch' }),
    ];
    expect(foldGauges(inventory, entries).get('ward-e-1')).toEqual({
      psi: 1100,
      readAt: '2026-11-25T12:10:00+00:00',
      by: 'A. Finch',
      usedSinceMl: 0,
    });
  });

  it('knows nothing of a supply that was never read, whatever was used', () => {
    expect(foldGauges(inventory, [usage('09:00', 'theatre-1', 'bain-1')]).size).toBe(0);
  });

  it('takes flow × minutes of every later use, and nothing of an earlier one', () => {
    const entries = [
      usage('07:00', 'theatre-1', 'bain-1', { minutes: 500, flow_ml_min: 5000 }),
      reading('07:50', 'ward-e-1', { psi: 1450 }),
      usage('09:00', 'theatre-1', 'bain-1', { minutes: 45, flow_ml_min: 1000 }),
      usage('10:00', 'theatre-1', 'coaxial-1', { minutes: 30, flow_ml_min: 500 }),
    ];
    expect(used(entries)).toBe(45_000 + 15_000);
  });

  it('takes nothing for a machine that another supply serves', () => {
    expect(used([reading('07:50', 'ward-e-1', { psi: 1450 }), usage('09:00', 'dental', 'y-piece-1')])).toBe(
      0,
    );
  });

  it('goes by what was in service at the time of the use, not now', () => {
    const read = reading('07:50', 'ward-e-1', { psi: 1450 });
    const use = (on: string) => usage(on, 'theatre-1', 'bain-1', { minutes: 10, flow_ml_min: 1000 });
    const away = [withdraw('08:00', 'ward-e-1', 'its valve sticks'), use('09:00')];
    expect(used([read, ...away])).toBe(0);
    expect(used([read, ...away, giveBack('10:00', 'ward-e-1'), use('11:00')])).toBe(10_000);
  });

  it('charges the first supply where all were out of service: the gas came from somewhere', () => {
    const entries = [
      reading('07:50', 'ward-e-1', { psi: 1450 }),
      withdraw('08:00', 'ward-e-1'),
      withdraw('08:01', 'wall'),
      usage('09:00', 'theatre-1', 'bain-1', { minutes: 10, flow_ml_min: 1000 }),
    ];
    expect(used(entries)).toBe(10_000);
  });

  it('counts nothing that was cancelled', () => {
    const wrong = usage('09:00', 'theatre-1', 'bain-1');
    const entries = [reading('07:50', 'ward-e-1', { psi: 1450 }), wrong, correct('09:05', wrong.id)];
    expect(used(entries)).toBe(0);
  });

  it('agrees with a naive search through the whole history, for any history', () => {
    const step = fc.oneof(
      fc.record({ do: fc.constant('read'), id: fc.constantFrom('ward-e-1', 'wall') }),
      fc.record({ do: fc.constant('use'), id: fc.constantFrom('theatre-1', 'dental') }),
      fc.record({ do: fc.constantFrom('out', 'back'), id: fc.constantFrom('ward-e-1', 'wall') }),
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 30 }), steps => {
        const entries = steps.map(({ do: what, id }, i): Entry => {
          if (what === 'read') return reading('09:00', id, { psi: 1000 + i });
          if (what === 'out') return withdraw('09:00', id);
          if (what === 'back') return giveBack('09:00', id);
          return usage('09:00', id, 'bain-1', { minutes: i + 1, flow_ml_min: 1000 });
        });
        for (const supply of ['ward-e-1', 'wall']) expect(used(entries, supply)).toBe(naive(entries, supply));
      }),
    );
  });
});

describe('oxygenUses', () => {
  it('are the uses with the supply that served at the time, in the order of the record', () => {
    const wrong = usage('07:00', 'dental', 'y-piece-1');
    const entries = [
      wrong,
      correct('07:05', wrong.id),
      reading('07:50', 'ward-e-1', { psi: 1450 }),
      usage('2026-11-24T09:00:00+00:00', 'theatre-1', 'bain-1', { minutes: 45, flow_ml_min: 1000 }),
      withdraw('09:30', 'ward-e-1'),
      usage('10:00', 'theatre-1', 'bain-1', { minutes: 10, flow_ml_min: 2000 }),
      giveBack('10:30', 'ward-e-1'),
      usage('11:00', 'dental', 'y-piece-1', { minutes: 5, flow_ml_min: 500 }),
      usage('12:00', 'theatre-9', 'y-piece-1'),
    ];
    expect(oxygenUses(inventory, entries)).toEqual([
      { supply: 'ward-e-1', date: '2026-11-24', takenMl: 45_000 },
      { supply: 'wall', date: '2026-11-25', takenMl: 20_000 },
      { supply: 'wall', date: '2026-11-25', takenMl: 2500 },
    ]);
  });

  it('do not change by a scale or a gauge that shows nothing', () => {
    const read = reading('07:50', 'ward-e-1', { psi: 1450 });
    const empty = reading('08:00', 'ward-e-1', { new: true });
    expect(foldGauges(inventory, [read, empty]).get('ward-e-1')).toMatchObject({
      psi: 1450,
      readAt: read.on,
    });
    expect(foldGauges(inventory, [reading('08:00', 'theatre-1-charcoal', { g: 800 })]).size).toBe(0);
  });
});

/** Looks back from every use anew. */
function naive(entries: readonly Entry[], supply: string): number | undefined {
  const last = entries.findLastIndex(entry => entry.kind === 'reading' && entry.asset === supply);
  if (last === -1) return undefined;
  const isOut = (id: string, before: number) =>
    entries
      .slice(0, before)
      .findLast(entry => (entry.kind === 'withdraw' || entry.kind === 'return') && entry.asset === id)
      ?.kind === 'withdraw';
  let sum = 0;
  for (const [i, entry] of entries.entries()) {
    if (i <= last || entry.kind !== 'usage') continue;
    const wants = entry.machine === 'theatre-1' ? ['ward-e-1', 'wall'] : ['wall'];
    const serving = wants.filter(id => !isOut(id, i))[0] ?? wants[0];
    if (serving === supply) sum += entry.minutes * entry.flow_ml_min;
  }
  return sum;
}
