/** The line that every plan ends with. */
export const SAFETY_LINE = 'A calculation aid; it does not replace the vet in charge, makers or local codes.';
