/**
 * How `npm test` runs: every *.test.ts below tests, in two processes, with real counts left in .build/. Tests of what only
 * computes share what they have loaded; whatever starts a server, a store, a browser or a command has a process of its own.
 */
import { defineConfig } from 'vitest/config';

const COMPUTES =
  '{basics,call,calls,clinical,content,desk,flow,flows,follow,people,prove,review,terminal,understand}/**/*.test.ts';

export default defineConfig({
  test: {
    dir: 'tests',
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    allowOnly: false,
    reporters: ['default', ['json', { outputFile: '.build/test-results.json' }]],
    projects: [
      { extends: true, test: { name: 'computes', include: [COMPUTES], isolate: false } },
      {
        extends: true,
        test: { name: 'runs', include: ['**/*.test.ts'], exclude: ['**/node_modules/**', COMPUTES] },
      },
    ],
  },
});
