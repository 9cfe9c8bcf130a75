/** Folders for one test, which are gone after it. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** A new empty folder; removed with all it holds when the test that asked for it has finished. */
export function tempDir(): string {
  const { path, remove } = makeTempDir();
  onTestFinished(remove);
  return path;
}

/** The same for a whole file, which calls `remove` in its `afterAll`. */
export function makeTempDir(): { readonly path: string; readonly remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'call-desk-'));
  return {
    path,
    remove: () => {
      rmSync(path, { recursive: true, force: true });
    },
  };
}
