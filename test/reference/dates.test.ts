/**
 * Published and agreed values for dates and units. Beside each stands where it comes from and how it is known: seen, quoted,
 * memory, practice (common practice, no source), exact (by definition or arithmetic).
 */
import { describe, expect, it } from 'vitest';
import { addDays, addMonths } from '../../src/calendar/date.ts';
import { firstOnGridAfter, nthDate } from '../../src/calendar/interval.ts';
import * as convert from '../../src/quantity/convert.ts';

const DAILY = { openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'], closedDates: [] } as const;

describe('dates', () => {
  it('31 January and one month is the last of February (agreed rule of the project: month ends clamp; practice)', () => {
    expect(addMonths('2026-01-31', 1)).toBe('2026-02-28');
    expect(addMonths('2028-01-31', 1)).toBe('2028-02-29');
  });

  it('29 February and one year is 28 February (agreed rule of the project: month ends clamp; practice)', () => {
    expect(nthDate('2028-02-29', { unit: 'years', count: 1 }, 1, DAILY)).toBe('2029-02-28');
  });

  it('vaporizer output yearly (UC Davis; UConn: intervals seen in policies)', () => {
    expect(nthDate('2026-05-20', { unit: 'years', count: 1 }, 1, DAILY)).toBe('2027-05-20');
  });

  it.each([
    [5, '2029-02-28'],
    [10, '2034-02-28'],
    [12, '2036-02-29'],
  ])(
    'cylinder requalification after %i years (49 CFR 180.209: intervals seen in policies)',
    (years, expected) => {
      // From 29 February, where a rule that went by days would drift.
      expect(nthDate('2024-02-29', { unit: 'years', count: years }, 1, DAILY)).toBe(expected);
    },
  );

  it('exposure monitoring twice a year (OSHA, quoted): every half year from 31 January', () => {
    const halfYearly = { unit: 'months', count: 6 } as const;
    expect(firstOnGridAfter('2026-01-31', halfYearly, '2026-01-31', DAILY)).toBe('2026-07-31');
    expect(firstOnGridAfter('2026-01-31', halfYearly, '2026-07-31', DAILY)).toBe('2027-01-31');
  });

  it('absorbent by calendar after 30 days (Thomas & Lerche, memory)', () => {
    expect(addDays('2026-02-10', 30)).toBe('2026-03-12');
  });
});

describe('units (factors of NIST SP 811, exact)', () => {
  const { cmH2OFromKpa, cmH2OFromMmHg, kgFromPounds, psiFromBar } = convert;

  it('30 cmH2O is 2.942 kPa and 22.07 mmHg', () => {
    expect(cmH2OFromKpa(2.942)).toBeCloseTo(30, 2);
    expect(cmH2OFromMmHg(22.07)).toBeCloseTo(30, 1);
    expect(cmH2OFromMmHg(22.0667)).toBeCloseTo(30, 3);
  });

  it('3 kPa is 30.59 cmH2O', () => {
    expect(cmH2OFromKpa(3)).toBeCloseTo(30.59, 2);
  });

  it('137 bar is 1987 psi', () => {
    expect(Math.round(psiFromBar(137))).toBe(1987);
  });

  it('10 lb is 4.536 kg', () => {
    expect(kgFromPounds(10)).toBeCloseTo(4.536, 3);
    expect(kgFromPounds(1)).toBe(0.45359237);
  });
});
