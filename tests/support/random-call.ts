/** Random but repeatable calls: whatever a caller and a nurse may do at any moment, at any time. */
import type { TurnInput } from '../../src/call/input.ts';
import { LADDER } from '../../src/clinical/outcome.ts';
import type { FindingSpec, FindingValue } from '../../src/clinical/finding.ts';
import type { Question } from '../../src/flow/compiled.ts';
import type { Practice } from './a-practice.ts';
import { NUMBER, type Ring } from './a-ring.ts';
import type { Seeded } from './seeded.ts';

const CORRECTIONS = [null, 'mis-keyed', 'taken-back'] as const;

/** Takes a call through so many turns; a turn that the call does not take at that moment is part of it. */
export async function randomCall(practice: Practice, chance: Seeded, turns: number): Promise<Ring> {
  const number = chance.pick([NUMBER, null]);
  const ring = await practice.ring({ number, operated: null });
  for (let n = 0; n < turns; n += 1) {
    practice.clock.moveBy(chance.whole(1_000, 120_000));
    await ring.tries(randomInput(ring, chance));
  }
  return ring;
}

function randomInput(ring: Ring, chance: Seeded): TurnInput {
  const question = ring.done.standing.question;
  // Most turns are answers, as in real calls.
  if (question !== null && chance.next() < 0.7) return answerTo(question, ring, chance);
  const make = chance.pick(OTHERS);
  return make(ring, chance);
}

function answerTo(question: Question, ring: Ring, chance: Seeded): TurnInput {
  if (question.kind === 'fact') return { kind: 'fact', question: question.id, text: 'in the kitchen' };
  const correction = chance.pick(CORRECTIONS);
  if (question.kind === 'group') {
    const value = chance.pick(['no', 'no', 'yes', 'unsure']);
    return { kind: 'answer', question: question.id, value, correction };
  }
  const spec = specsOf(ring).find(({ id }) => id === question.findings[0]);
  const value = spec === undefined ? 'unsure' : valueOf(spec, chance);
  return { kind: 'answer', question: question.id, value, correction };
}

function specsOf(ring: Ring): readonly FindingSpec[] {
  return Object.values(ring.done.runner.compiled.flow.findings);
}

function valueOf(spec: FindingSpec, chance: Seeded): FindingValue {
  if (chance.next() < 0.5) return spec.normal;
  if (spec.kind !== 'number') return chance.pick([...spec.values, 'unsure']);
  return chance.next() < 0.2 ? 'unsure' : chance.whole(spec.min ?? 0, spec.max ?? 100);
}

type Make = (ring: Ring, chance: Seeded) => TurnInput;

const OTHERS: readonly Make[] = [
  (ring, chance) => {
    const spec = chance.pick(specsOf(ring));
    return {
      kind: 'volunteer',
      findings: { [spec.id]: valueOf(spec, chance) },
      words: null,
      correction: chance.pick(CORRECTIONS),
    };
  },
  () => ({ kind: 'opening', text: 'It is swollen on one side' }),
  () => ({ kind: 'back' }),
  (ring, chance) => {
    const { asked } = ring.done.standing.context;
    return { kind: 'reopen', question: asked.length === 0 ? 'swelling' : chance.pick(asked) };
  },
  (ring, chance) => {
    const { asked } = ring.done.standing.context;
    const question = asked.length === 0 ? 'swelling' : chance.pick(asked);
    const value = chance.pick(['yes', 'no', 'unsure']);
    return { kind: 'answer', question, value, correction: chance.pick(CORRECTIONS) };
  },
  (_ring, chance) => ({
    kind: 'operation',
    operation: {
      procedures: [
        ...chance.pick([['breast-lift'], ['tummy-tuck'], ['breast-lift', 'tummy-tuck'], ['nose-surgery']]),
      ],
      times: [{ day: chance.whole(-1, 120), hours: null }],
      clinic: chance.pick(['open', 'closed']),
      earlierCalls: [],
      known: chance.pick([{}, { 'blood-thinner': 'no' }, { 'blood-thinner': 'yes', 'drain-in': 'no' }]),
      facts: chance.pick([{}, { allergies: 'penicillin' }]),
    },
  }),
  () => ({ kind: 'note', text: 'A note.' }),
  () => ({ kind: 'tell' }),
  (_ring, chance) => ({ kind: 'raise', to: chance.pick(LADDER), why: 'A feeling.' }),
  (_ring, chance) => ({ kind: 'ask-lowering', to: chance.pick(LADDER), why: 'An old injury.' }),
  (_ring, chance) => ({
    kind: 'lower',
    to: chance.pick(LADDER),
    clinician: 'Dr Ferreday',
    spokeToPatient: chance.next() < 0.5,
    why: 'Seen on a picture.',
  }),
  () => ({ kind: 'accept', clinician: 'Dr Ferreday' }),
  (_ring, chance) => ({ kind: 'close', understood: chance.next() < 0.7, agreed: 'Rings again.' }),
  (_ring, chance) =>
    chance.next() < 0.3 ? { kind: 'cut-off', how: 'hung-up' } : { kind: 'note', text: 'Still there.' },
];
