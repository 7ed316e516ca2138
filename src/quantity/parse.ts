/**
 * Reading quantities from the command line. Every reader refuses what it is not sure of and says which forms it takes.
 *
 * Digits, at most one point with digits on both sides, at most one space, a unit. No sign, no exponent, no hexadecimal,
 * no comma: a number that could be read in two ways is not read at all.
 */
import { cmH2OFromKpa, cmH2OFromMmHg, kgFromOunces, kgFromPounds, psiFromBar } from './convert.ts';
import {
  type CmH2O,
  cmH2O,
  type Grams,
  grams,
  type Kg,
  kg,
  type Minutes,
  type Ml,
  type MlPerMin,
  minutes,
  ml,
  mlPerMin,
  type Percent,
  type Psi,
  percent,
  psi,
  type Seconds,
  seconds,
} from './units.ts';

/** A quantity as read, or what was wrong with it and which forms are taken. */
export type Parsed<T> = { ok: true; value: T } | { ok: false; message: string; forms: string };

const NUMBER_AND_UNIT = /^(\d{1,9}(?:\.\d{1,9})?) ?([A-Za-z%/0-9]*)$/;

/** Else the tenth digit would be taken for the beginning of a unit. */
const TOO_MANY_DIGITS = /\d{10}/;

interface Reader<T extends number> {
  /** What is read, as it stands in a message: "weight". */
  what: string;
  /** The accepted forms, as shown to the person. */
  forms: string;
  /** The unit, in lower case, and how a number in it becomes the quantity. '' is the bare number. */
  units: Record<string, (n: number) => T>;
}

function reader<T extends number>({ what, forms, units }: Reader<T>): (text: string) => Parsed<T> {
  return text => {
    const refuse = (why: string): Parsed<T> => ({ ok: false, message: `${what} ${why}`, forms });
    if (TOO_MANY_DIGITS.test(text)) return refuse(`'${text}' has more digits than anything here is read to`);
    const match = NUMBER_AND_UNIT.exec(text);
    if (match === null) return refuse(`'${text}' ${whyNotNumber(text)}`);
    const unit = (match[2] ?? '').toLowerCase();
    const convert = Object.hasOwn(units, unit) ? units[unit] : undefined;
    if (convert === undefined) {
      return refuse(unit === '' ? `'${text}' has no unit` : `'${text}' has a unit that is not known here`);
    }
    return { ok: true, value: convert(Number(match[1])) };
  };
}

function whyNotNumber(text: string): string {
  if (text.trim() === '') return 'is empty';
  if (/^\d+,\d+/.test(text)) return 'has a comma: write a point';
  if (/^\s*[-+]/.test(text)) return 'has a sign';
  if (/^\.\d/.test(text)) return 'begins with a point: write the zero before it';
  if (/^\d+\.(?!\d)/.test(text)) return 'has nothing behind its point';
  return 'is not a number with a unit';
}

const WEIGHT_FORMS = '6.8kg, 6.8 (kg), 850g, 15lb, 24oz';
const HEAVIEST_KG = 200;

const readWeight = reader<Kg>({
  what: 'weight',
  forms: WEIGHT_FORMS,
  units: { '': kg, kg, g: n => kg(n / 1000), lb: kgFromPounds, lbs: kgFromPounds, oz: kgFromOunces },
});

/**
 * A body weight. A bare number is kg. Zero and more than 200 kg are refused.
 *
 * @example parseWeight('15lb') //=> { ok: true, value: 6.80388555 }
 * @example parseWeight('6,8kg') //=> { ok: false, message: "weight '6,8kg' has a comma: write a point", … }
 */
export function parseWeight(text: string): Parsed<Kg> {
  const weight = readWeight(text);
  if (!weight.ok) return weight;
  const refuse = (why: string): Parsed<Kg> => ({
    ok: false,
    message: `weight '${text}' ${why}`,
    forms: WEIGHT_FORMS,
  });
  if (weight.value <= 0) return refuse('is zero');
  if (weight.value > HEAVIEST_KG) return refuse(`is over ${HEAVIEST_KG} kg`);
  return weight;
}

/** A flow, always with its unit. @example parseFlow('1.5L/min') //=> { ok: true, value: 1500 } */
export const parseFlow: (text: string) => Parsed<MlPerMin> = reader({
  what: 'flow',
  forms: '2L/min, 1500mL/min',
  units: { 'l/min': n => mlPerMin(n * 1000), 'ml/min': mlPerMin },
});

/** A volume, always with its unit. @example parseVolume('0.5L') //=> { ok: true, value: 500 } */
export const parseVolume: (text: string) => Parsed<Ml> = reader({
  what: 'size',
  forms: '500mL, 0.5L, 1L',
  units: { ml, l: n => ml(n * 1000) },
});

/** A volume in mL; bare = mL. @example parseMl('8') //=> { ok: true, value: 8 } */
export const parseMl: (text: string) => Parsed<Ml> = reader({
  what: 'volume',
  forms: '8, 8mL',
  units: { '': ml, ml },
});

/** A pressure in a circuit; bare = cmH2O. @example parseCircuitPressure('3kPa') //=> { ok: true, value: 30.59… } */
export const parseCircuitPressure: (text: string) => Parsed<CmH2O> = reader({
  what: 'pressure',
  forms: '30, 30cmH2O, 3kPa, 22mmHg',
  units: { '': cmH2O, cmh2o: cmH2O, kpa: cmH2OFromKpa, mmhg: cmH2OFromMmHg },
});

/** A supply pressure, always with its unit. @example parseSupplyPressure('1450psi') //=> { ok: true, value: 1450 } */
export const parseSupplyPressure: (text: string) => Parsed<Psi> = reader({
  what: 'pressure',
  forms: '1450psi, 100bar',
  units: { psi, bar: psiFromBar },
});

/** A mass, always with its unit. @example parseMass('812g') //=> { ok: true, value: 812 } */
export const parseMass: (text: string) => Parsed<Grams> = reader({
  what: 'mass',
  forms: '812g, 0.812kg',
  units: { g: grams, kg: n => grams(n * 1000) },
});

/** A percentage; the sign may be left out. @example parsePercent('2%') //=> { ok: true, value: 2 } */
export const parsePercent: (text: string) => Parsed<Percent> = reader({
  what: 'percentage',
  forms: '2, 2%',
  units: { '': percent, '%': percent },
});

/** Minutes; bare = min. @example parseMinutes('1h') //=> { ok: true, value: 60 } */
export const parseMinutes: (text: string) => Parsed<Minutes> = reader({
  what: 'time',
  forms: '45, 45min, 1.5h',
  units: { '': minutes, min: minutes, h: n => minutes(n * 60) },
});

/** Seconds; bare = s. @example parseSeconds('10s') //=> { ok: true, value: 10 } */
export const parseSeconds: (text: string) => Parsed<Seconds> = reader({
  what: 'time',
  forms: '10, 10s',
  units: { '': seconds, s: seconds },
});
