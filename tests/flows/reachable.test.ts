/** Everything that the vocabulary knows can come up in a call; what is only ever volunteered or ticked stands here by name. */
import { describe, expect, it } from 'vitest';
import { questionReach } from '../../src/prove/question-reach.ts';
import { subjectOf, type Subject } from '../../src/prove/subject.ts';
import { realContent } from '../support/real-flows.ts';

const { library } = realContent();
const { vocabulary } = library;
const subjects: readonly Subject[] = library.procedures.map((id) => subjectOf(library.flowFor([id])));

/**
 * No agenda puts these: who speaks and how well they hear is noticed, and what the caller wants to know is said. Each still has its question, to
 * be ticked when heard.
 */
const ONLY_VOLUNTEERED = [
  'caller-is',
  'needs-interpreter',
  'hard-to-hear',
  ...vocabulary.ids.filter((id) => id.startsWith('asks-')),
];

function isPutIn(subject: Subject, finding: string): boolean {
  return subject.flow.questions.some(
    (question) =>
      question.kind === 'finding' &&
      question.findings.includes(finding) &&
      questionReach(subject, question) === 'put',
  );
}

describe('the vocabulary', () => {
  it('lists twelve procedures, and each has a flow', () => {
    expect(vocabulary.procedures).toHaveLength(12);
    expect(library.procedures.toSorted()).toEqual(vocabulary.procedures.toSorted());
  });
});

describe('every finding', () => {
  it.each(vocabulary.ids.filter((id) => !ONLY_VOLUNTEERED.includes(id)))(
    '%s is asked in some call',
    (finding) => {
      expect(subjects.some((subject) => isPutIn(subject, finding))).toBe(true);
    },
  );

  it.each(ONLY_VOLUNTEERED)('%s is never put, and can be ticked on every procedure', (finding) => {
    for (const subject of subjects) {
      expect(isPutIn(subject, finding)).toBe(false);
      expect(
        subject.flow.questions.filter(({ findings }) => findings.includes(finding)),
        subject.flow.id,
      ).toHaveLength(1);
    }
  });

  it.each(vocabulary.procedures.filter((id) => library.procedures.includes(id)))(
    'that belongs to %s alone or with others is asked there',
    (procedure) => {
      const subject = subjects.find(({ flow }) => flow.id === procedure);
      if (subject === undefined) throw new Error('There is no such flow');
      const own = vocabulary.ids.filter((id) => vocabulary.findings[id]?.only?.includes(procedure));
      expect(own.filter((id) => !isPutIn(subject, id))).toEqual([]);
    },
  );
});

describe('every question of a procedure', () => {
  it.each(subjects.map((subject) => ({ id: subject.flow.id, subject })))(
    'of $id is put on some day, or can be ticked',
    ({ subject }) => {
      // What stands for other questions is put where a call would grow too long (question-counts).
      const own = subject.flow.questions.filter(({ opens }) => opens === undefined);
      const dead = own.filter((question) => questionReach(subject, question) === 'dead');
      expect(dead.map(({ id }) => id)).toEqual([]);
    },
  );
});
