/** A surgeon's own rules only ever make a call more careful, and stand in the record as that surgeon's. */
import { describe, expect, it } from 'vitest';
import { assess, type Assessment } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import type { Findings } from '../../src/clinical/finding.ts';
import { rank } from '../../src/clinical/outcome.ts';
import { readFolder, type TextFile } from '../../src/content/read-folder.ts';
import type { CompiledFlow } from '../../src/flow/compiled.ts';
import { loadFlows } from '../../src/flow/library.ts';
import { realContent } from '../support/real-flows.ts';
import { seeded } from '../support/seeded.ts';
import { randomFindings } from './random-findings.ts';

const { library } = realContent();
const SETS = 150;
const NAME = 'Miss Ottoline Farrant';
const own = library.surgeons.flatMap((surgeon) => library.procedures.map((id) => ({ surgeon, id })));

function told(flow: CompiledFlow, day: number, findings: Findings): Assessment {
  return assess(flow.flow, freshCircumstances({ day, hours: null }), findings);
}

describe("with a surgeon's own rules", () => {
  it.each(own)(
    `a call comes to no less than without ($surgeon, $id, ${String(SETS)} sets by chance)`,
    (one) => {
      const shared = library.flowFor([one.id]);
      const theirs = library.flowFor([one.id], one.surgeon);
      const chance = seeded(17);
      for (let n = 0; n < SETS; n += 1) {
        const day = chance.whole(0, 120);
        const findings = randomFindings(shared.flow, chance);
        const [less, more] = [told(shared, day, findings), told(theirs, day, findings)].map(({ outcome }) =>
          rank(outcome),
        );
        expect(more, JSON.stringify({ day, findings })).toBeGreaterThanOrEqual(less ?? 8);
      }
    },
  );

  it.each(own)('no shared rule, threshold, question or sign is gone ($surgeon, $id)', ({ surgeon, id }) => {
    const { flow: shared } = library.flowFor([id]);
    const { flow: theirs } = library.flowFor([id], surgeon);
    expect(theirs.questions).toEqual(shared.questions);
    const kept = new Set(theirs.rules.map((rule) => rule.id));
    expect(shared.rules.filter((rule) => !kept.has(rule.id))).toEqual([]);
    for (const concern of shared.concerns) {
      const same = theirs.concerns.find((one) => one.id === concern.id);
      expect(same?.thresholds).toEqual(expect.arrayContaining([...concern.thresholds]));
    }
    expect(theirs.safetyNet).toEqual(shared.safetyNet);
  });
});

// What the demo's surgeon asks for beyond the shared script: flows/surgeons/farrant.yaml.
describe('the surgeon of the demo', () => {
  const shared = library.flowFor(['breast-lift']);
  const theirs = library.flowFor(['breast-lift'], NAME);
  const own = library.flowFor(['breast-lift'], 'farrant');

  it('is found by the name that operations carry and by id, and changes the hash', () => {
    expect(theirs.hash).toBe(own.hash);
    expect(theirs.hash).not.toBe(shared.hash);
    expect(theirs.flow.surgeon).toBe(NAME);
    expect(library.flowFor(['breast-lift'], 'Mr Nobody Known').hash).toBe(shared.hash);
  });

  it('sees a knock in the first six weeks the same day, and the reason says whose rule that is', () => {
    const { outcome, reasons } = told(theirs, 20, { 'fall-or-knock': 'yes' });
    expect(rank(outcome)).toBe(4);
    expect(reasons.find(({ from }) => from === 'farrant-fall-after-breast-surgery')?.source).toContain(
      `${NAME}'s own rule`,
    );
  });

  it('sees four points of infection the same day, and the reason says whose rule that is', () => {
    const findings = mildSignsOf(4);
    const [before, after] = [told(shared, 8, findings), told(theirs, 8, findings)];
    expect(before.concerns['infection']).toBe(4);
    expect(rank(before.outcome)).toBeLessThan(4);
    expect(after.outcome).toMatchObject({ outcome: 'arrange-review', within: 'same-day' });
    expect(after.reasons.find(({ from }) => from === 'infection')?.source).toContain(`${NAME}'s own rule`);
  });

  it('has driving of her own, shown as hers, and the shared plan of all other kinds', () => {
    const driving = theirs.flow.aftercare.filter(({ kind }) => kind === 'driving');
    expect(driving.map(({ window }) => window.days)).toEqual([
      [0, 20],
      [21, 365],
    ]);
    expect(driving.every(({ source }) => source.startsWith(`${NAME}'s own rule`))).toBe(true);
    const others = (flow: CompiledFlow) => flow.flow.aftercare.filter(({ kind }) => kind !== 'driving');
    expect(others(theirs)).toEqual(others(shared));
  });

  it('changes nothing for the patients of other surgeons', () => {
    expect(
      told(shared, 20, { 'fall-or-knock': 'yes' })
        .reasons.map(({ source }) => source)
        .join(),
    ).not.toContain(NAME);
    expect(shared.flow.surgeon).toBeNull();
  });
});

describe('a surgeon file that says something else', () => {
  const lines = ['surgeon: quill', 'called: [Mr Ambrose Quill]'];

  it.each([
    [
      'a plan for an operation without a flow',
      ['aftercare:', '  toe-straightening: {}'],
      'unknown-procedure',
      4,
    ],
    ['a rule that comes to advice', [...rule('at-least: { within: none }')], 'wrong-shape', 6],
    [
      'a rule about an unknown finding',
      [...rule('at-least: { within: same-day }', 'sweling')],
      'unknown-finding',
      5,
    ],
    ['an answer to a question', ['questions: []'], 'unknown-key', 3],
    ['a change to a shared rule', ['changes: []'], 'unknown-key', 3],
  ] as const)('is refused: %s', (_what, more, code, line) => {
    const loaded = loadFlows([...realTexts(), file([...lines, ...more].join('\n'))]);
    const faults = loaded.ok ? [] : loaded.fault;
    expect(faults.map((fault) => ({ code: fault.code, file: fault.file, line: fault.line }))).toContainEqual({
      code,
      file: 'surgeons/quill.yaml',
      line,
    });
  });
});

function rule(effect: string, finding = 'redness'): readonly string[] {
  return [
    'rules:',
    '  - id: quill-own',
    `    if: { ${finding}: spreading }`,
    `    ${effect}`,
    '    because: So.',
    '    source: common practice',
  ];
}

function file(text: string): TextFile {
  return { file: 'surgeons/quill.yaml', below: 'surgeons/quill.yaml', text };
}

function realTexts(): readonly TextFile[] {
  const texts = readFolder('flows');
  if (!texts.ok) throw new Error('The flows cannot be read');
  return texts.value;
}

/** Findings on day 8 whose points for infection come to just so many and that raise no alarm. */
function mildSignsOf(points: number): Findings {
  const { flow } = library.flowFor(['breast-lift']);
  const tries = flow.rules.flatMap(({ effect, if: rows }): Findings[] =>
    effect.kind === 'points' && effect.concern === 'infection'
      ? rows.map((row) =>
          Object.fromEntries(
            row.map((test) => [
              test.finding,
              'in' in test ? (test.in[0] ?? 'unsure') : 'atLeast' in test ? test.atLeast : test.atMost,
            ]),
          ),
        )
      : [],
  );
  const pairs = tries.flatMap((a) => [a, ...tries.map((b) => ({ ...a, ...b }))]);
  const found = pairs.find((findings) => {
    const { concerns, redFlags, outcome } = told(library.flowFor(['breast-lift']), 8, findings);
    return concerns['infection'] === points && redFlags.length === 0 && rank(outcome) < 4;
  });
  if (found === undefined) throw new Error('No mild signs come to that');
  return found;
}
