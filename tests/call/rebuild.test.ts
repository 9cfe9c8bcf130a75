/** The events are the truth: whatever happened in a call, where it stands is rebuilt from them alone. */
import { describe, expect, test } from 'vitest';
import { fixedClock } from '../support/fixed-clock.ts';
import { aPractice, NOW } from '../support/a-practice.ts';
import { bothWays, ONCE_WRONG } from '../support/both-ways.ts';
import { randomCall } from '../support/random-call.ts';
import { seeded } from '../support/seeded.ts';

describe('rebuilt from its events a call equals its snapshot', () => {
  test('in random calls of 25 turns each', async () => {
    const practice = aPractice({ clock: fixedClock(NOW) });
    for (const seed of [...Array.from({ length: 30 }, (_, n) => n), ...ONCE_WRONG]) {
      const ring = await randomCall(practice, seeded(seed), 25);
      const { kept, rebuilt } = await bothWays(practice, ring);
      expect(rebuilt, `seed ${String(seed)}`).toEqual(kept);
    }
  }, 30_000);

  test('after every turn of a whole call with a first "I don\'t know" and a re-opened question', async () => {
    const practice = aPractice();
    const ring = await practice.ring();
    const same = async () => {
      const { kept, rebuilt } = await bothWays(practice, ring);
      expect(rebuilt).toEqual(kept);
    };
    await ring.answer('screen-breathing', 'no');
    await ring.answer('screen-breathing', 'unsure', 'mis-keyed');
    await same();
    await ring.answer('breathless', 'unsure');
    await same();
    while (ring.question !== null) {
      await ring.answerNext({ swelling: 'one-sided' });
      await same();
    }
    await ring.says({ kind: 'back' });
    await same();
  });
});

test('a first "I don\'t know" is not taken for an answer when the call moves to a script without that question', async () => {
  const practice = aPractice();
  const ring = await practice.ring();
  await ring.volunteers({ swelling: 'even' });
  await ring.answerAll({}, 'swelling-tense');
  await ring.answer('swelling-tense', 'unsure');
  await ring.operated({ procedures: ['nose-surgery'] });
  const { kept, rebuilt } = await bothWays(practice, ring);
  expect(rebuilt).toEqual(kept);
  expect(rebuilt.context.asked).not.toContain('swelling-tense');
});

test('a call whose snapshot is lost goes on at the same question', async () => {
  const practice = aPractice();
  const ring = await practice.ring();
  await ring.answerAll({}, 'swelling');
  const { rebuilt } = await bothWays(practice, ring);
  expect(rebuilt.question).toBe('swelling');
});
