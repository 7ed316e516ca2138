import { readFileSync } from 'node:fs';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/generated/entry.ts';
import { ensureInventory } from '../../src/inventory/load.ts';
import { renderStockJson } from '../../src/report/stock.ts';
import { stockOf } from '../../src/stock/stock.ts';
import { larkhill, reading, signOff, usage, withdraw } from '../record/entries.ts';

const TODAY = '2026-11-25';
const ajv = new Ajv({ allErrors: true, allowUnionTypes: true });
addFormats(ajv, ['date']);
const validate = ajv.compile(JSON.parse(readFileSync('schemas/stock.schema.json', 'utf8')));

describe('the document of a stock', () => {
  const example = ensureInventory('inventory.example.yaml', () => TODAY);
  const used: readonly Entry[] = [
    reading('07:00', 'ward-e-1', { psi: 1900, new: true }),
    reading('07:05', 'theatre-1-charcoal', { g: 800, new: true }),
    signOff('07:10', 'theatre-1-absorber', 'absorbent-change', 'pass'),
    usage('09:00', 'theatre-1', 'y-piece-1', { minutes: 90 }),
    withdraw('12:00', 'ward-e-1', 'a bent yoke'),
  ];

  it.each([
    ['of the example practice, with no record', example, []],
    ['with levels, ends and what is out of service', larkhill(), used],
  ])('is as the schema says: %s', (_, inventory, entries) => {
    const document: unknown = JSON.parse(renderStockJson(stockOf(inventory, entries, TODAY, 'read')));
    validate(document);
    expect(validate.errors ?? []).toEqual([]);
    expect(document).toMatchObject({ format: 'holdfast.stock/1', as_of: TODAY });
  });

  it('bears figures, an end and the mark of what is out of service', () => {
    const { items } = JSON.parse(renderStockJson(stockOf(larkhill(), used, TODAY, 'read')));
    const cylinder = items.find(({ asset }: { asset: string }) => asset === 'ward-e-1');
    expect(cylinder).toMatchObject({
      what: 'oxygen cylinder',
      unit: 'L',
      out_of_service: true,
      missing: null,
    });
    expect(cylinder.level).toBeGreaterThan(0.5);
    expect(cylinder.ends_on).toMatch(/^\d{4}-\d{2}-\d{2}$/);
  });
});
