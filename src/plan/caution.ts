/** What a person must know before the figures are used. */
import { CAUTION_CODES, type CautionCode, type Level } from '../problem/codes.ts';

export interface Caution {
  readonly code: CautionCode;
  readonly level: Level;
  /** One sentence without a full stop, with the ids and figures of this case. */
  readonly message: string;
}

/** @example caution('wide_bore', 'coaxial-1 has 22 mm hoses') //=> { code: 'wide_bore', level: 'note', message: … } */
export function caution(code: CautionCode, message: string): Caution {
  return { code, level: CAUTION_CODES[code].level, message };
}

const LEVELS: readonly Level[] = ['stop', 'caution', 'note'];
const CODES = Object.keys(CAUTION_CODES);

/** Worst first; within a level in the order of the list of codes. */
export function worstFirst(cautions: readonly Caution[]): Caution[] {
  const rank = ({ level, code }: Caution) => LEVELS.indexOf(level) * CODES.length + CODES.indexOf(code);
  return [...cautions].sort((a, b) => rank(a) - rank(b));
}
