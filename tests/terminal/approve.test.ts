/**
 * Signing by two people through the command itself, on a copy of the scripts. That two different people sign, and that a
 * signature holds for one content, is the practice's rule; the clinical safety officer's signature is DCB0160's.
 */
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { approvalsOf } from '../../src/server/approvals-file.ts';
import { approve, type ApproveOptions } from '../../src/terminal/sign-flows.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { projectFolder } from '../support/project-files.ts';
import { makeTempDir } from '../support/temp-dir.ts';

const folder = makeTempDir();
const flows = join(folder.path, 'flows');
cpSync(join(projectFolder, 'flows'), flows, {
  recursive: true,
  filter: (path) => !/procedures\/(?!carpal-tunnel|skin-lesion|general)|surgeons\/|edges\//.test(path),
});
afterAll(folder.remove);

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly complaint: string;
}

interface Wishes extends Omit<ApproveOptions, 'flows'> {
  readonly named?: readonly string[];
}

function run({ named = [], ...wishes }: Wishes = {}): Ran {
  const out: string[] = [];
  const complaints: string[] = [];
  let code = 0;
  approve({ named, options: { ...wishes, flows } }, fixedClock('2026-03-02T12:00:00Z'), {
    line: (text) => out.push(text),
    error: (text) => complaints.push(text),
    exit: (given) => {
      code = given;
    },
  });
  return { code, out: out.join('\n'), complaint: complaints.join('\n') };
}

const SURGEON = { as: 'surgeon', by: 'Miss Ottoline Farrant', until: '2026-12-31' } as const;
const OFFICER = { as: 'safety', by: 'Dr Ines Carrow', until: '2026-12-31' } as const;
const CARPAL = ['carpal-tunnel'];
const LESION = ['skin-lesion'];

describe('approving', () => {
  it('takes two people, holds until an edit of the content, and names what the edit changed', () => {
    const surgeon = run({ named: CARPAL, ...SURGEON });
    expect(surgeon).toMatchObject({ code: 0 });
    expect(surgeon.out).toContain('unsigned, signed so far as surgeon');

    const same = run({ named: CARPAL, ...OFFICER, by: 'MISS ottoline Farrant' });
    expect(same.code).toBe(2);
    expect(same.complaint).toContain('a second, different person is accepted as safety');

    const officer = run({ named: CARPAL, ...OFFICER });
    expect(officer.out).toContain('approved until 2026-12-31');

    const file = join(flows, 'procedures/carpal-tunnel.yaml');
    const before = readFileSync(file, 'utf8');
    writeFileSync(file, before.replace(/^title: .*$/m, 'title: Carpal tunnel release, edited'));
    const edited = run();
    expect(edited.out).toMatch(/^carpal-tunnel [0-9a-f]{12}: unsigned$/m);
    expect(edited.out).toContain('Changed since they were signed, to be signed anew: carpal-tunnel');
    writeFileSync(file, before);
    expect(run().out).toMatch(/^carpal-tunnel [0-9a-f]{12}: approved/m);
  });

  it('a withdrawal counts at once for whoever reads the file, and keeps who withdrew it', () => {
    const broken: string[] = [];
    const now = approvalsOf(join(flows, 'approvals.yaml'), [], (why) => broken.push(why));
    expect(run({ named: CARPAL, withdraw: true, by: 'Dr Ines Carrow' }).code).toBe(0);
    expect(now().map(({ withdrawnBy }) => withdrawnBy)).toEqual(['Dr Ines Carrow', 'Dr Ines Carrow']);
    writeFileSync(join(flows, 'approvals.yaml'), 'approvals: {');
    expect(now()).toHaveLength(2);
    expect(now()).toHaveLength(2);
    expect(broken).toHaveLength(1);
    writeFileSync(join(flows, 'approvals.yaml'), '# kept\napprovals: []\n');
  });

  it('refuses a script that is not proved, shows what does not hold, and signs nothing', () => {
    const topic = join(flows, 'topics/danger-screen.yaml');
    const screen = readFileSync(topic, 'utf8');
    // A danger that is asked and counts nothing: property 2 must not hold.
    const weaker = screen.replace('if: { breathless: yes }', 'if: { breathless: unsure }');
    expect(weaker).not.toBe(screen);
    writeFileSync(topic, weaker);
    const refused = run({ named: LESION, ...SURGEON });
    writeFileSync(topic, screen);
    expect(refused.code).toBe(1);
    expect(refused.complaint).toContain('Nothing was signed');
    expect(readFileSync(join(flows, 'approvals.yaml'), 'utf8')).toBe('# kept\napprovals: []\n');
  });

  it.each<[string, Wishes, string]>([
    [
      'a procedure nobody knows',
      { named: ['carpal-tunel'], ...SURGEON },
      'There is no script for carpal-tunel',
    ],
    ['a signer of another role', { named: LESION, ...SURGEON, as: 'nurse' }, 'surgeon or safety is accepted'],
    ['nobody', { named: LESION, as: 'surgeon', until: '2026-12-31' }, '--by is missing'],
    ['no date', { named: LESION, ...SURGEON, until: 'June' }, '--until is no date'],
    ['a day that has passed', { named: LESION, ...SURGEON, until: '2020-01-01' }, 'has passed already'],
    ['nothing to withdraw', { named: LESION, withdraw: true, by: 'A' }, 'Nothing is signed for skin-lesion'],
  ])('%s is refused in one sentence', (_which, wishes, why) => {
    const refused = run(wishes);
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.complaint.split('\n')).toHaveLength(1);
    expect(refused.complaint).toContain(why);
  });
});
