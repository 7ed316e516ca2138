import { readFileSync } from 'node:fs';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { chartOf } from '../../src/chart/chart.ts';
import { changesBetween } from '../../src/chart/compare.ts';
import type { ChartRequest } from '../../src/chart/outcome.ts';
import { withoutAssets } from '../../src/chart/take-away.ts';
import { NO_RECORD } from '../../src/plan/request.ts';
import { kg } from '../../src/quantity/units.ts';
import { CHART_CSV_HEAD, renderChartCsv } from '../../src/report/chart-csv.ts';
import { chartDocument, renderChartJson } from '../../src/report/chart-json.ts';
import type { WhatIf } from '../../src/report/chart-text.ts';
import { exampleInventory, outOfServiceState } from './inventories.ts';

const AT = '2026-11-25T08:14:03+00:00';
const WIDE: ChartRequest = { fromKg: kg(0.5), toKg: kg(80), species: null, machine: null };

const ajv = new Ajv({ allErrors: true, allowUnionTypes: true });
addFormats(ajv, ['date-time']);
const validate = ajv.compile(JSON.parse(readFileSync('schemas/chart.schema.json', 'utf8')));

function problemsOf(text: string) {
  validate(JSON.parse(text));
  return validate.errors ?? [];
}

describe('the document of a chart', () => {
  const inventory = exampleInventory();
  const chart = chartOf(inventory, NO_RECORD, WIDE, AT);

  it.each([
    ['of the example practice', chart],
    [
      'with gaps and things out of service',
      chartOf(inventory, outOfServiceState(['t-piece-1', 'coaxial-1']), WIDE, AT),
    ],
    ['of a species without a tidal volume', chartOf(inventory, NO_RECORD, { ...WIDE, species: 'other' }, AT)],
    ['of weights that are hardly possible', chartOf(inventory, NO_RECORD, { ...WIDE, species: 'cat' }, AT)],
  ])('is as the schema says: %s', (_, some) => {
    expect(problemsOf(renderChartJson(some))).toEqual([]);
  });

  it('is as the schema says with what would change', () => {
    const equipment = withoutAssets(NO_RECORD, ['coaxial-1']);
    const supposed = chartOf(inventory, equipment, WIDE, AT);
    const whatIf: WhatIf = {
      present: chart,
      supposed,
      without: ['coaxial-1'],
      draft: null,
      changes: changesBetween({ inventory, equipment: NO_RECORD }, { inventory, equipment }, WIDE, AT),
      newFindings: supposed.findings,
      goneFindings: chart.findings,
    };
    expect(problemsOf(renderChartJson(supposed, whatIf))).toEqual([]);
  });

  it('says of every edge within the chart which rule makes it one, with its line', () => {
    const { bands } = chartDocument(chart, null);
    for (const { to } of bands.slice(0, -1)) {
      expect(to.because.length).toBeGreaterThan(0);
      for (const { line } of to.because) expect(line).toBeGreaterThan(0);
    }
    expect(bands[3]?.to).toMatchObject({ kg: 500 / 90, included: true });
  });

  it('is a table with a row for each band and class, and as many cells in each as in its head', () => {
    const [head, ...rows] = renderChartCsv(chart).trimEnd().split('\n');
    expect(head).toBe(CHART_CSV_HEAD);
    expect(rows).toHaveLength(chart.bands.length + chart.bands.filter(({ other }) => other !== null).length);
    for (const row of rows) expect(row.split(',')).toHaveLength(CHART_CSV_HEAD.split(',').length);
  });
});
