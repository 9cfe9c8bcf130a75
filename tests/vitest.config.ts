/** How `npm test` runs: every *.test.ts below tests, in two processes, with real counts left in .build/. */
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['**/*.test.ts'],
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    allowOnly: false,
    reporters: ['default', ['json', { outputFile: '.build/test-results.json' }]],
  },
});
