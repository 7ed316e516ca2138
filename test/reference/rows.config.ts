/** For table.test.ts: the checks in one process, without a build. */
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/reference/*.test.ts'],
    exclude: ['test/reference/table.test.ts'],
    pool: 'forks',
    isolate: false,
    fileParallelism: false,
    reporters: ['dot'],
  },
});
