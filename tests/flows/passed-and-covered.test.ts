/** What an answer can be in the real scripts: a danger that has passed, a wound that is covered. Source: the practice's rules. */
import { describe, expect, it } from 'vitest';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { IMMEDIATE_DANGER } from '../../src/clinical/finding.ts';
import { runnerOf } from '../../src/call/step.ts';
import { realContent } from '../support/real-flows.ts';
import { play } from './play.ts';

const { library } = realContent();
const { general } = library;
const dangers = Object.values(general.flow.findings)
  .filter(({ id, group }) => group === IMMEDIATE_DANGER && !id.startsWith('self-harm'))
  .map(({ id }) => id);
/** These count as yes however long ago since the operation. */
const SINCE_THE_OPERATION = ['stroke-signs', 'collapse', 'fit'];

describe('an immediate danger that has passed', () => {
  const screen = general.flow.questions.filter(({ tier }) => tier === 'screen');

  it.each(dangers)('%s is asked with how far back it counts', (id) => {
    const groups = screen.filter(({ kind, findings }) => kind === 'group' && findings.includes(id));
    const singles = screen.filter(({ kind, findings }) => kind === 'finding' && findings.includes(id));
    const text = [...groups, ...singles].map(({ words }) => words).join(' ');
    expect(text).toMatch(SINCE_THE_OPERATION.includes(id) ? /since the operation/i : /last 24 hours|now/i);
  });

  it.each(dangers.filter((id) => !SINCE_THE_OPERATION.includes(id)))(
    '%s from longer ago has an answer of its own that is never no, and is urgent',
    (id) => {
      const [single] = screen.filter(({ kind, findings }) => kind === 'finding' && findings.includes(id));
      const unsure = single?.answers.find(({ value }) => value === 'unsure');
      expect(unsure?.label).toMatch(/longer ago/);
      expect(single?.unsureMeans).toMatch(/never a no/);
      for (const procedure of library.procedures) {
        const { flow } = library.flowFor([procedure]);
        const { outcome } = assess(flow, freshCircumstances({ day: 9, hours: null }), { [id]: 'unsure' });
        expect(outcome.outcome, procedure).toBe('urgent-escalation');
      }
    },
  );
});

describe('a wound that has to stay covered', () => {
  const flows = library.procedures.map((id) => ({ id, compiled: library.flowFor([id]) }));

  // Practice rule: on days when the plan keeps the dressing on, colour is not asked and stand-ins are.
  it.each(flows)(
    'is asked about by what shows past it, within the count of a well call: $id',
    ({ compiled }) => {
      const covered = library.files.procedures.get(compiled.flow.id)?.data.covered;
      if (covered === undefined) throw new Error(`${compiled.flow.id} does not say when it is covered`);
      const runner = runnerOf(compiled);
      for (let day = covered[0]; day <= Math.min(covered[1], 14); day += 1) {
        const opening = { 'site-covered': 'yes' };
        const { asked, standing } = play(runner, { at: { day, hours: null }, opening, number: 'asked' });
        expect(standing.assessment.outcome.outcome, `day ${String(day)}`).toBe('advise');
        expect(asked.length + 1, `day ${String(day)}: ${asked.join(', ')}`).toBeLessThanOrEqual(14);
        const settled = standing.context.held;
        const standIns = [
          'below-dressing-blue-or-numb',
          'pain-sudden',
          'smell',
          'dressing-soaked',
          'swelling-tense',
        ];
        expect(standIns.filter((id) => settled[id] !== undefined).length).toBeGreaterThanOrEqual(2);
      }
    },
  );

  // Practice rule: nobody is told to lift a graft dressing or bolster.
  it('is never ordered to be lifted', () => {
    const orders =
      /(?<!not |never |nobody )\b(lift|peel|take off|remove|look under)\b[^.]*\b(dressing|bolster|bandage)/i;
    expect('Lift the dressing and look.').toMatch(orders);
    const { flow } = library.flowFor(['skin-graft']);
    const heard = [
      ...flow.questions.flatMap(({ words, spoken }) => [words, spoken]),
      ...flow.rules.flatMap(({ effect }) => (effect.kind === 'red-flag' ? effect.untilSeen : [])),
      ...flow.safetyNet.map(({ say }) => say),
    ];
    expect(heard.length).toBeGreaterThan(150);
    expect(heard.filter((text) => orders.test(text))).toEqual([]);
  });
});
