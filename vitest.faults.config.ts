/** Tests that kill writers and fail their system calls: minutes, not seconds, and Linux only. `npm run test:faults`. */
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/faults/**/*.test.ts'],
    globalSetup: 'test/build.ts',
    fileParallelism: false,
    testTimeout: 900_000,
    hookTimeout: 120_000,
  },
});
