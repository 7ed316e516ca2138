/**
 * The tests that mutants have to get past: those in the folder that mirrors the mutated one, `MUTATED` (src/plan → test/plan).
 * Children, terminals and browsers would not see the mutant, and the folders of other subjects would hide a gap in this one.
 */
import { defineConfig } from 'vitest/config';

const mirror = (process.env.MUTATED ?? 'src').replace(/^src/, 'test');

export default defineConfig({
  test: {
    // Fewer of them, separated by commas, start faster for each mutant, and can only lower the score.
    include: process.env.MUTATION_TESTS?.split(',') ?? [`${mirror}/**/*.test.ts`],
    // Laws over hundreds of random practices or records, children and real git: too slow for once per mutant. What they
    // alone would kill is counted as survived. Those that are named do run.
    exclude:
      process.env.MUTATION_TESTS === undefined
        ? [
            'test/plan/properties.test.ts',
            'test/plan/supplies/laws.test.ts',
            'test/**/*.model.test.ts',
            'test/record/{scan,line-reader,chain-walk,git-merge,hostile}.test.ts',
          ]
        : [],
    setupFiles: ['test/mutation/setup.ts'],
    isolate: false,
    testTimeout: 60_000,
  },
});
