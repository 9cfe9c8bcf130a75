/** How `npm run soak` runs: the long series below tests/soak, one after the other. */
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['**/*.soak.ts'],
    pool: 'forks',
    maxWorkers: 1,
    testTimeout: 1_800_000,
    hookTimeout: 60_000,
    allowOnly: false,
  },
});
