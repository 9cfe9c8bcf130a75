/** What the server loads at its start is whole or refused, the hazard list too. Source: the practice's rules. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadContent } from '../../src/server/content.ts';
import { smallContent } from '../support/a-desk.ts';
import { readText } from '../support/project-files.ts';
import { tempDir } from '../support/temp-dir.ts';

const HAZARDS = 'hazards.yaml';

describe('the hazard list', () => {
  test.each([
    ['an owner that no practice has', /owner: [a-z-]+/, 'owner: nobody', 'wrong-shape'],
    ['a likelihood that the matrix does not know', /likelihood: medium/, 'likelihood: never', 'wrong-shape'],
    ['a key that nothing reads', /^intended-use:/m, 'purpose: none\nintended-use:', 'unknown-key'],
  ])('with %s is refused at the start like any other file', (_what, from, to, code) => {
    const flows = smallContent(tempDir());
    expect(loadContent(flows).ok).toBe(true);
    writeFileSync(join(flows, HAZARDS), readText(`flows/${HAZARDS}`).replace(from, to));
    const loaded = loadContent(flows);
    const problems = loaded.ok ? [] : loaded.fault;
    expect(problems.map((one) => [one.code, one.file.endsWith(HAZARDS)])).toContainEqual([code, true]);
  });
});
