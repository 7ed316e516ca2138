/**
 * Numbers that know their unit. A flow cannot be passed where a pressure is wanted, and every name says its unit.
 *
 * The brands exist only for the type checker; at run time each of these is a plain number.
 */
declare const unit: unique symbol;
type Quantity<U extends string> = number & { readonly [unit]: U };

export type Kg = Quantity<'kg'>;
export type Ml = Quantity<'mL'>;
export type Litres = Quantity<'L'>;
export type Grams = Quantity<'g'>;
export type MlPerMin = Quantity<'mL/min'>;
export type MlPerKg = Quantity<'mL/kg'>;
export type MlPerKgMin = Quantity<'mL/kg/min'>;
export type CmH2O = Quantity<'cmH2O'>;
export type MlPerCmH2O = Quantity<'mL/cmH2O'>;
export type Psi = Quantity<'psi'>;
export type Seconds = Quantity<'s'>;
export type Minutes = Quantity<'min'>;
export type Hours = Quantity<'h'>;
export type Percent = Quantity<'%'>;
/** A share of one: 0.2 is a fifth. */
export type Fraction = Quantity<'1'>;
export type Millimetres = Quantity<'mm'>;

/** Two ends of a range, low first. The inventory's loader refuses a reversed one. */
export type Range<T extends number> = readonly [low: T, high: T];

export const kg = (n: number): Kg => n as Kg;
export const ml = (n: number): Ml => n as Ml;
export const litres = (n: number): Litres => n as Litres;
export const grams = (n: number): Grams => n as Grams;
export const mlPerMin = (n: number): MlPerMin => n as MlPerMin;
export const mlPerKg = (n: number): MlPerKg => n as MlPerKg;
export const mlPerKgMin = (n: number): MlPerKgMin => n as MlPerKgMin;
export const cmH2O = (n: number): CmH2O => n as CmH2O;
export const mlPerCmH2O = (n: number): MlPerCmH2O => n as MlPerCmH2O;
export const psi = (n: number): Psi => n as Psi;
export const seconds = (n: number): Seconds => n as Seconds;
export const minutes = (n: number): Minutes => n as Minutes;
export const hours = (n: number): Hours => n as Hours;
export const percent = (n: number): Percent => n as Percent;
export const fraction = (n: number): Fraction => n as Fraction;
export const millimetres = (n: number): Millimetres => n as Millimetres;
