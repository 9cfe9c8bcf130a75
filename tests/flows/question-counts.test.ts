/**
 * How many questions a call takes when nothing is wrong, on every day of every operation, with the number to ring back
 * and the caller's first words counted. Source: the practice's rules.
 */
import { describe, expect, it } from 'vitest';
import { runnerOf } from '../../src/call/step.ts';
import { score } from '../../src/call/score.ts';
import type { Findings } from '../../src/clinical/finding.ts';
import { reassuringCall } from '../../src/prove/reassuring-call.ts';
import { REAL_DECIDERS } from '../../src/prove/subject.ts';
import { timeClasses, timeText } from '../../src/prove/times.ts';
import type { CompiledFlow } from '../../src/flow/compiled.ts';
import { realContent } from '../support/real-flows.ts';
import { momentsOf, play } from './play.ts';

const { library } = realContent();
const NOTHING_WRONG = 14;
const EVERYDAY_ONLY = 8;

const everyday = library.vocabulary.ids.filter((id) => id.startsWith('asks-'));
const flows = library.procedures.map((id) => ({ id, compiled: library.flowFor([id]) }));
const pairs = library.procedures.flatMap((a, at) =>
  library.procedures.slice(at + 1).map((b) => [a, b] as const),
);
/** Operations of three parts that are done together; common practice. */
const threes = [
  ['breast-lift', 'tummy-tuck', 'liposuction'],
  ['breast-augmentation', 'breast-lift', 'tummy-tuck'],
  ['face-lift', 'eyelid-surgery', 'liposuction'],
] as const;

describe('the moments that are looked at', () => {
  it.each(flows)('hold every day of $id', ({ compiled }) => {
    const days = new Set(momentsOf(compiled).flatMap(({ times }) => times.map(({ day }) => day)));
    expect(days.size).toBe(366);
  });
});

describe('a call in which nothing is wrong', () => {
  it.each(flows)(`takes at most ${String(NOTHING_WRONG)} questions on every day of $id`, ({ compiled }) => {
    const runner = runnerOf(compiled);
    for (const [turn, { at }] of momentsOf(compiled).entries()) {
      const number = turn % 2 === 0 ? 'asked' : 'shown';
      const { asked, standing } = play(runner, { at, number });
      expect(standing.assessment.outcome.outcome, timeText(at)).toBe('advise');
      expect(asked.length, `${timeText(at)}: ${asked.join(', ')}`).toBeLessThanOrEqual(NOTHING_WRONG);
    }
  });
});

describe('a call with an everyday question and nothing else', () => {
  it.each(flows)(`takes at most ${String(EVERYDAY_ONLY)} questions on every day of $id`, ({ compiled }) => {
    const runner = runnerOf(compiled);
    for (const [turn, { at }] of momentsOf(compiled).entries()) {
      const wanted = everyday[turn % everyday.length] ?? '';
      const { asked, standing } = play(runner, { at, number: 'asked', opening: { [wanted]: 'yes' } });
      expect(standing.assessment.outcome.outcome, timeText(at)).toBe('advise');
      // The caller's first words answered the open question.
      expect(asked.length + 1, `${timeText(at)}: ${asked.join(', ')}`).toBeLessThanOrEqual(EVERYDAY_ONLY);
      const screen = compiled.flow.questions.filter(
        ({ tier, kind }) => tier === 'screen' && kind === 'group',
      );
      expect(asked).toEqual(expect.arrayContaining(screen.map(({ id }) => id)));
    }
  });

  it.each(flows)('asks the danger set of the day all the same ($id)', ({ compiled }) => {
    const runner = runnerOf(compiled);
    const tiers = new Map(compiled.flow.questions.map(({ id, tier }) => [id, tier]));
    for (const { at } of momentsOf(compiled)) {
      const { asked } = play(runner, { at, opening: { 'asks-driving': 'yes' } });
      expect(
        asked.map((id) => tiers.get(id)),
        timeText(at),
      ).toContain('day-danger');
    }
  });
});

describe('a call about several procedures of one operation', () => {
  const alone = new Map(flows.map(({ id, compiled }) => [id, settledAlone(compiled)]));

  it.each([...pairs, ...threes].map((ids) => ({ ids, name: ids.join(' with ') })))(
    'keeps to both limits at every moment and leaves out nothing that either alone would ask: $name',
    ({ ids }) => {
      const compiled = library.flowFor(ids);
      const subject = { flow: compiled.flow, deciders: REAL_DECIDERS };
      for (const at of askingMoments(compiled)) {
        const call = reassuringCall(subject, { at, findings: {}, facts: [] });
        expect(call.asked.length, `${timeText(at)}: ${call.asked.join(', ')}`).toBeLessThanOrEqual(
          NOTHING_WRONG,
        );
        expect(score(compiled.flow, at, call.findings).fired, timeText(at)).toEqual([]);
        const apart = ids.flatMap((id) => [...(alone.get(id)?.(at) ?? [])]);
        expect(
          apart.filter((id) => call.findings[id] === undefined),
          timeText(at),
        ).toEqual([]);
        // What may be taken is asked about besides; of three operations that no longer fits into one question.
        const wanted = ids.length === 2 ? 'asks-medicines' : 'asks-driving';
        const short = reassuringCall(subject, { at, findings: { [wanted]: 'yes' }, facts: [] });
        expect(short.asked.length, `${timeText(at)}: ${short.asked.join(', ')}`).toBeLessThanOrEqual(
          EVERYDAY_ONLY,
        );
      }
    },
  );
});

/** By moment, every finding that a call settles in which nothing is wrong. */
function settledAlone(compiled: CompiledFlow): (at: Parameters<typeof timeText>[0]) => ReadonlySet<string> {
  const subject = { flow: compiled.flow, deciders: REAL_DECIDERS };
  const known = new Map<string, ReadonlySet<string>>();
  return (at) => {
    const key = timeText(at);
    const before = known.get(key);
    if (before !== undefined) return before;
    const settled = new Set(Object.keys(reassuringCall(subject, { at, findings: {}, facts: [] }).findings));
    known.set(key, settled);
    return settled;
  };
}

/** Nothing counts in these calls, so only the questions' own windows tell moments apart. */
function askingMoments({ flow }: CompiledFlow): readonly Parameters<typeof timeText>[0][] {
  const windows = flow.questions.filter(({ opens }) => opens === undefined).map(({ window }) => window);
  return timeClasses(windows).flatMap(({ at }) => (at.day === null ? [] : [at]));
}

it('a question is put together with others only where a call would grow too long', () => {
  const [lift] = flows.filter(({ id }) => id === 'breast-lift');
  const runner = runnerOf(library.flowFor(['breast-lift', 'tummy-tuck']));
  const together = (call: { asked: readonly string[] }): readonly string[] =>
    call.asked.filter((id) => id.includes('+'));
  const at = { day: 5, hours: null };
  if (lift === undefined) throw new Error('The lift has no flow');
  expect(together(play(runnerOf(lift.compiled), { at }))).toEqual([]);
  expect(together(play(runner, { at }))).toHaveLength(1);
  const wrong: Findings = { swelling: 'one-sided' };
  expect(together(play(runner, { at, opening: wrong }))).toEqual([]);
});
