/** What was told, raised, lowered, accepted and promised, and what closing needs. Source: the practice's rules. */
import { describe, expect, test } from 'vitest';
import { EMERGENCY, LADDER, SAME_DAY, WITHIN_THE_HOUR } from '../../src/clinical/outcome.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { aPractice, NOW, type Practice } from '../support/a-practice.ts';
import type { Ring } from '../support/a-ring.ts';

const practice = aPractice();
const NEXT_DAY = LADDER[3];
const MINUTE = 60_000;

const lower = (to: typeof SAME_DAY, spokeToPatient: boolean) =>
  ({ kind: 'lower', to, clinician: 'Dr Ferreday', spokeToPatient, why: 'Seen on a picture.' }) as const;

async function urgent(at: Practice = practice): Promise<Ring> {
  const ring = await at.ring();
  return ring.volunteers({ 'calf-pain': 'yes' });
}

async function promisesOf(at: Practice, ring: Ring) {
  const promises = await at.store.calls.promisesOf(ring.call);
  if (!promises.ok) throw new Error('The store is down');
  return promises.value;
}

describe('what was told is a floor', () => {
  test('before it is told a mis-keyed answer is corrected freely', async () => {
    const ring = await urgent();
    await ring.volunteers({ 'calf-pain': 'no' }, 'mis-keyed');
    expect(ring.rank).toBe(0);
  });

  test('afterwards the same correction goes no lower than what was told', async () => {
    const ring = await urgent();
    await ring.says({ kind: 'tell' });
    await ring.volunteers({ 'calf-pain': 'no' }, 'mis-keyed');
    expect(ring.result).toBe('urgent-escalation/1-hour');
    expect(ring.reasons).toContain('told-already');
  });

  test('afterwards it can still rise', async () => {
    const ring = await urgent();
    await ring.says({ kind: 'tell' });
    await ring.volunteers({ 'chest-pain': 'yes' });
    expect(ring.result).toBe('urgent-escalation/now/emergency');
  });
});

describe('a nurse', () => {
  test('raises anything, with a reason that is kept', async () => {
    const ring = await practice.ring();
    await ring.says({ kind: 'raise', to: WITHIN_THE_HOUR, why: 'She sounds far worse than she says.' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
    expect(ring.reasons).toContain('nurse-raised');
    const raised = await practice.store.calls.events(ring.call);
    expect(JSON.stringify(raised)).toContain('She sounds far worse than she says.');
  });

  test('does not lower by raising to less', async () => {
    const ring = await urgent();
    await ring.says({ kind: 'raise', to: SAME_DAY, why: 'To be sure.' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
  });

  test('asks for a lowering, which stays open and lowers nothing until a clinician confirms it', async () => {
    const ring = await urgent();
    await ring.answerAll({ 'calf-pain': 'yes' });
    await ring.says({ kind: 'tell' });
    await ring.says({ kind: 'ask-lowering', to: SAME_DAY, why: 'An old injury.' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
    await ring.says({ kind: 'accept', clinician: 'Dr Ferreday' });
    const refused = await ring.tries({ kind: 'close', understood: true, agreed: 'Rest.' });
    expect(refused).toMatchObject({ ok: false, fault: { code: 'not-now' } });
    expect(JSON.stringify(refused)).toContain('lowering-confirmed');
  });
});

describe('a clinician lowers', () => {
  test('an outcome within the hour without having spoken to the patient', async () => {
    const ring = await urgent();
    await ring.says(lower(SAME_DAY, false));
    expect(ring.result).toBe('arrange-review/same-day');
    expect(ring.reasons).toContain('clinician-lowered');
  });

  test('below what was told', async () => {
    const ring = await urgent();
    await ring.says({ kind: 'tell' });
    await ring.says(lower(NEXT_DAY, false));
    expect(ring.result).toBe('arrange-review/next-day');
  });

  test.each<[string, (ring: Ring) => Promise<unknown>]>([
    ['an emergency', (ring) => ring.volunteers({ fit: 'yes' })],
    [
      'a danger that was taken back',
      async (ring) => {
        await ring.volunteers({ 'calf-pain': 'yes' });
        await ring.volunteers({ 'calf-pain': 'no' });
      },
    ],
    [
      'an accepted escalation',
      async (ring) => {
        await ring.volunteers({ 'calf-pain': 'yes' });
        await ring.says({ kind: 'accept', clinician: 'Dr Ferreday' });
      },
    ],
  ])('%s only after speaking to the patient', async (_what, goesOn) => {
    const ring = await practice.ring();
    await goesOn(ring);
    const before = ring.result;
    const refused = await ring.tries(lower(SAME_DAY, false));
    expect(refused).toMatchObject({ ok: false, fault: { code: 'needs-clinician' } });
    expect(ring.result).toBe(before);
    await ring.says(lower(SAME_DAY, true));
    expect(ring.result).toBe('arrange-review/same-day');
  });

  test('and the lowering lapses when something new is learnt', async () => {
    const ring = await urgent();
    await ring.says(lower(SAME_DAY, true));
    await ring.volunteers({ swelling: 'even' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
  });

  test('and a danger taken back afterwards needs a clinician who spoke to the patient', async () => {
    const ring = await urgent();
    await ring.says(lower(SAME_DAY, false));
    await ring.volunteers({ 'calf-pain': 'no' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
  });

  test('and the lowering lapses when the call turns out to be about another day', async () => {
    const ring = await urgent();
    await ring.says(lower(SAME_DAY, true));
    await ring.operated({ day: 30 });
    expect(ring.result).toBe('urgent-escalation/1-hour');
  });

  test('and a nurse who raises afterwards raises', async () => {
    const ring = await urgent();
    await ring.says(lower(NEXT_DAY, true));
    await ring.says({ kind: 'raise', to: SAME_DAY, why: 'He rang the bell twice.' });
    expect(ring.result).toBe('arrange-review/same-day');
    await ring.says({ kind: 'raise', to: EMERGENCY, why: 'He does not answer.' });
    expect(ring.result).toBe('urgent-escalation/now/emergency');
  });
});

describe('closing', () => {
  const close = { kind: 'close', understood: true, agreed: 'Rings again at any change.' } as const;

  async function needs(ring: Ring, input: Parameters<Ring['tries']>[0] = close): Promise<string> {
    const done = await ring.tries(input);
    return done.ok ? 'nothing' : done.fault.message;
  }

  test('is not open while questions are', async () => {
    const ring = await practice.ring();
    expect(await needs(ring)).not.toBe('nothing');
  });

  test('needs the outcome told, understood, and a number to ring', async () => {
    const ring = await practice.ring();
    await ring.answerAll();
    expect(await needs(ring)).toContain('told');
    await ring.says({ kind: 'tell' });
    expect(await needs(ring, { ...close, understood: false })).toContain('understood');
    expect(await needs(ring)).toBe('nothing');
    expect(ring.done.standing.at).toBe('closed');
  });

  test('of an urgent call needs the clinician who accepted', async () => {
    const ring = await urgent();
    await ring.answerAll({ 'calf-pain': 'yes' });
    await ring.says({ kind: 'tell' });
    expect(await needs(ring)).toContain('accepted');
    await ring.says({ kind: 'accept', clinician: 'Dr Ferreday' });
    expect(ring.done.standing.context.accepted).toMatchObject({ clinician: 'Dr Ferreday', at: NOW });
    expect(await needs(ring)).toBe('nothing');
  });

  test('of a call that rose after it was accepted and told needs both anew', async () => {
    const ring = await urgent();
    await ring.answerAll({ 'calf-pain': 'yes' });
    await ring.says({ kind: 'tell' });
    await ring.says({ kind: 'accept', clinician: 'Dr Ferreday' });
    await ring.volunteers({ 'chest-pain': 'yes' });
    await ring.answerAll();
    expect(await needs(ring)).toContain('accepted, told');
    await ring.says({ kind: 'tell' });
    await ring.says({ kind: 'accept', clinician: 'Mr Oyelaran' });
    expect(await needs(ring)).toBe('nothing');
  });

  test('of a call that broke off does not need the caller to understand', async () => {
    const ring = await practice.ring();
    await ring.answerAll({}, 'temperature');
    await ring.says({ kind: 'cut-off', how: 'hung-up' });
    expect(await needs(ring, { ...close, understood: false })).toBe('nothing');
  });
});

describe('promises', () => {
  test('an urgent outcome is promised to the clinician on call as soon as it shows', async () => {
    const ring = await urgent();
    expect(await promisesOf(practice, ring)).toMatchObject([
      { kind: 'escalation', owner: 'dr-ferreday', state: 'open', dueAt: NOW + 60 * MINUTE },
    ]);
  });

  test('going on with the call moves no promise later', async () => {
    const at = aPractice({ clock: fixedClock(NOW) });
    const ring = await urgent(at);
    at.clock.moveBy(25 * MINUTE);
    await ring.answerAll();
    await ring.says({ kind: 'note', text: 'Still on the line.' });
    expect(await promisesOf(at, ring)).toMatchObject([{ openedAt: NOW, dueAt: NOW + 60 * MINUTE }]);
  });

  test('a call-back keeps its five minutes while notes are written', async () => {
    const at = aPractice({ clock: fixedClock(NOW) });
    const ring = await at.ring();
    await ring.answer('screen-breathing', 'no');
    await ring.says({ kind: 'cut-off', how: 'hung-up' });
    at.clock.moveBy(4 * MINUTE);
    await ring.says({ kind: 'note', text: 'No answer.' });
    const back = (await promisesOf(at, ring)).find(({ kind }) => kind === 'call-back');
    expect(back?.dueAt).toBe(NOW + 5 * MINUTE);
  });

  test('a promise becomes due sooner when the outcome rises', async () => {
    const at = aPractice({ clock: fixedClock(NOW) });
    const ring = await urgent(at);
    at.clock.moveBy(10 * MINUTE);
    await ring.volunteers({ 'chest-pain': 'yes' });
    const escalation = (await promisesOf(at, ring)).find(({ kind }) => kind === 'escalation');
    expect(escalation).toMatchObject({ openedAt: NOW, dueAt: NOW + 10 * MINUTE, state: 'open' });
  });

  test('acceptance ends the escalation, and an outcome that rises afterwards is promised anew', async () => {
    const ring = await urgent();
    await ring.says({ kind: 'accept', clinician: 'Dr Ferreday' });
    expect((await promisesOf(practice, ring)).map(({ state }) => state)).toEqual(['done']);
    await ring.volunteers({ 'chest-pain': 'yes' });
    const states = (await promisesOf(practice, ring))
      .filter(({ kind }) => kind === 'escalation')
      .map(({ state }) => state);
    expect(states.toSorted()).toEqual(['done', 'open']);
  });

  test('a review is promised when the questions are over, with the time that its outcome means', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ redness: 'spreading' });
    expect(await promisesOf(practice, ring)).toEqual([]);
    await ring.answerAll();
    // Same-day: within 6 hours and before the clinic closes; at 10:00 on a day until 18:00 that is 16:00.
    expect(await promisesOf(practice, ring)).toMatchObject([
      { kind: 'review', state: 'open', dueAt: NOW + 6 * 60 * MINUTE },
    ]);
  });

  test('what no longer follows is withdrawn', async () => {
    const ring = await urgent();
    await ring.volunteers({ 'calf-pain': 'no' }, 'mis-keyed');
    expect((await promisesOf(practice, ring)).map(({ state }) => state)).toEqual(['withdrawn']);
  });

  test('an accepted escalation that is lowered afterwards stays done', async () => {
    const ring = await urgent();
    await ring.says({ kind: 'accept', clinician: 'Dr Ferreday' });
    await ring.says(lower(SAME_DAY, true));
    const escalation = (await promisesOf(practice, ring)).find(({ kind }) => kind === 'escalation');
    expect(escalation?.state).toBe('done');
  });
});
