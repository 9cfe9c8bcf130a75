/** Which script a call runs on, and what a closed clinic makes of it. No call is refused. Source: the practice's rules. */
import { describe, expect, test } from 'vitest';
import { fixedClock } from '../support/fixed-clock.ts';
import { aPractice, NOW, type Practice } from '../support/a-practice.ts';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import type { Operation, Patient } from '../../src/people/patient.ts';

const practice = aPractice();

interface Person {
  readonly patient?: Partial<Patient>;
  readonly operation?: Partial<Operation>;
  readonly statedDates?: readonly string[];
}

async function identified(at: Practice, { patient, operation, statedDates }: Person) {
  const person = aPatient(patient);
  const done = anOperation(person.id, operation);
  await at.store.people.savePatient(person);
  await at.store.people.saveOperation(done);
  const ring = await at.ring({ operated: null });
  await ring.identify(person.id, done.id, statedDates);
  return { ring, person, done };
}

const flowOf = async (at: Practice, person: Person) =>
  (await identified(at, person)).ring.done.runner.compiled.flow.id;

describe('the clinic that is closed', () => {
  test('makes nobody urgent for not being identified yet, but where the short script ends, the on-call clinician rings', async () => {
    const closed = aPractice({ clinic: 'closed' });
    const ring = await closed.ring({ operated: null });
    await ring.answerNext();
    expect(ring.done.standing.at).toBe('asking');
    expect(ring.result).toBe('arrange-review/same-day');
    await ring.answerAll();
    expect(ring.result).toBe('urgent-escalation/1-hour');
    expect(ring.reasons).toContain('clinic-closed');
  });

  test('makes a review of the same day urgent within the hour', async () => {
    const ring = await practice.ring({ operated: { clinic: 'closed' } });
    await ring.volunteers({ redness: 'spreading' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
    expect(ring.reasons).toContain('clinic-closed');
  });

  test('is handed over like every other urgent call', async () => {
    const ring = await practice.ring({ operated: { clinic: 'closed' } });
    await ring.answerAll({ temperature: 38.2 });
    expect(ring.answered).toContain('low-mood');
    expect(ring.answered.slice(-2)).toEqual(['allergies', 'blood-thinner']);
    expect(ring.answered).toContain('where-now');
  });

  test('leaves a later review where it is', async () => {
    const ring = await practice.ring({ operated: { clinic: 'closed' } });
    await ring.volunteers({ swelling: 'even' });
    await ring.answerAll();
    expect(ring.result).toBe('arrange-review/planned-visit');
  });

  test('makes a call that nobody identifies urgent, so that the clinician on call hears of it', async () => {
    const night = aPractice({ clinic: 'closed' });
    const ring = await night.ring({ operated: null });
    await ring.answerAll();
    expect(ring.result).toBe('urgent-escalation/1-hour');
  });
});

describe('the short script for all other calls', () => {
  // Immediate danger has no window: a year is not the end of it, and the day before is not too early.
  test.each(['2025-03-01', '2026-03-09'])('counts and asks every danger for surgery on %s', async (on) => {
    const told = await identified(practice, { operation: { on } });
    await told.ring.volunteers({ 'chest-pain': 'yes' });
    expect(told.ring.result).toBe('urgent-escalation/now/emergency');
    const asked = await identified(practice, { operation: { on } });
    await asked.ring.answerAll({ 'hard-to-wake': 'yes' });
    expect(asked.ring.result).toBe('urgent-escalation/now/emergency');
  });

  test('runs until the operation is known and never ends in advice', async () => {
    const ring = await practice.ring({ operated: null });
    expect(ring.done.runner.compiled.flow.id).toBe('general');
    await ring.answerAll();
    expect(ring.result).toBe('arrange-review/same-day');
  });

  // Surgery on 2 March 2026 is day 0.
  test.each([
    ['before the operation', { operation: { on: '2026-03-03' } }],
    ['after day 365', { operation: { on: '2025-03-01' } }],
    ['under 16', { patient: { born: '2010-03-03' } }],
    ['pregnant', { patient: { pregnant: true } }],
    ['an operation without a script', { operation: { procedures: ['nose-surgery'] } }],
    [
      'one of two procedures without a script',
      { operation: { procedures: ['breast-lift', 'nose-surgery'] } },
    ],
    ['a stated date beyond day 365', { statedDates: ['2024-01-01'] }],
  ] satisfies readonly [string, Person][])('runs for a caller %s', async (_who, person) => {
    expect(await flowOf(practice, person)).toBe('general');
  });

  test.each([
    ['on the day itself', { operation: { on: '2026-03-02' } }],
    ['on day 365', { operation: { on: '2025-03-02' } }],
    ['who is 16 today', { patient: { born: '2010-03-02' } }],
    ['who may be pregnant or not', { patient: { pregnant: null } }],
    ['whose stated date disagrees by a week', { statedDates: ['2026-02-23'] }],
  ] satisfies readonly [string, Person][])('does not run for a caller %s', async (_who, person) => {
    expect(await flowOf(practice, person)).toBe('breast-lift');
  });
});

describe('identification', () => {
  test('moves the call to the script of the operation and keeps what was said', async () => {
    const at = aPractice();
    const person = aPatient();
    const done = anOperation(person.id, { on: '2026-02-27' });
    await at.store.people.savePatient(person);
    await at.store.people.saveOperation(done);
    const ring = await at.ring({ operated: null });
    await ring.answerAll({}, 'identity');
    await ring.identify(person.id, done.id);
    expect(ring.question).toBe('identity');
    expect(ring.done.standing.context.held['breathless']?.value).toBe('no');
    expect(ring.done.standing.context.times).toEqual([{ day: 3, hours: null }]);
  });

  test('brings what the record knows, which is then not asked', async () => {
    const { ring } = await identified(practice, {});
    const { held, facts } = ring.done.standing.context;
    expect(held['blood-thinner']).toMatchObject({ value: 'no', how: 'record' });
    expect(facts.allergies).toBe('penicillin');
  });

  test('of another patient takes back what the former record brought', async () => {
    const { ring } = await identified(practice, {});
    const other = aPatient({ allergies: [] });
    const done = anOperation(other.id, { bloodThinner: null });
    await practice.store.people.savePatient(other);
    await practice.store.people.saveOperation(done);
    await ring.identify(other.id, done.id);
    const { held, facts } = ring.done.standing.context;
    expect(facts.allergies).toBeUndefined();
    expect(held['blood-thinner']).toBeUndefined();
  });

  test('does not replace what the caller said', async () => {
    const { ring, person, done } = await identified(practice, { operation: { bloodThinner: null } });
    await ring.volunteers({ 'blood-thinner': 'yes' });
    await practice.store.people.saveOperation({ ...done, bloodThinner: '' });
    await ring.identify(person.id, done.id);
    expect(ring.done.standing.context.held['blood-thinner']).toMatchObject({
      value: 'yes',
      how: 'volunteered',
    });
  });

  test('done twice makes the call no earlier contact of itself', async () => {
    const { ring, person, done } = await identified(practice, {});
    await ring.identify(person.id, done.id);
    expect(ring.done.standing.context.earlierCalls).toEqual([]);
    await ring.answerAll();
    expect(ring.result).toBe('advise/none');
  });

  test('finds the earlier calls about the operation within 72 hours', async () => {
    const at = aPractice({ clock: fixedClock(NOW) });
    const { ring, person, done } = await identified(at, {});
    await ring.volunteers({ swelling: 'even' });
    await ring.answerAll();
    at.clock.moveBy(20 * 3_600_000);
    const next = await at.ring({ operated: null });
    await next.identify(person.id, done.id);
    expect(next.done.standing.context.earlierCalls).toEqual([
      { hoursAgo: 20, outcome: 'arrange-review', about: 'bleeding', kind: 'worried' },
    ]);
  });

  test.each([
    ['cut-off', async (ring) => ring.says({ kind: 'cut-off', how: 'hung-up' })],
    ['everyday', async (ring) => (await ring.volunteers({ 'asks-driving': 'yes' })).answerAll()],
  ] satisfies readonly [string, (ring: Awaited<ReturnType<Practice['ring']>>) => Promise<unknown>][])(
    'knows an earlier call that was %s as one that is not counted',
    async (kind, goesOn) => {
      const at = aPractice({ clock: fixedClock(NOW) });
      const { ring, person, done } = await identified(at, {});
      await goesOn(ring);
      at.clock.moveBy(3_600_000);
      const next = await at.ring({ operated: null });
      await next.identify(person.id, done.id);
      expect(next.done.standing.context.earlierCalls.map((call) => call.kind)).toEqual([kind]);
    },
  );

  test('of somebody who is not known is refused and changes nothing', async () => {
    const { ring, done } = await identified(practice, {});
    const before = ring.done.reply.seq;
    const stranger = aPatient();
    const refused = await ring.tries({
      kind: 'identify',
      patientId: stranger.id,
      operationId: done.id,
      statedDates: [],
    });
    expect(refused).toMatchObject({ ok: false, fault: { code: 'not-found' } });
    const stored = await practice.store.calls.load(ring.call);
    expect(stored).toMatchObject({ ok: true, value: { seq: before } });
  });
});
