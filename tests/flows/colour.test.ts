/**
 * Colour is asked so that it can be answered on skin of every colour: against the other side or what is usual for the
 * caller, with how it feels to the hand. Source: the practice's rules on words.
 */
import { describe, expect, it } from 'vitest';
import type { Question } from '../../src/flow/compiled.ts';
import { realContent } from '../support/real-flows.ts';

const { library } = realContent();
const COLOUR = [
  'redness',
  'skin-colour',
  'nipple-colour',
  'fingers-pale-or-blue',
  'below-dressing-blue-or-numb',
  'leg-warm-or-red',
];
/** A graft has no other side; it is compared with the colour that it had. */
const AGAINST = /other (?:side|hand|one|leg)|the other\b|usual colour|skin around|it had before/;
/** What stands past a dressing is judged by itself: white, cold and numb need no other side. */
const BY_ITSELF = ['below-dressing-blue-or-numb'];

const questions = new Map<string, { readonly flow: string; readonly question: Question }>();
for (const id of [...library.procedures, 'general']) {
  for (const question of library.flowFor([id]).flow.questions) {
    const [finding = ''] = question.findings;
    if (question.kind !== 'finding' || !COLOUR.includes(finding)) continue;
    questions.set(question.words, { flow: id, question });
  }
}
const rows = [...questions.values()].map(({ flow, question }) => ({ flow, id: question.id, question }));

describe('a question about colour', () => {
  it('is there for every finding of colour', () => {
    expect(new Set(rows.flatMap(({ question }) => question.findings))).toEqual(new Set(COLOUR));
  });

  it.each(rows)('names more than red: $flow, $id', ({ question }) => {
    expect(question.words).toMatch(/dark|grey|purple|blue/);
  });

  it.each(rows)('asks how it feels, warm or cold: $flow, $id', ({ question }) => {
    expect(question.words).toMatch(/hot|cold|warm/);
  });

  it.each(rows.filter(({ question }) => !question.findings.some((id) => BY_ITSELF.includes(id))))(
    'compares with the other side or the usual colour: $flow, $id',
    ({ question }) => {
      expect(question.words).toMatch(AGAINST);
    },
  );

  it.each(
    rows.filter(
      ({ question }) =>
        question.findings.includes('redness') || question.findings.some((id) => id.endsWith('colour')),
    ),
  )('asks for pain, swelling or hardness as well: $flow, $id', ({ question }) => {
    expect(question.words).toMatch(/sore|pain|swollen|hard|tight/);
  });
});

it('blue or grey is asked for lips, tongue, palms and nails', () => {
  for (const id of [...library.procedures, 'general']) {
    const blue = library.flowFor([id]).flow.questions.find((question) => question.id === 'mottled-or-blue');
    expect(blue?.words).toMatch(/lips.*tongue.*palms.*nails.*blue or grey/);
  }
});
