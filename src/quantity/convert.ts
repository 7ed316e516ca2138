/**
 * Conversions by the exact factors of NIST SP 811 (2008), appendix B. Pressures go through pascal.
 */
import { type CmH2O, cmH2O, type Kg, kg, type Psi, psi } from './units.ts';

/** 1 lb, exact by definition. */
const KG_PER_POUND = 0.45359237;
const OUNCES_PER_POUND = 16;

const PASCAL_PER_CMH2O = 98.0665;
const PASCAL_PER_MMHG = 133.322387415;
const PASCAL_PER_PSI = 6894.757;
const PASCAL_PER_BAR = 100_000;
const PASCAL_PER_KPA = 1000;

/** @example kgFromPounds(10) //=> 4.5359237 */
export const kgFromPounds = (pounds: number): Kg => kg(pounds * KG_PER_POUND);

/** @example kgFromOunces(24) //=> 0.680388555 */
export const kgFromOunces = (ounces: number): Kg => kg((ounces / OUNCES_PER_POUND) * KG_PER_POUND);

/** @example poundsFromKg(kg(4.5359237)) //=> 10 */
export const poundsFromKg = (weight: Kg): number => weight / KG_PER_POUND;

/** @example cmH2OFromKpa(3) //=> 30.59148639… */
export const cmH2OFromKpa = (kpa: number): CmH2O => cmH2O((kpa * PASCAL_PER_KPA) / PASCAL_PER_CMH2O);

export const cmH2OFromMmHg = (mmHg: number): CmH2O => cmH2O((mmHg * PASCAL_PER_MMHG) / PASCAL_PER_CMH2O);

/** @example psiFromBar(137) //=> 1987.016… */
export const psiFromBar = (bar: number): Psi => psi((bar * PASCAL_PER_BAR) / PASCAL_PER_PSI);

export const barFromPsi = (pressure: Psi): number => (pressure * PASCAL_PER_PSI) / PASCAL_PER_BAR;
