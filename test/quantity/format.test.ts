import { describe, expect, it } from 'vitest';
import {
  formatFlow,
  formatFlowRange,
  formatGauge,
  formatNumber,
  formatToward,
  formatVolume,
  formatWeight,
} from '../../src/quantity/format.ts';
import { kg, ml, mlPerMin, psi } from '../../src/quantity/units.ts';

describe('formatNumber', () => {
  it.each([
    [1.75, 2, '1.75'],
    [1.756, 2, '1.76'],
    [1.005, 2, '1.01'],
    [1.5, 0, '2'],
    [20, 2, '20'],
    [0.1 + 0.2, 2, '0.3'],
    [0.1234, 3, '0.123'],
    [0.1234, 1, '0.1'],
  ] as const)('prints %d with at most %d decimals: %s', (value, most, expected) => {
    expect(formatNumber(value, most)).toBe(expected);
  });

  it('takes two decimals where nothing is said', () => {
    expect(formatNumber(1.2345)).toBe('1.23');
  });
});

describe('formatToward', () => {
  it.each([
    ['down', 7.25, 1, '7.2'],
    ['down', 7.29, 1, '7.2'],
    ['up', 7.21, 1, '7.3'],
    ['up', 7.2, 1, '7.2'],
    ['down', 7.99, 0, '7'],
    ['up', 7.01, 0, '8'],
    ['down', 0.3 - 1e-12, 1, '0.3'],
    ['up', 0.1 + 0.2, 1, '0.3'],
  ] as const)('rounds %s: %d with %d decimals is %s', (direction, value, most, expected) => {
    expect(formatToward(direction, value, most)).toBe(expected);
  });

  it('keeps apart what differs by more than binary dust', () => {
    expect(formatToward('down', 6.99999, 0)).toBe('6');
    expect(formatToward('up', 7.00001, 0)).toBe('8');
  });
});

describe('printed quantities', () => {
  it.each([
    [formatWeight(kg(6.8)), '6.8 kg (14.99 lb)'],
    [formatWeight(kg(0.4567)), '0.457 kg (1.01 lb)'],
    [formatFlow(mlPerMin(1750)), '1.75 L/min'],
    [formatFlow(mlPerMin(1000)), '1 L/min'],
    [formatFlow(mlPerMin(999)), '999 mL/min'],
    [formatFlow(mlPerMin(150.4)), '150 mL/min'],
    [formatFlowRange([mlPerMin(500), mlPerMin(1200)]), '0.5 to 1.2 L/min'],
    [formatFlowRange([mlPerMin(500), mlPerMin(1000)]), '0.5 to 1 L/min'],
    [formatFlowRange([mlPerMin(500.4), mlPerMin(999)]), '500 to 999 mL/min'],
    [formatFlowRange([mlPerMin(500), mlPerMin(999.4)]), '500 to 999 mL/min'],
    [formatFlowRange([mlPerMin(500), mlPerMin(500)]), '500 mL/min'],
    [formatVolume(ml(1000)), '1 L'],
    [formatVolume(ml(500)), '0.5 L'],
    [formatVolume(ml(499.6)), '500 mL'],
    [formatVolume(ml(250)), '250 mL'],
    [formatGauge(psi(1450), 'psi'), '1450 psi'],
    [formatGauge(psi(1450.26), 'psi'), '1450.3 psi'],
    [formatGauge(psi(1450), 'bar'), '100 bar'],
    [formatGauge(psi(1987.016), 'bar'), '137 bar'],
    [formatGauge(psi(1000), 'bar'), '68.9 bar'],
  ])('%s', (printed, expected) => {
    expect(printed).toBe(expected);
  });
});
