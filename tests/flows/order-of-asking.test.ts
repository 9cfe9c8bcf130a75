/** The order of a call in the real scripts: the screen, then what the opening points to, then the likely, then the dangerous. */
import { describe, expect, it } from 'vitest';
import { agenda } from '../../src/call/agenda.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { IMMEDIATE_DANGER, type Findings } from '../../src/clinical/finding.ts';
import { runnerOf } from '../../src/call/step.ts';
import { TIERS } from '../../src/flow/compiled.ts';
import { realContent } from '../support/real-flows.ts';
import { play } from './play.ts';

const { library } = realContent();
const flows = [...library.procedures, 'general'].map((id) => ({ id, flow: library.flowFor([id]).flow }));
const at = { day: 5, hours: null };

describe.each(flows)('the danger screen of $id', ({ flow }) => {
  const groups = flow.questions.filter(({ tier, kind }) => tier === 'screen' && kind === 'group');

  // Practice rule: four groups of at most three; self-harm is asked on its own and in no group.
  it('has four groups of at most three that hold every immediate danger but self-harm', () => {
    const dangers = Object.values(flow.findings).filter(({ group }) => group === IMMEDIATE_DANGER);
    const spoken = groups.flatMap(({ findings }) => findings);
    expect(groups).toHaveLength(4);
    expect(groups.every(({ findings }) => findings.length <= 3)).toBe(true);
    expect(spoken.toSorted()).toEqual(
      dangers.flatMap(({ id }) => (id.startsWith('self-harm') ? [] : [id])).toSorted(),
    );
    expect(
      flow.questions.filter(({ kind }) => kind === 'group').flatMap(({ findings }) => findings),
    ).not.toContain('self-harm-thoughts');
  });
});

// Practice rule: one open question before any closed one, then pointed, likely, dangerous on that day.
it('goes through the tiers in their order once the screen is done', () => {
  for (const id of library.procedures) {
    const compiled = library.flowFor([id]);
    const tierOf = new Map(compiled.flow.questions.map((one) => [one.id, one.tier]));
    const { asked } = play(runnerOf(compiled), { at, number: 'asked' });
    const ranks = asked
      .filter((one) => one !== 'call-back-number')
      .map((one) => TIERS.indexOf(tierOf.get(one) ?? 'screen'));
    expect(ranks, id).toEqual(ranks.toSorted((a, b) => a - b));
    expect(asked[1], id).toBe('call-back-number');
  }
});

it('what may leave a question out is asked before that question', () => {
  const { flow } = library.flowFor(['tummy-tuck']);
  const screen = flow.questions.filter(({ tier }) => tier === 'screen').flatMap(({ findings }) => findings);
  // Fluid that leaks points at the colour of the skin, which a dressing may hide.
  const said: Findings = { ...Object.fromEntries(screen.map((id) => [id, 'no'])), 'wound-gap': 'small' };
  const asked: string[] = [];
  const findings: Record<string, string | number> = { ...said };
  for (let turn = 0; turn < 40; turn += 1) {
    const next = agenda(flow, freshCircumstances(at), findings, {
      questions: asked,
      facts: ['call-back-number'],
    });
    if ('finished' in next) break;
    asked.push(next.ask.id);
    for (const id of next.ask.findings) findings[id] ??= flow.findings[id]?.normal ?? 'unsure';
  }
  const hidden = flow.questions.filter(({ skipIf }) => skipIf !== null).map(({ id }) => id);
  const first = asked.findIndex((id) => hidden.includes(id));
  expect(first).toBeGreaterThan(-1);
  expect(asked.indexOf('site-covered')).toBeGreaterThan(-1);
  expect(asked.indexOf('site-covered')).toBeLessThan(first);
});
