import { describe, expect, it } from 'vitest';
import {
  barFromPsi,
  cmH2OFromKpa,
  cmH2OFromMmHg,
  kgFromOunces,
  kgFromPounds,
  poundsFromKg,
  psiFromBar,
} from '../../src/quantity/convert.ts';
import { kg, psi } from '../../src/quantity/units.ts';

describe('conversions by the factors of NIST SP 811', () => {
  it.each([
    ['10 lb in kg', kgFromPounds(10), 4.5359237],
    ['24 oz in kg', kgFromOunces(24), 0.680388555],
    ['4.5359237 kg in lb', poundsFromKg(kg(4.5359237)), 10],
    ['3 kPa in cmH2O', cmH2OFromKpa(3), 3000 / 98.0665],
    ['22 mmHg in cmH2O', cmH2OFromMmHg(22), (22 * 133.322387415) / 98.0665],
    ['137 bar in psi', psiFromBar(137), 13_700_000 / 6894.757],
    ['2000 psi in bar', barFromPsi(psi(2000)), 137.89514],
  ])('%s', (_what, ours, expected) => {
    expect(ours).toBeCloseTo(expected, 9);
  });
});
