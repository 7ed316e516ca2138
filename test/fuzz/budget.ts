/** How many inputs: 2,000 in every run of the tests, more by `npm run fuzz` (FUZZ_INPUTS), each share at least a few. */
const ALL = Number(process.env.FUZZ_INPUTS ?? 2000);

/** @example parameters(0.3).numRuns //=> 600 */
export function parameters(share: number): { numRuns: number; seed?: number } {
  const seed = process.env.FUZZ_SEED;
  return {
    numRuns: Math.max(10, Math.round(ALL * share)),
    ...(seed === undefined ? {} : { seed: Number(seed) }),
  };
}
