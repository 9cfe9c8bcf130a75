/**
 * The difference of two small flows is that of going through every combination of answers with the deciding function
 * itself: which outcomes move to which, with how few answers, and how many combinations come to what.
 */
import { describe, expect, test } from 'vitest';
import type { Findings } from '../../../src/clinical/finding.ts';
import { LADDER, rank } from '../../../src/clinical/outcome.ts';
import { conditionHolds } from '../../../src/clinical/condition.ts';
import type { TimeSince } from '../../../src/clinical/window.ts';
import { assess } from '../../../src/call/assess.ts';
import { freshCircumstances } from '../../../src/call/circumstances.ts';
import { score } from '../../../src/call/score.ts';
import type { CompiledFlow, Flow } from '../../../src/flow/compiled.ts';
import type { Bounds } from '../../../src/prove/difference/counts.ts';
import { differenceMarkdown } from '../../../src/prove/difference/difference-text.ts';
import { DIFFERENCE_BUDGET, differenceOf, type DayClass } from '../../../src/prove/difference/difference.ts';
import { POSSIBLE_TIMES } from '../../../src/prove/times.ts';
import {
  aFlow,
  choice,
  concern,
  days,
  is,
  numeric,
  points,
  question,
  redFlag,
  yesNo,
} from '../../support/a-flow.ts';
import { combination, everyAnswer } from '../../support/every-answer.ts';
import { randomFlow } from '../../support/random-flow.ts';
import { seeded, type Seeded } from '../../support/seeded.ts';
import { tampered } from '../../support/tampered.ts';

const SEED = 77_120;

/** One thing changed by chance: a rule gone, shifted, or with another effect, or a threshold moved. */
function edited(compiled: CompiledFlow, chance: Seeded): CompiledFlow {
  const own = compiled.flow.rules.filter(({ id }) => id.startsWith('rule-'));
  const one = chance.pick(own);
  const kind = chance.pick(['gone', 'shifted', 'stronger', 'threshold'] as const);
  return tampered(compiled, (flow): Partial<Flow> => {
    if (kind === 'threshold') {
      return {
        concerns: flow.concerns.map((each) => ({
          ...each,
          thresholds: each.thresholds.map((at) => ({ ...at, points: at.points + 1 })),
        })),
      };
    }
    const rules = flow.rules.flatMap((rule) => {
      if (rule.id !== one.id) return [rule];
      if (kind === 'gone') return [];
      if (kind === 'shifted') return [{ ...rule, window: days(3, 40) }];
      const { effect } = rule;
      return effect.kind === 'points'
        ? [{ ...rule, effect: { ...effect, points: effect.points + 2 } }]
        : [{ ...rule, effect: { ...effect, to: LADDER[6] } }];
    });
    return { rules };
  });
}

interface Enumerated {
  /** By rank before and after, how many combinations and the fewest answers among them. */
  readonly cells: ReadonlyMap<string, { count: bigint; fewest: number }>;
  readonly crossed: (concern: string, points: number) => readonly [bigint, bigint];
}

function everything(before: CompiledFlow, after: CompiledFlow, at: TimeSince): Enumerated {
  const answers = everyAnswer(Object.values(before.flow.findings));
  const cells = new Map<string, { count: bigint; fewest: number }>();
  const all: Findings[] = [];
  for (let number = 0; number < answers.count; number += 1) {
    const findings = combination(answers, number);
    all.push(findings);
    const [from, to] = [before, after].map(({ flow }) =>
      rank(assess(flow, freshCircumstances(at), findings).outcome),
    );
    const key = `${String(from)} ${String(to)}`;
    const known = cells.get(key) ?? { count: 0n, fewest: Infinity };
    cells.set(key, { count: known.count + 1n, fewest: Math.min(known.fewest, Object.keys(findings).length) });
  }
  const crossings = ({ flow }: CompiledFlow, id: string, least: number): bigint => {
    const threshold = flow.concerns
      .find((one) => one.id === id)
      ?.thresholds.find((one) => one.points === least);
    if (threshold === undefined) return -1n;
    return all.reduce((sum, findings) => {
      const reached = (score(flow, at, findings).points[id] ?? 0) >= least;
      return reached && (threshold.when === null || conditionHolds(threshold.when, findings))
        ? sum + 1n
        : sum;
    }, 0n);
  };
  return { cells, crossed: (id, least) => [crossings(before, id, least), crossings(after, id, least)] };
}

function sumWhere({ cells }: Enumerated, holds: (from: number, to: number) => boolean): bigint {
  return [...cells].reduce((sum, [key, { count }]) => {
    const [from = 0, to = 0] = key.split(' ').map(Number);
    return holds(from, to) ? sum + count : sum;
  }, 0n);
}

function exactly(ways: bigint): Bounds {
  return { low: ways, high: ways };
}

/** What was found for a class is what going through everything finds. */
function expectSame(found: DayClass | undefined, all: Enumerated): void {
  const moves = [...all.cells].filter(([key]) => key.split(' ')[0] !== key.split(' ')[1]);
  const shown = (found?.moves ?? []).map(({ from, to, example }) => [
    `${String(rank(from))} ${String(rank(to))}`,
    Object.keys(example.findings).length,
  ]);
  expect(new Map(shown as [string, number][])).toEqual(
    new Map(moves.map(([key, { fewest }]) => [key, fewest])),
  );
  expect(found?.undecided ?? []).toEqual([]);
  const counts = found?.outcomes;
  if (counts === null || counts === undefined) return;
  expect(counts.before).toEqual(LADDER.map((_, at) => exactly(sumWhere(all, (from) => from === at))));
  expect(counts.after).toEqual(LADDER.map((_, at) => exactly(sumWhere(all, (_from, to) => to === at))));
  for (const { from, to, ways } of counts.moved) {
    expect(ways).toEqual(exactly(all.cells.get(`${String(from)} ${String(to)}`)?.count ?? 0n));
  }
  for (const { concern: id, points: least, before, after } of found?.thresholds ?? []) {
    const [was, now] = all.crossed(id, least);
    if (before !== null && was >= 0n && after === null) expect(before).toEqual(exactly(was));
    if (after !== null && now >= 0n) expect(after).toEqual(exactly(now));
  }
}

describe('a small flow made by chance, and an edit of it', () => {
  const pairs = Array.from({ length: 6 }, (_, at) => {
    const chance = seeded(SEED + at);
    const { compiled } = randomFlow(chance);
    return { at, compiled, changed: edited(compiled, chance) };
  });

  test.each(pairs)('$at: moves and counts are those of every combination', ({ compiled, changed }) => {
    const difference = differenceOf(compiled, changed);
    const times = [POSSIBLE_TIMES[1], POSSIBLE_TIMES[60]].flatMap((time) => time ?? []);
    for (const time of [...difference.classes.map(({ at }) => at), ...times].slice(0, 2)) {
      const own = difference.classes.find(({ at }) => at === time);
      const covering = own ?? difference.classes.find(({ days: text }) => covers(text, time.day ?? 0));
      expectSame(covering, everything(compiled, changed, time));
    }
  });

  test('some of them move something', () => {
    const moving = pairs.filter(
      ({ compiled, changed }) => differenceOf(compiled, changed).classes.length > 0,
    );
    expect(moving.length).toBeGreaterThan(3);
  });

  test('what does not fit the budget is given as bounds in which the exact number lies', () => {
    for (const { compiled, changed } of pairs) {
      const exact = differenceOf(compiled, changed);
      const rough = differenceOf(compiled, changed, { ...DIFFERENCE_BUDGET, states: 2 });
      for (const [at, { outcomes }] of exact.classes.entries()) {
        const bounds = rough.classes[at]?.outcomes;
        for (const [level, { low }] of (outcomes?.after ?? []).entries()) {
          const around = bounds?.after[level];
          expect(around !== undefined && around.low <= low && low <= around.high).toBe(true);
        }
      }
    }
  });
});

function covers(text: string, day: number): boolean {
  const ranges = /^days ([\d, -]+)/.exec(text)?.[1] ?? '';
  return ranges.split(', ').some((range) => {
    const [from = -1, to = from] = range.split('-').map(Number);
    return from <= day && day <= to;
  });
}

describe('two flows counted by hand', () => {
  // Four findings of four answers each (no, yes, unsure, not reached): 256 combinations; a and b alone have 16.
  const rules = [points('a', is('a', 'yes'), { points: 2 }), points('b', is('b', 'yes'), { points: 2 })];
  const rungs = (least: number) => [concern('first', [[least, LADDER[1]]])];
  const before = aFlow({ findings: [yesNo('a'), yesNo('b')], rules, concerns: rungs(3) });
  const after = aFlow({
    findings: [yesNo('a'), yesNo('b')],
    rules: [points('a', is('a', 'yes'), { points: 3 }), ...rules.slice(1)],
    concerns: rungs(3),
  });
  const difference = differenceOf(before, after);

  test('the threshold of 3 is crossed by 16 combinations before (both yes) and by 64 after (a is yes)', () => {
    const [one] = difference.classes;
    expect(difference.classes).toHaveLength(1);
    expect(one?.thresholds).toEqual([
      { concern: 'first', points: 3, to: LADDER[1], before: exactly(16n), after: exactly(64n) },
    ]);
  });

  test('a alone moves from advice to a planned visit, and 12 combinations do: a is yes, b is not, no danger', () => {
    const [move] = difference.classes[0]?.moves ?? [];
    expect(move).toMatchObject({
      from: LADDER[0],
      to: LADDER[1],
      example: { at: { day: 0 }, findings: { a: 'yes' }, isAsked: true },
    });
    // b has 3 other answers, and each of the two dangers no or not reached: 3 x 2 x 2.
    expect(difference.classes[0]?.outcomes?.moved).toEqual([{ from: 0, to: 1, ways: exactly(12n) }]);
    expect(difference.classes[0]?.outcomes?.combinations).toBe(256n);
  });

  test('a person reads it', () => {
    const text = differenceMarkdown(difference);
    expect(text).toContain('- **a**, comes to: was "2 points", is "3 points"');
    expect(text).toContain(
      '| advise | arrange-review, planned-visit | days 0-365, day unknown | day 0: a=yes |',
    );
    expect(text).toContain('- 12 move from advise to arrange-review, planned-visit.');
  });

  test('what hangs on an answer is counted only where that opens it, and numbers on their grid', () => {
    const findings = [
      choice('swelling', ['none', 'even']),
      yesNo('tense', { when: is('swelling', 'even') }),
      numeric('pain', { min: 0, max: 10, normal: 2 }),
    ];
    const flag = redFlag('tense', is('tense', 'yes'));
    const sore = points('sore', [[{ finding: 'pain', atLeast: 7 }]], { points: 2 });
    const old = aFlow({ findings, rules: [sore], concerns: [concern('first', [[2, LADDER[1]]])] });
    const now = aFlow({ findings, rules: [sore, flag], concerns: [concern('first', [[2, LADDER[1]]])] });
    const [one] = differenceOf(old, now).classes;
    // Swelling even: 4 ways of tense; none, unsure or not reached: 1 each. Pain: 11 numbers and 2. Dangers: 16.
    expect(one?.outcomes?.combinations).toBe(BigInt((4 + 3) * 13 * 16));
    // Tense, no danger (2 x 2): pain is 7 to 10 (4 numbers) for a planned visit before, else (9) advice.
    expect(one?.outcomes?.moved).toEqual([
      { from: 0, to: 5, ways: exactly(36n) },
      { from: 1, to: 5, ways: exactly(16n) },
    ]);
  });
});

describe('an edit that decides nothing', () => {
  const findings = [yesNo('a')];
  const before = aFlow({ findings, rules: [redFlag('a', is('a', 'yes'))] });

  test('moves no combination: only words are changed', () => {
    const asked = [question('a', { words: 'Is it so?' })];
    const after = aFlow({ findings, rules: [redFlag('a', is('a', 'yes'))], questions: asked });
    const difference = differenceOf(before, after);
    expect(difference.classes).toEqual([]);
    expect(difference.changes).toEqual([
      { part: 'question', id: 'a', what: 'words', before: 'a', after: 'Is it so?' },
    ]);
    expect(differenceMarkdown(difference)).toContain(
      'No combination of answers moves from one outcome to another',
    );
  });

  test('moves none where a rule is written twice, or under another name', () => {
    const twice = aFlow({
      findings,
      rules: [redFlag('a', is('a', 'yes')), redFlag('again', is('a', 'yes'))],
    });
    const renamed = aFlow({ findings, rules: [redFlag('other', is('a', 'yes'))] });
    for (const after of [twice, renamed]) {
      expect(differenceOf(before, after).classes).toEqual([]);
      expect(differenceOf(before, after).changes).not.toEqual([]);
    }
  });
});
