/**
 * The breast lift flow is proved; each deliberately broken copy of it is refuted by a call that a person can read and that
 * the deciding function confirms. What has to hold is in the practice's rules for every call (practice rule).
 */
import { describe, expect, test } from 'vitest';
import { LADDER, PLANNED_VISIT, SAME_DAY, WITHIN_THE_HOUR, rank } from '../../src/clinical/outcome.ts';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { settle } from '../../src/call/settle.ts';
import type { CompiledFlow, Rule } from '../../src/flow/compiled.ts';
import { proveCombined } from '../../src/prove/combined.ts';
import { proveDays } from '../../src/prove/days.ts';
import { proveEndings } from '../../src/prove/endings.ts';
import { proveNotKnowing } from '../../src/prove/not-knowing.ts';
import { prove } from '../../src/prove/prove.ts';
import { proveReachable } from '../../src/prove/reachable.ts';
import { proveRedFlags } from '../../src/prove/red-flags.ts';
import type { Counterexample, Proof, PropertyId } from '../../src/prove/report.ts';
import { REAL_DECIDERS, subjectOf, type Deciders, type Subject } from '../../src/prove/subject.ts';
import { proveTellingOrder } from '../../src/prove/telling-order.ts';
import { proveTold } from '../../src/prove/told.ts';
import { proveWorseAnswers } from '../../src/prove/worse-answers.ts';
import { allOf, atLeast, days, is, points, question, redFlag } from '../support/a-flow.ts';
import { realContent } from '../support/real-flows.ts';
import { changedQuestion, changedRule, tampered, withRule, withoutRule } from '../support/tampered.ts';

const { library } = realContent();
const lift = library.flowFor(['breast-lift']);
const both = library.flowFor(['breast-lift', 'tummy-tuck']);
const alone = [lift, library.flowFor(['tummy-tuck'])];

const PROOFS: Readonly<Record<PropertyId, (subject: Subject) => Proof>> = {
  1: proveEndings,
  2: proveRedFlags,
  3: proveWorseAnswers,
  4: proveNotKnowing,
  5: proveReachable,
  6: proveDays,
  7: proveTellingOrder,
  8: ({ flow, deciders }) => proveTold(flow, deciders),
  9: (subject) => proveCombined(subject, []),
};

function proofOf(compiled: CompiledFlow, property: PropertyId, deciders: Deciders = REAL_DECIDERS): Proof {
  return PROOFS[property](subjectOf(compiled, deciders));
}

/** The shortest call that refutes the property, which the deciding function confirms to fall short. */
function refuting(compiled: CompiledFlow, property: PropertyId): Counterexample {
  const proof = proofOf(compiled, property);
  expect(proof.verdict).toBe('refuted');
  const [call] = proof.counterexamples;
  if (call === undefined) throw new Error('Nothing is shown');
  if (call.atLeast !== null) {
    const { outcome } = assess(compiled.flow, freshCircumstances(call.at), call.findings);
    expect(rank(outcome)).toBeLessThan(rank(call.atLeast));
  }
  return call;
}

test('the flow as it is written is proved', () => {
  const [report] = prove({ single: [lift], derived: [] });
  expect(report?.proofs.map(({ property, verdict }) => [property, verdict])).toEqual(
    [1, 2, 3, 4, 5, 6, 7, 8, 9].map((property) => [property, 'proved']),
  );
});

describe('1: a call that does not end well', () => {
  test('a group with a member that no question settles', () => {
    const call = refuting(
      changedQuestion(lift, 'collapse', () => []),
      1,
    );
    expect(call.says).toContain('no question settles collapse');
  });

  test('a call in which nothing is wrong and that has too many questions', () => {
    const more = [
      'smell',
      'numbness',
      'headache',
      'fluid-shifts',
      'stitch-showing',
      'tape-rash',
      'fall-or-knock',
    ];
    const broken = tampered(lift, ({ questions }) => ({
      questions: [...questions, ...more.map((id) => question(`also-${id}`, { findings: [id] }))],
    }));
    expect(refuting(broken, 1).says).toMatch(/in which nothing is wrong has \d+ questions; at most 14/);
  });
});

describe('2: a red flag that is not urgent', () => {
  test('an immediate danger that counts on some days only', () => {
    const broken = changedRule(lift, 'breathless', (rule) => [{ ...rule, window: days(0, 100) }]);
    const call = refuting(broken, 2);
    expect(call.findings).toEqual({ breathless: 'yes' });
    expect(call.at).toEqual({ day: 101, hours: null });
  });

  test('a red flag that only comes to a review', () => {
    const broken = changedRule(lift, 'lift-nipple-colour', (rule) => [weakened(rule)]);
    expect(refuting(broken, 2).says).toContain('lift-nipple-colour comes to arrange-review, same-day');
  });

  test('a red flag that counts nothing outside its days for an empty reason', () => {
    const broken = changedRule(lift, 'lift-nipple-colour', (rule) => [harmless(rule, ' ')]);
    expect(refuting(broken, 2).at.day).toBeGreaterThan(7);
    const stated = changedRule(lift, 'lift-nipple-colour', (rule) => [harmless(rule, 'A scab falls off.')]);
    expect(proofOf(stated, 2).verdict).toBe('proved');
    expect(proofOf(stated, 9).listed.join()).toContain('A scab falls off.');
  });

  function weakened(rule: Rule): Rule {
    return rule.effect.kind === 'red-flag' ? { ...rule, effect: { ...rule.effect, to: SAME_DAY } } : rule;
  }

  function harmless(rule: Rule, harmlessOutside: string): Rule {
    return rule.effect.kind === 'red-flag' ? { ...rule, effect: { ...rule.effect, harmlessOutside } } : rule;
  }
});

describe('3: a worse answer that lowers', () => {
  test('a small gap that is urgent where an open one is not', () => {
    const call = refuting(withRule(lift, redFlag('small-gap', is('wound-gap', 'small'))), 3);
    expect(call.findings).toEqual({ 'wound-gap': 'open' });
    expect(call.says).toContain('wound-gap=small in its place to urgent-escalation, 1-hour');
  });

  test('points for clear fluid that pus does not give', () => {
    const broken = withRule(
      lift,
      points('clear', is('discharge', 'clear-or-blood-tinged'), { points: 9, concern: 'infection' }),
    );
    expect(refuting(broken, 3).findings).toEqual({ discharge: 'cloudy-or-pus' });
  });

  test('an order within a review: sooner for the milder answer', () => {
    const broken = withRule(lift, atLeast('queasy', is('nausea', 'queasy'), LADDER[4]));
    const call = refuting(broken, 3);
    expect(call.findings).toEqual({ nausea: 'vomiting' });
    expect(call.atLeast).toEqual(SAME_DAY);
  });

  test('but a milder answer that counts more is no fault where the worse one is urgent anyway', () => {
    const masked = withRule(lift, points('calm', is('collapse', 'no'), { points: 9, concern: 'bleeding' }));
    expect(proofOf(masked, 3).verdict).toBe('proved');
  });
});

describe('4: not knowing that reassures', () => {
  test('a finding of the law whose unknown is not urgent', () => {
    const call = refuting(withoutRule(lift, 'unsure-nipple-colour'), 4);
    expect(call.findings).toEqual({ 'nipple-colour': 'unsure' });
    expect(call.atLeast).toEqual(WITHIN_THE_HOUR);
  });

  test('a red-flag question whose unknown ends in advice', () => {
    const flagged = withRule(lift, redFlag('itch', is('scar-raised-itchy', 'yes')));
    expect(refuting(flagged, 4).findings).toEqual({ 'scar-raised-itchy': 'unsure' });
  });

  test('a reassuring answer that counts more than not knowing', () => {
    const broken = withRule(lift, atLeast('thread', is('fall-or-knock', 'no'), PLANNED_VISIT));
    expect(refuting(broken, 4).says).toContain('fall-or-knock=no in its place');
  });
});

describe('5: something that nobody ever meets', () => {
  test('a question whose condition contradicts itself', () => {
    const when = allOf(is('swelling', 'even'), is('swelling', 'one-sided'));
    const broken = tampered(lift, ({ questions }) => ({
      questions: [...questions, question('never', { findings: ['smell'], when })],
    }));
    expect(refuting(broken, 5).says).toBe('The question never is never put on any day.');
  });

  test('a rule that can never hold', () => {
    const broken = withRule(
      lift,
      redFlag('both', allOf(is('swelling', 'even'), is('swelling', 'one-sided'))),
    );
    expect(refuting(broken, 5).says).toBe('The rule both can never count.');
  });

  test('an advice text for hours that its day does not have', () => {
    const broken = tampered(lift, ({ aftercare }) => ({
      aftercare: aftercare.flatMap((one) => [
        one,
        { ...one, window: { days: [5, 5], hours: [1, 10] }, say: 'No.' },
      ]),
    }));
    expect(refuting(broken, 5).says).toContain('is never said');
  });

  test('a threshold that no points reach is named', () => {
    const broken = tampered(lift, ({ concerns }) => ({
      concerns: concerns.map((one) =>
        one.id === 'nerve'
          ? { ...one, thresholds: [...one.thresholds, { points: 99, to: WITHIN_THE_HOUR, when: null }] }
          : one,
      ),
    }));
    expect(proofOf(broken, 5).listed).toContain(
      'nerve never comes to 99 points: this threshold is dead in this flow',
    );
  });
});

describe('6: days that are not covered', () => {
  test('a gap in the aftercare', () => {
    const broken = tampered(lift, ({ aftercare }) => ({
      aftercare: aftercare.filter(({ kind, window }) => kind !== 'driving' || window.days[0] === 0),
    }));
    const call = refuting(broken, 6);
    expect(call.says).toContain('nothing for aftercare on driving');
    expect(call.at.day).toBeGreaterThan(0);
  });

  test('a danger screen that ends one day', () => {
    const broken = tampered(lift, ({ questions }) => ({
      questions: questions.map((one) => (one.tier === 'screen' ? { ...one, window: days(0, 84) } : one)),
    }));
    expect(refuting(broken, 6).says).toContain('On day 85, there is nothing for the danger screen');
  });

  test('the day on which a rule begins to count is listed, and no other', () => {
    const added = withRule(
      lift,
      redFlag('late-itch', is('scar-raised-itchy', 'yes'), { window: days(100, 365) }),
    );
    const listed = proofOf(added, 6).listed.filter((line) => line.includes('late-itch'));
    expect(listed).toEqual([
      'from day 99 to day 100: late-itch counts urgent-escalation, 1-hour, before arrange-review, same-day',
    ]);
  });
});

describe('7: an order of telling that matters', () => {
  test('a danger that can be taken back', () => {
    const deciders: Deciders = {
      ...REAL_DECIDERS,
      settle: (flow, context, settling) => settle(flow, context, { ...settling, correction: 'mis-keyed' }),
    };
    const { verdict, counterexamples } = proofOf(lift, 7, deciders);
    expect(verdict).toBe('refuted');
    expect(counterexamples.map(({ says }) => says).join('\n')).toContain(
      'breathless=yes raised the red flag breathless; then breathless=no was said, and the call fell to advise',
    );
  });

  test('a decision that looks at what was said first', () => {
    const deciders: Deciders = {
      ...REAL_DECIDERS,
      assess: (flow, circumstances, findings) =>
        assess(flow, circumstances, Object.fromEntries(Object.entries(findings).slice(0, 1))),
    };
    const told = proofOf(lift, 7, deciders).counterexamples.filter(({ says }) =>
      says.includes('told backwards'),
    );
    expect(told.length).toBeGreaterThan(0);
  });
});

describe('8: what was told goes down without a clinician', () => {
  test('a lowering that nobody signs', () => {
    const deciders: Deciders = {
      ...REAL_DECIDERS,
      assess: (flow, circumstances, findings) => {
        const { lowered } = circumstances;
        const signed = lowered === null ? null : { ...lowered, clinician: 'Dr Probe' };
        return assess(flow, { ...circumstances, lowered: signed }, findings);
      },
    };
    const { verdict, counterexamples } = proofOf(lift, 8, deciders);
    expect(verdict).toBe('refuted');
    expect(counterexamples[0]?.says).toContain("A lowering without a clinician's name");
  });

  test('an outcome that forgets what was told', () => {
    const deciders: Deciders = {
      ...REAL_DECIDERS,
      assess: (flow, circumstances, findings) => assess(flow, { ...circumstances, told: null }, findings),
    };
    expect(proofOf(lift, 8, deciders).counterexamples[0]?.says).toContain('Without any lowering');
  });
});

describe('9: a combined operation that ends lower', () => {
  test('the two operations together are proved', () => {
    expect(combinedProof(both).verdict).toBe('proved');
  });

  test('a rule of one procedure that is missing', () => {
    const { verdict, counterexamples } = combinedProof(withoutRule(both, 'lift-tight-and-nipple'));
    expect(verdict).toBe('refuted');
    expect(counterexamples[0]?.says).toContain('for breast-lift alone');
    expect(Object.keys(counterexamples[0]?.findings ?? {})).toHaveLength(2);
  });

  test('points of one procedure that became fewer, with the fewest answers that show it', () => {
    const rule = lift.flow.rules.find(
      ({ effect, window }) => effect.kind === 'points' && window.days[0] === 0,
    );
    if (rule === undefined) throw new Error('The flow gives no points');
    const fewer = tampered(both, ({ concerns }) => ({
      concerns: concerns.map((one) =>
        one.id === rule.effect.concern
          ? { ...one, thresholds: one.thresholds.map((at) => ({ ...at, points: at.points + 1 })) }
          : one,
      ),
    }));
    const { verdict, counterexamples } = combinedProof(fewer);
    expect(verdict).toBe('refuted');
    const [call] = counterexamples;
    if (call === undefined || call.atLeast === null) throw new Error('Nothing is shown');
    expect(rank(assess(fewer.flow, freshCircumstances(call.at), call.findings).outcome)).toBeLessThan(
      rank(call.atLeast),
    );
  });

  test('a question of one procedure that is not asked', () => {
    const { counterexamples } = combinedProof(changedQuestion(both, 'nipple-colour', () => []));
    expect(counterexamples.map(({ says }) => says)).toContain(
      'The question nipple-colour of breast-lift is not asked in breast-lift+tummy-tuck.',
    );
  });

  function combinedProof(compiled: CompiledFlow): Proof {
    return proveCombined(
      subjectOf(compiled),
      alone.map((one) => subjectOf(one)),
    );
  }
});
