/** An everyday question is answered on every day from 0 to 365 of every operation, and by one text of its plan. */
import { describe, expect, it } from 'vitest';
import { aftercareNow, type AdviceItem } from '../../src/call/advice.ts';
import { begin, runnerOf, standingOf, step, type Runner } from '../../src/call/step.ts';
import type { Findings } from '../../src/clinical/finding.ts';
import type { TimeSince } from '../../src/clinical/window.ts';
import { AFTERCARE_KINDS, type AftercareKind } from '../../src/flow/compiled.ts';
import { timeText } from '../../src/prove/times.ts';
import { realContent } from '../support/real-flows.ts';
import { momentsOf } from './play.ts';

const { library } = realContent();
const asks = library.vocabulary.ids.filter((id) => id.startsWith('asks-'));
const everything: Findings = Object.fromEntries(asks.map((id) => [id, 'yes']));
const flows = library.procedures.map((id) => ({ id, compiled: library.flowFor([id]) }));

/** Stitches and tape belong to the dressing, the next visit to the visits; the others carry the name of their part. */
const KIND_OF: Readonly<Record<string, AftercareKind>> = {
  'asks-driving': 'driving',
  'asks-washing': 'washing',
  'asks-exercise': 'exercise',
  'asks-work': 'work',
  'asks-flying': 'flying',
  'asks-support-garment': 'support-garment',
  'asks-scar-care': 'scar-care',
  'asks-stitches-or-tape': 'dressing',
  'asks-next-visit': 'visits',
  'asks-medicines': 'medicines',
  'asks-sleeping-position': 'sleeping-position',
};

function answersTo(runner: Runner, at: TimeSince, findings: Findings): readonly AdviceItem[] {
  const identified = step(runner, begin(runner), {
    type: 'IDENTIFIED',
    times: [at],
    clinic: 'open',
    earlierCalls: [],
    known: {},
    facts: {},
  });
  if (!identified.ok) throw new Error('The operation was not taken');
  const said = step(runner, identified.value, {
    type: 'SETTLE',
    findings,
    how: 'volunteered',
    correction: 'mis-keyed',
  });
  if (!said.ok) throw new Error('The question was not taken');
  return aftercareNow(runner.compiled.flow, standingOf(runner, said.value)).filter(({ asked }) => asked);
}

describe('the everyday questions', () => {
  it('are eleven, one for each part of a plan', () => {
    expect(asks.toSorted()).toEqual(Object.keys(KIND_OF).toSorted());
    expect(Object.values(KIND_OF).toSorted()).toEqual([...AFTERCARE_KINDS].toSorted());
  });

  it.each(asks)('%s is answered by its own part of the plan', (id) => {
    const runner = runnerOf(library.flowFor(['breast-lift']));
    const kinds = answersTo(runner, { day: 10, hours: null }, { [id]: 'yes' }).map(({ kind }) => kind);
    expect(kinds).toEqual([KIND_OF[id]]);
  });

  it.each(flows)('each have one answer at every moment after $id', ({ compiled }) => {
    const runner = runnerOf(compiled);
    const days = new Set<number | null>();
    for (const { at, times } of momentsOf(compiled)) {
      for (const time of times) days.add(time.day);
      const kinds = answersTo(runner, at, everything).map(({ kind }) => kind);
      expect(kinds.toSorted(), timeText(at)).toEqual([...AFTERCARE_KINDS].toSorted());
    }
    expect(days.size).toBe(366);
  });

  it.each(flows)('are answered with where the answer comes from after $id', ({ compiled }) => {
    const bare = compiled.flow.aftercare.filter(
      ({ say, source }) => say.trim() === '' || source.trim() === '',
    );
    expect(bare).toEqual([]);
  });

  it('get no permission while nobody knows on which day the operation was', () => {
    for (const { compiled } of flows) {
      expect(answersTo(runnerOf(compiled), { day: null, hours: null }, everything)).toEqual([]);
    }
  });
});

// Practice rule: permissions are "not before day N, and only when ..."; the patient's own letter wins.
describe('what a plan allows', () => {
  const said = flows.flatMap(({ id, compiled }) => compiled.flow.aftercare.map((one) => ({ id, ...one })));

  it('bows to the letter of the surgeon, in every sentence that is said', () => {
    expect(said.length).toBeGreaterThan(300);
    expect(said.filter(({ say }) => !say.endsWith("Your surgeon's own letter wins."))).toEqual([]);
  });

  it('is never allowed without a condition', () => {
    const allowed = said.filter(({ say }) => /\byou may\b/i.test(say));
    expect(allowed.length).toBeGreaterThan(100);
    expect(
      allowed.filter(({ say }) => !/\bonly\b|not before/i.test(say)).map(({ id, say }) => `${id}: ${say}`),
    ).toEqual([]);
  });

  it.each(['driving', 'exercise', 'flying'])(
    '%s is not allowed on the day itself, and by some day it is',
    (kind) => {
      for (const { id } of flows) {
        const own = said.filter((one) => one.id === id && one.kind === kind);
        const [first] = own.toSorted((a, b) => a.window.days[0] - b.window.days[0]);
        expect(first?.say, `${id}, ${kind}`).toMatch(/not before|not yet|do not|nothing|no /i);
        expect(
          own.some(({ say }) => /\byou may\b/i.test(say)),
          `${id}, ${kind}`,
        ).toBe(true);
      }
    },
  );
});
