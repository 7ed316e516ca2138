/** How much a bench is to do. */
export interface Effort {
  /** Whether the bench itself is only tried: small sizes, few rounds, nothing kept, nothing judged. */
  readonly isQuick: boolean;
  /** How many rounds instead of so many. */
  readonly rounds: (full: number) => number;
}

export function effortOf(isQuick: boolean): Effort {
  return { isQuick, rounds: full => (isQuick ? Math.min(full, 3) : full) };
}
