import { describe, expect, it } from 'vitest';
import {
  type Parsed,
  parseCircuitPressure,
  parseFlow,
  parseMass,
  parseMinutes,
  parseMl,
  parsePercent,
  parseSeconds,
  parseSupplyPressure,
  parseVolume,
  parseWeight,
} from '../../src/quantity/parse.ts';

const NUMBERS: [string, string, (text: string) => Parsed<number>, number][] = [
  ['weight', '6.8', parseWeight, 6.8],
  ['weight', '6.8kg', parseWeight, 6.8],
  ['weight', '6.8 KG', parseWeight, 6.8],
  ['weight', '850g', parseWeight, 0.85],
  ['weight', '15lb', parseWeight, 6.80388555],
  ['weight', '15 lbs', parseWeight, 6.80388555],
  ['weight', '24oz', parseWeight, 0.680388555],
  ['weight', '200', parseWeight, 200],
  ['weight', '0.000000001', parseWeight, 1e-9],
  ['weight', '000000006.8', parseWeight, 6.8],
  ['flow', '2L/min', parseFlow, 2000],
  ['flow', '1500mL/min', parseFlow, 1500],
  ['size', '500mL', parseVolume, 500],
  ['size', '0.5L', parseVolume, 500],
  ['volume', '8', parseMl, 8],
  ['volume', '8mL', parseMl, 8],
  ['pressure', '30', parseCircuitPressure, 30],
  ['pressure', '30cmH2O', parseCircuitPressure, 30],
  ['pressure', '3kPa', parseCircuitPressure, 30.591486389],
  ['pressure', '22mmHg', parseCircuitPressure, 29.90922],
  ['pressure', '1450psi', parseSupplyPressure, 1450],
  ['pressure', '100bar', parseSupplyPressure, 1450.377439],
  ['mass', '812g', parseMass, 812],
  ['mass', '0.812kg', parseMass, 812],
  ['percentage', '2', parsePercent, 2],
  ['percentage', '2%', parsePercent, 2],
  ['time', '45', parseMinutes, 45],
  ['time', '45min', parseMinutes, 45],
  ['time', '1.5h', parseMinutes, 90],
  ['time', '10', parseSeconds, 10],
  ['time', '10s', parseSeconds, 10],
];

const FORMS: [string, string, (text: string) => Parsed<number>][] = [
  ['weight', '6.8kg, 6.8 (kg), 850g, 15lb, 24oz', parseWeight],
  ['flow', '2L/min, 1500mL/min', parseFlow],
  ['size', '500mL, 0.5L, 1L', parseVolume],
  ['volume', '8, 8mL', parseMl],
  ['pressure', '30, 30cmH2O, 3kPa, 22mmHg', parseCircuitPressure],
  ['pressure', '1450psi, 100bar', parseSupplyPressure],
  ['mass', '812g, 0.812kg', parseMass],
  ['percentage', '2, 2%', parsePercent],
  ['time', '45, 45min, 1.5h', parseMinutes],
  ['time', '10, 10s', parseSeconds],
];

describe('readers of quantities', () => {
  it.each(NUMBERS)('read a %s, %s', (_what, text, parse, expected) => {
    const parsed = parse(text);
    expect(parsed.ok && parsed.value).toBeCloseTo(expected, 6);
  });

  it.each(FORMS)('refuse a %s that is none, and show the forms: %s', (what, forms, parse) => {
    expect(parse('some')).toEqual({
      ok: false,
      message: `${what} 'some' is not a number with a unit`,
      forms,
    });
  });

  it('read every form that they show, and each alike however it is written', () => {
    for (const [, forms, parse] of FORMS) {
      for (const form of forms.split(', ').map(form => form.replace(' (kg)', ''))) {
        expect(parse(form).ok, form).toBe(true);
        expect(parse(form.toUpperCase())).toEqual(parse(form));
      }
    }
  });

  it.each([
    ['a flow', parseFlow, 'flow'],
    ['a size', parseVolume, 'size'],
    ['a supply pressure', parseSupplyPressure, 'pressure'],
    ['a mass', parseMass, 'mass'],
  ] as const)('want the unit of %s', (_what, parse, name) => {
    expect(parse('2')).toMatchObject({ ok: false, message: `${name} '2' has no unit` });
  });

  it.each(['6.8 stone', '6.8kgs', '6.8constructor', '6.8toString', '6.8%', '6.8L'])(
    'know no unit that is none of theirs: %s',
    text => {
      expect(parseWeight(text)).toMatchObject({
        ok: false,
        message: `weight '${text}' has a unit that is not known here`,
      });
    },
  );

  it.each([
    ['', 'is empty'],
    ['  ', 'is empty'],
    ['6,8kg', 'has a comma: write a point'],
    ['12,34', 'has a comma: write a point'],
    ['12,34,56', 'has a comma: write a point'],
    ['-6', 'has a sign'],
    ['+6', 'has a sign'],
    ['  -6', 'has a sign'],
    ['.5', 'begins with a point: write the zero before it'],
    ['.25kg', 'begins with a point: write the zero before it'],
    ['5.', 'has nothing behind its point'],
    ['12.kg', 'has nothing behind its point'],
    ['a6,8', 'is not a number with a unit'],
    ['6kg,8', 'is not a number with a unit'],
    [',8', 'is not a number with a unit'],
    ['8,', 'is not a number with a unit'],
    ['6-', 'is not a number with a unit'],
    ['kg', 'is not a number with a unit'],
    ['.', 'is not a number with a unit'],
    ['a.5', 'is not a number with a unit'],
    ['a5.', 'is not a number with a unit'],
    ['1.2.3', 'is not a number with a unit'],
    ['6 8kg', 'has a unit that is not known here'],
    ['6.8  kg', 'is not a number with a unit'],
    ['6.8 kg ', 'is not a number with a unit'],
    [' 6.8kg', 'is not a number with a unit'],
    ['6.8\tkg', 'is not a number with a unit'],
    ['6.8kg\n', 'is not a number with a unit'],
    ['6.8µg', 'is not a number with a unit'],
    ['1234567890', 'has more digits than anything here is read to'],
    ['1.1234567891kg', 'has more digits than anything here is read to'],
  ])('say what is wrong with %j', (text, why) => {
    expect(parseWeight(text)).toMatchObject({ ok: false, message: `weight '${text}' ${why}` });
  });

  it.each([
    ['0', 'is zero'],
    ['0.0kg', 'is zero'],
    ['200.000001', 'is over 200 kg'],
    ['441lb', 'is over 200 kg'],
  ])('refuse a weight that no patient has: %s', (text, why) => {
    expect(parseWeight(text)).toEqual({
      ok: false,
      message: `weight '${text}' ${why}`,
      forms: '6.8kg, 6.8 (kg), 850g, 15lb, 24oz',
    });
  });
});
