/** Conversions beside a library of general use, which takes its factors from elsewhere. */
import * as fc from 'fast-check';
import { unit } from 'mathjs';
import { describe, expect, it } from 'vitest';
import * as convert from '../../src/quantity/convert.ts';
import { kg, psi } from '../../src/quantity/units.ts';
import { molarVolumeL } from '../support/gas.ts';
import { check } from './check.ts';

const SP811 = 'NIST SP 811 (2008), appendix B';

/**
 * Ours beside theirs, for any number. Relative: the factors are exact, or given to seven digits; the library carries the
 * mmHg with six.
 */
function agree(ours: (n: number) => number, from: string, to: string): void {
  const digits = from === 'mmHg' ? 3e-6 : 1e-7;
  fc.assert(
    fc.property(fc.double({ min: 1e-3, max: 1e5, noNaN: true }), n => {
      const theirs = unit(n, from).toNumber(to);
      expect(Math.abs(ours(n) / theirs - 1)).toBeLessThan(digits);
    }),
  );
}

describe('units', () => {
  it.each([
    ['pounds to kg', (n: number) => convert.kgFromPounds(n), 'lbm', 'kg'],
    ['ounces to kg', (n: number) => convert.kgFromOunces(n), 'oz', 'kg'],
    ['kg to pounds', (n: number) => convert.poundsFromKg(kg(n)), 'kg', 'lbm'],
    ['kPa to cmH2O', (n: number) => convert.cmH2OFromKpa(n), 'kPa', 'cmH2O'],
    ['mmHg to cmH2O', (n: number) => convert.cmH2OFromMmHg(n), 'mmHg', 'cmH2O'],
    ['bar to psi', (n: number) => convert.psiFromBar(n), 'bar', 'psi'],
    ['psi to bar', (n: number) => convert.barFromPsi(psi(n)), 'psi', 'bar'],
  ])('%s as mathjs does', (_, ours, from, to) => {
    agree(ours, from, to);
  });

  it('30 cmH2O are 2.942 kPa and 22.07 mmHg, 3 kPa are 30.59 cmH2O, 137 bar are 1987 psi, 10 lb are 4.536 kg', () => {
    const row = { id: 'U', source: SP811, how: 'exact' as const };
    check({
      ...row,
      figure: '2.942 kPa, cmH2O',
      ours: convert.cmH2OFromKpa(2.942),
      theirs: 30,
      tolerance: 0.005,
    });
    check({
      ...row,
      figure: '22.07 mmHg, cmH2O',
      ours: convert.cmH2OFromMmHg(22.07),
      theirs: 30,
      tolerance: 0.01,
    });
    check({ ...row, figure: '3 kPa, cmH2O', ours: convert.cmH2OFromKpa(3), theirs: 30.59, tolerance: 0.005 });
    check({ ...row, figure: '137 bar, psi', ours: convert.psiFromBar(137), theirs: 1987, tolerance: 0.5 });
    check({ ...row, figure: '10 lb, kg', ours: convert.kgFromPounds(10), theirs: 4.536, tolerance: 0.0005 });
  });

  it('1 mol of an ideal gas takes up 22.41 L at 0 °C and 24.06 L at 20 °C', () => {
    const row = { id: 'U', source: 'ideal gas at 1013.25 hPa', how: 'exact' as const, tolerance: 0.005 };
    check({ ...row, figure: 'molar volume at 0 °C, L', ours: molarVolumeL(0), theirs: 22.414 });
    check({ ...row, figure: 'molar volume at 20 °C, L', ours: molarVolumeL(20), theirs: 24.055 });
  });
});
