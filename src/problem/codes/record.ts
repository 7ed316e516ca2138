import type { CodeRow } from '../code.ts';

/** Problems of the record and of what is to be entered into it. */
export const RECORD_CODES = {} as const satisfies Record<string, CodeRow>;
