import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chartOf, hasGap } from '../../src/chart/chart.ts';
import { changesBetween, findingsBeyond } from '../../src/chart/compare.ts';
import { type ChartRequest, outcomeAt } from '../../src/chart/outcome.ts';
import { contains, describeSpan } from '../../src/chart/span.ts';
import { withoutAssets } from '../../src/chart/take-away.ts';
import { NO_RECORD } from '../../src/plan/request.ts';
import { kg } from '../../src/quantity/units.ts';
import { exampleInventory, inventories, outOfServiceState } from './inventories.ts';

const AT = '2026-11-25T08:14:03+00:00';
const WIDE: ChartRequest = { fromKg: kg(0.5), toKg: kg(80), species: null, machine: null };
const weights = fc.array(
  fc.integer({ min: 500, max: 80_000 }).map(g => kg(g / 1000)),
  {
    minLength: 10,
    maxLength: 30,
  },
);

describe('findings', () => {
  const { findings } = chartOf(exampleInventory(), NO_RECORD, WIDE, AT);
  const messages = findings.map(({ message }) => message);

  it('name the overlap of the classes and the single points of failure of the example practice', () => {
    expect(messages).toEqual([
      'no bag large enough in stock over 33.33 to 80 kg',
      'both classes may serve from 7 to 8 kg',
      'only t-piece-1 serves from 0.5 to below 2 kg',
      'only y-large serves over 30 to 80 kg',
      'only one 3 L bag is large enough over 22.22 to 33.33 kg',
    ]);
  });

  it('name a gap where a circuit is withdrawn', () => {
    const chart = chartOf(exampleInventory(), outOfServiceState(['t-piece-1']), WIDE, AT);
    expect(chart.findings[0]?.message).toBe('no circuit in service from 0.5 to below 2 kg');
    expect(chart.outOfService).toEqual([{ asset: 't-piece-1', because: 'withdrawn' }]);
    expect(hasGap(chart)).toBe(true);
  });

  it('name a single point exactly where a plan without the asset finds nothing', () => {
    fc.assert(
      fc.property(inventories, weights, (inventory, some) => {
        const chart = chartOf(inventory, NO_RECORD, WIDE, AT);
        const ids = [...inventory.circuits, ...inventory.machines, ...inventory.supplies].map(({ id }) => id);
        for (const weightKg of some) {
          const now = outcomeAt(weightKg, inventory, NO_RECORD, WIDE, AT);
          for (const id of ids) {
            const then = outcomeAt(weightKg, inventory, outOfServiceState([id]), WIDE, AT);
            const isNamed = chart.findings.some(
              ({ kind, asset, span }) =>
                kind === 'single_point_of_failure' && asset === id && contains(span, weightKg),
            );
            expect(isNamed, `${id} at ${weightKg} kg`).toBe(now.status !== 'none' && then.status === 'none');
          }
          const isGap = chart.findings.some(({ kind, span }) => kind === 'gap' && contains(span, weightKg));
          expect(isGap, `gap at ${weightKg} kg`).toBe(now.status === 'none');
        }
      }),
      { numRuns: 15 },
    );
  });
});

describe('changes', () => {
  it('say from where to where another circuit serves when one is taken away', () => {
    const inventory = exampleInventory();
    const after = { inventory, equipment: withoutAssets(NO_RECORD, ['coaxial-1']) };
    const changes = changesBetween({ inventory, equipment: NO_RECORD }, after, WIDE, AT);
    const words = changes.map(
      ({ span, differences }) => `${describeSpan(span, 10)}: ${differences.join('; ')}`,
    );
    expect(words[0]).toBe('from 7 to 8 kg: other class coaxial-1 on theatre-1 → y-small on theatre-1');
    expect(words).toContain('over 15 to 30 kg: pair coaxial-1 on theatre-1 → y-large on theatre-1');
  });

  it('are none where nothing that serves is taken away', () => {
    const inventory = exampleInventory();
    const after = { inventory, equipment: withoutAssets(NO_RECORD, ['bain-2']) };
    expect(changesBetween({ inventory, equipment: NO_RECORD }, after, WIDE, AT)).toEqual([]);
  });

  it('cover exactly the weights at which two inventories give different plans', () => {
    fc.assert(
      fc.property(inventories, inventories, weights, (one, two, some) => {
        const [before, after] = [one, two].map(inventory => ({ inventory, equipment: NO_RECORD }));
        if (before === undefined || after === undefined) return;
        const changes = changesBetween(before, after, WIDE, AT);
        for (const weightKg of some) {
          const isChanged = changes.some(({ span }) => contains(span, weightKg));
          const keys = [one, two].map(inventory => outcomeAt(weightKg, inventory, NO_RECORD, WIDE, AT).key);
          expect(isChanged, `${weightKg} kg`).toBe(keys[0] !== keys[1]);
        }
        for (const { differences } of changes) expect(differences.length).toBeGreaterThan(0);
      }),
      { numRuns: 10 },
    );
  });

  it('give the findings that are new, and those that are gone', () => {
    const inventory = exampleInventory();
    const now = chartOf(inventory, NO_RECORD, WIDE, AT).findings;
    const then = chartOf(inventory, outOfServiceState(['t-piece-1']), WIDE, AT).findings;
    expect(findingsBeyond(then, now).map(({ message }) => message)).toContain(
      'no circuit in service from 0.5 to below 2 kg',
    );
    expect(findingsBeyond(now, then).map(({ message }) => message)).toContain(
      'only t-piece-1 serves from 0.5 to below 2 kg',
    );
  });
});
