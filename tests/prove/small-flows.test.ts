/**
 * The verdict of a proof is that of going through every combination of answers with the deciding function itself. What a
 * proof must find is said here once more, straight from the vocabulary's orders and the practice's rules.
 */
import { describe, expect, test } from 'vitest';
import type { FindingSpec, FindingValue } from '../../src/clinical/finding.ts';
import { rank, SAME_DAY } from '../../src/clinical/outcome.ts';
import { conditionHolds } from '../../src/clinical/condition.ts';
import { holdsAt, type TimeSince } from '../../src/clinical/window.ts';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { freezeFlow } from '../../src/flow/compile.ts';
import type { CompiledFlow, Rule } from '../../src/flow/compiled.ts';
import { proveNotKnowing } from '../../src/prove/not-knowing.ts';
import { proveRedFlags } from '../../src/prove/red-flags.ts';
import { subjectOf } from '../../src/prove/subject.ts';
import { proveWorseAnswers } from '../../src/prove/worse-answers.ts';
import { combination, everyAnswer, otherwise, valuesOf, type Answers } from '../support/every-answer.ts';
import { randomFlow } from '../support/random-flow.ts';
import { seeded } from '../support/seeded.ts';

const SEED = 20260302;
const flows = Array.from({ length: 60 }, (_, at) => ({ at, ...randomFlow(seeded(SEED + at)) }));

function ranksAt({ flow }: CompiledFlow, at: TimeSince, answers: Answers): Uint8Array {
  const ranks = new Uint8Array(answers.count);
  for (let number = 0; number < answers.count; number += 1) {
    ranks[number] = rank(assess(flow, freshCircumstances(at), combination(answers, number)).outcome);
  }
  return ranks;
}

/** Every pair that the vocabulary orders, near and far. */
function orderedPairs(spec: FindingSpec): readonly (readonly [FindingValue, FindingValue])[] {
  const pairsOf = (chain: readonly FindingValue[]): [FindingValue, FindingValue][] =>
    chain.flatMap((better, at) =>
      chain.slice(at + 1).map((worse): [FindingValue, FindingValue] => [better, worse]),
    );
  if (spec.order !== null) return spec.order.flatMap(pairsOf);
  const values = valuesOf(spec);
  if (spec.worse === 'neither') return [];
  if (spec.worse === 'away') {
    const normal = Number(spec.normal);
    return [
      ...pairsOf(values.filter((value) => Number(value) >= normal)),
      ...pairsOf(values.filter((value) => Number(value) <= normal).toReversed()),
    ];
  }
  return pairsOf(spec.worse === 'down' || spec.worse === 'no' ? values.toReversed() : values);
}

/** The fewest answers of a combination that ends lower with the second value than with the first; null: there is none. */
function shortestFall(
  answers: Answers,
  ranks: Uint8Array,
  pairs: (spec: FindingSpec) => readonly (readonly [FindingValue, FindingValue])[],
): number | null {
  let shortest: number | null = null;
  for (const [at, spec] of answers.specs.entries()) {
    for (const [better, worse] of pairs(spec)) {
      for (let number = 0; number < answers.count; number += 1) {
        if (combination(answers, number)[spec.id] !== better) continue;
        if ((ranks[otherwise(answers, number, at, worse)] ?? 0) >= (ranks[number] ?? 0)) continue;
        const answered = Object.keys(combination(answers, number)).length;
        if (shortest === null || answered < shortest) shortest = answered;
      }
    }
  }
  return shortest;
}

function least(...found: readonly (number | null)[]): number | null {
  const known = found.filter((one) => one !== null);
  return known.length === 0 ? null : Math.min(...known);
}

describe('a small flow made by chance', () => {
  test('the row of flows has right and wrong ones in it', () => {
    const verdicts = flows.map(({ compiled }) => proveWorseAnswers(subjectOf(compiled)).verdict);
    expect(new Set(verdicts)).toEqual(new Set(['proved', 'refuted']));
  });

  test.each(flows)(
    '$at: worse answers, and not knowing, fare as with every combination',
    ({ compiled, specs }) => {
      const subject = subjectOf(compiled);
      const answers = everyAnswer(specs);
      const all = subject.moments.map(({ at }) => ranksAt(compiled, at, answers));
      const worse = least(...all.map((ranks) => shortestFall(answers, ranks, orderedPairs)));
      const unsure = least(
        ...all.map((ranks) => shortestFall(answers, ranks, ({ normal }) => [[normal, 'unsure']])),
      );
      const proof = proveWorseAnswers(subject);
      expect(proof.verdict).toBe(worse === null ? 'proved' : 'refuted');
      expect(sizeOf(proof.counterexamples[0])).toBe(worse);
      const falls = proveNotKnowing(subject).counterexamples.filter(({ says }) =>
        says.includes('in its place'),
      );
      expect(sizeOf(falls[0])).toBe(unsure);
    },
  );

  test('red flags fare as with every combination, weakened ones among them', () => {
    const verdicts = flows.flatMap(({ compiled, specs }) =>
      [compiled, weakened(compiled)].map((one) => {
        const subject = subjectOf(one);
        const isBroken = subject.moments.some(({ at }) => hasMildCall(one, at, everyAnswer(specs)));
        const { verdict } = proveRedFlags(subject);
        expect(verdict).toBe(isBroken ? 'refuted' : 'proved');
        return verdict;
      }),
    );
    expect(new Set(verdicts)).toEqual(new Set(['proved', 'refuted']));
  });
});

/** The same flow with its red flags of chance taken down to a same-day review. */
function weakened({ flow }: CompiledFlow): CompiledFlow {
  const rules = flow.rules.map((rule): Rule =>
    rule.effect.kind === 'red-flag' && rule.id.startsWith('rule-')
      ? { ...rule, effect: { ...rule.effect, to: SAME_DAY } }
      : rule,
  );
  return freezeFlow({ ...flow, rules });
}

function sizeOf(call: { readonly findings: object } | undefined): number | null {
  return call === undefined ? null : Object.keys(call.findings).length;
}

/** Practice rule: urgent inside its days, same-day at least outside them. */
function hasMildCall(compiled: CompiledFlow, at: TimeSince, answers: Answers): boolean {
  const ranks = ranksAt(compiled, at, answers);
  return compiled.flow.rules.some(({ effect, window, if: condition }) => {
    if (effect.kind !== 'red-flag') return false;
    const needed = holdsAt(window, at) ? Math.max(5, rank(effect.to)) : 4;
    return ranks.some(
      (reached, number) => reached < needed && conditionHolds(condition, combination(answers, number)),
    );
  });
}
