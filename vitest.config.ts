import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    // Minutes long; npm run test:faults.
    exclude: ['test/faults/**', '**/node_modules/**'],
    globalSetup: 'test/build.ts',
    pool: 'forks',
    testTimeout: 60_000,
  },
});
