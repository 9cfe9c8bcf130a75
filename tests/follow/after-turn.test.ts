/**
 * Sources: the practice's own rules (paged at once in an emergency and at the desk; 2 and 5 minutes a rung; the caller
 * rung after 20 minutes; 15 minutes without being reached is urgent; texts only to whom agreed), worked by hand.
 */
import { describe, expect, test } from 'vitest';
import type { StoredMessage } from '../../src/call/outbox.ts';
import type { Patient } from '../../src/people/patient.ts';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import { aPractice, newCallId, NOW, type Practice } from '../support/a-practice.ts';
import { Ring } from '../support/a-ring.ts';

const MINUTE = 60_000;
const FIT = { fit: 'yes' };
const LEG = { 'calf-pain': 'yes' };

async function outbox({ store }: Practice): Promise<readonly StoredMessage[]> {
  const messages = await store.outbox.recent(200);
  if (!messages.ok) throw new Error('The store is down');
  return messages.value.toReversed();
}

/** `page escalation queued +5`: kind, words, state, minutes after the call began. */
async function queued(practice: Practice, kind?: StoredMessage['kind']): Promise<readonly string[]> {
  return (await outbox(practice))
    .filter((message) => kind === undefined || message.kind === kind)
    .map(({ kind: what, template, state, dueAt }) => {
      return `${what} ${template} ${state} +${String((dueAt - NOW) / MINUTE)}`;
    });
}

/** The pages of the ladder; those about a late promise are others. */
async function pages(practice: Practice): Promise<readonly string[]> {
  return (await queued(practice, 'page')).filter((line) => line.startsWith('page escalation'));
}

function page(ring: Ring, n: number): string {
  return `page:${ring.done.standing.context.promises.escalation?.id ?? ''}:${String(n)}`;
}

const FIRST = { rung: 'first', staff: 'dr-first' } as const;
const SECOND = { rung: 'second', staff: 'dr-second' } as const;

type Told = Pick<Extract<Parameters<Ring['says']>[0], { kind: 'attempt' }>, 'rung' | 'staff' | 'came'>;

const paged = (ring: Ring, n: number, told: Told) =>
  ring.says({ kind: 'attempt', what: 'page', message: page(ring, n), providerId: null, ...told });

describe('an escalation', () => {
  test.each([
    ['an emergency at the desk', 'desk', FIT, '+0'],
    ['urgent within the hour at the desk', 'desk', LEG, '+0'],
    ['an emergency on the line', 'line', FIT, '+0'],
    ['urgent within the hour on the line, where the caller is connected first', 'line', LEG, '+5'],
  ] as const)(
    'that is %s is paged in time, and the caller rung after 20 minutes',
    async (_what, by, says, at) => {
      const practice = aPractice();
      const ring = await practice.ring(by === 'line' ? { by } : {});
      expect(await outbox(practice)).toEqual([]);
      await ring.volunteers(says);
      expect(await pages(practice)).toEqual([`page escalation queued ${at}`]);
      expect(await queued(practice, 'ring')).toEqual(['ring nobody-accepted queued +20']);
    },
  );

  test('on the line is paged at once when the caller hangs up', async () => {
    const practice = aPractice();
    const ring = await practice.ring({ by: 'line' });
    await ring.volunteers(LEG);
    practice.clock.moveBy(MINUTE);
    await ring.says({ kind: 'cut-off', how: 'hung-up' });
    expect(await pages(practice)).toEqual(['page escalation queued +1']);
  });

  test('that becomes an emergency is paged at once', async () => {
    const practice = aPractice();
    const ring = await practice.ring({ by: 'line' });
    await ring.volunteers(LEG);
    practice.clock.moveBy(MINUTE);
    await ring.volunteers(FIT);
    expect(await pages(practice)).toContain('page escalation queued +1');
  });

  test('is paged rung by rung: at once after a busy one, after five minutes without a word', async () => {
    const practice = aPractice();
    const ring = await practice.ring();
    await ring.volunteers(LEG);
    await paged(ring, 1, { ...FIRST, came: 'sent' });
    expect(await pages(practice)).toEqual(['page escalation sent +0', 'page escalation queued +5']);
    practice.clock.moveBy(MINUTE);
    await paged(ring, 1, { ...FIRST, came: 'busy' });
    expect(await pages(practice)).toEqual(['page escalation failed +0', 'page escalation queued +1']);
    await paged(ring, 2, { ...SECOND, came: 'sent' });
    expect((await pages(practice)).at(-1)).toBe('page escalation queued +6');
  });

  test('that a clinician accepted is paged no more, and the caller is not rung', async () => {
    const practice = aPractice();
    const ring = await practice.ring();
    await ring.volunteers(LEG);
    await paged(ring, 1, { ...FIRST, came: 'sent' });
    await ring.says({ kind: 'accept', clinician: 'Dr Ferreday' });
    expect((await queued(practice)).filter((line) => line.includes('queued'))).toEqual([]);
    expect(ring.done.standing.context.paging).toBeNull();
  });

  test('while the line dials on by itself is paged a rung’s time after the last try', async () => {
    const practice = aPractice();
    const ring = await practice.ring({ by: 'line' });
    await ring.volunteers(LEG);
    practice.clock.moveBy(MINUTE);
    const leg = { kind: 'attempt', what: 'leg', message: null, providerId: null } as const;
    await ring.says({ ...leg, ...FIRST, came: 'sent' });
    await ring.says({ ...leg, ...FIRST, came: 'busy' });
    expect(await pages(practice)).toEqual(['page escalation queued +6']);
    expect(ring.done.standing.context.paging?.attempts).toMatchObject([{ ...FIRST, came: 'busy' }]);
  });

  test('is queued once, whatever else is said afterwards', async () => {
    const practice = aPractice();
    const ring = await practice.ring();
    await ring.volunteers(FIT);
    await ring.answerAll();
    await ring.says({ kind: 'tell' });
    expect(await pages(practice)).toEqual(['page escalation queued +0']);
  });

  test.each(['terminal', 'replay'] as const)('of a call in %s rings nobody', async (channel) => {
    const practice = aPractice();
    const start = { kind: 'start', channel, direction: 'patient-rang', callerNumber: null } as const;
    const other = new Ring(practice.deps, newCallId());
    await other.says(start);
    await other.volunteers(FIT);
    expect(await outbox(practice)).toEqual([]);
  });
});

describe('what every attempt leaves in the record', () => {
  test('is who, how and what came of it, and it outlives the snapshot', async () => {
    const practice = aPractice();
    const ring = await practice.ring();
    await ring.volunteers(LEG);
    await paged(ring, 1, { ...FIRST, came: 'sent' });
    await paged(ring, 1, { ...FIRST, came: 'voicemail' });
    const events = await practice.store.calls.events(ring.call);
    const tries = events.ok ? events.value.filter(({ type }) => type === 'attempted') : [];
    expect(tries.map(({ open }) => open)).toMatchObject([
      { what: 'page', ...FIRST, came: 'sent' },
      { what: 'page', ...FIRST, came: 'voicemail' },
    ]);
  });

  test('is taken after the call was closed, too', async () => {
    const practice = aPractice();
    const ring = await practice.ring();
    await ring.answerAll({ swelling: 'one-sided' });
    await ring.says({ kind: 'tell' });
    await ring.says({ kind: 'close', understood: true, agreed: 'Comes in.' });
    await ring.says({ kind: 'promise-kept', promise: 'review', result: 'booked', text: 'Tuesday at nine.' });
    expect(ring.done.standing.context.promises.review?.state).toBe('done');
    const again = await ring.tries({ kind: 'promise-kept', promise: 'review', result: 'booked', text: 'x' });
    expect(again).toMatchObject({ ok: false, fault: { code: 'not-now' } });
  });
});

describe('a promise', () => {
  test('to ring back after a worrying cut-off tells the desk after 5 minutes, and is urgent after 15', async () => {
    const practice = aPractice();
    const ring = await practice.ring({ by: 'line' });
    await ring.answerNext();
    await ring.says({ kind: 'cut-off', how: 'hung-up' });
    expect((await queued(practice)).filter((line) => line.startsWith('notice'))).toEqual([
      'notice late queued +5',
      'notice not-reached queued +15',
      'notice late queued +360',
    ]);
  });

  test('of a review tells the desk when it is late, and the clinician 15 minutes later', async () => {
    const practice = aPractice();
    const ring = await practice.ring();
    await ring.says({
      kind: 'raise',
      to: { outcome: 'arrange-review', within: 'same-day', emergency: false },
      why: 'Sounds unwell.',
    });
    await ring.answerAll();
    expect(await queued(practice)).toEqual(['notice late queued +360', 'page late queued +375']);
  });

  test('that was kept stays kept while the outcome does not rise', async () => {
    const practice = aPractice();
    const ring = await practice.ring();
    await ring.answerAll({ swelling: 'one-sided' });
    const kept = { kind: 'promise-kept', promise: 'review', text: 'Tomorrow at ten.' } as const;
    await ring.says({ ...kept, result: 'not-reached' });
    expect(ring.done.standing.context.promises.review?.state).toBe('open');
    await ring.says({ ...kept, result: 'booked' });
    await ring.says({ kind: 'tell' });
    const { review } = ring.done.standing.context.promises;
    expect(review?.state).toBe('done');
    await ring.says({
      kind: 'raise',
      to: { outcome: 'arrange-review', within: 'same-day', emergency: false },
      why: 'It grows.',
    });
    const risen = ring.done.standing.context.promises.review;
    expect(risen?.state).toBe('open');
    expect(risen?.id).not.toBe(review?.id);
  });
});

describe('after advice that no person gave', () => {
  // Day 3; the call is on Monday at 10:00, the next clinic day is Tuesday.
  test('a nurse rings by 10:00 on the next open day', async () => {
    const practice = aPractice();
    const ring = await practice.ring({ by: 'line', operated: { day: 3 } });
    await ring.answerAll();
    expect(ring.result).toBe('advise/none');
    expect(ring.done.standing.context.promises['call-back']).toMatchObject({
      reason: 'nurse-check',
      dueAt: Date.parse('2026-03-03T10:00:00Z'),
    });
  });

  test('and not when a nurse gave it herself', async () => {
    const practice = aPractice();
    const ring = await practice.ring({ operated: { day: 3 } });
    await ring.answerAll();
    expect(ring.result).toBe('advise/none');
    expect(ring.done.standing.context.promises).toEqual({});
  });
});

describe('a text about a review', () => {
  async function told(contact: Partial<Patient['contact']>): Promise<readonly StoredMessage[]> {
    const practice = aPractice();
    const base = aPatient();
    const patient = { ...base, contact: { ...base.contact, ...contact } };
    const operation = anOperation(patient.id);
    await practice.store.people.savePatient(patient);
    await practice.store.people.saveOperation(operation);
    const ring = await practice.ring({ operated: null });
    await ring.identify(patient.id, operation.id);
    await ring.says({
      kind: 'raise',
      to: { outcome: 'arrange-review', within: 'same-day', emergency: false },
      why: 'Sounds unwell.',
    });
    await ring.answerAll();
    await ring.says({ kind: 'tell' });
    await ring.says({ kind: 'tell' });
    const sent = (await outbox(practice)).filter(({ kind }) => kind === 'text');
    const opened = await Promise.all(sent.map(({ id }) => practice.store.outbox.message(id)));
    return opened.flatMap((one) => (one.ok && one.value !== null ? [one.value] : []));
  }

  test('goes once to the first number of who agreed to texts', async () => {
    const sent = await told({ mayText: true });
    expect(sent).toMatchObject([{ to: 'caller', template: 'review', state: 'queued' }]);
    expect(sent[0]?.sealed).toEqual({ number: aPatient().telephones[0] });
  });

  test('goes to nobody who did not', async () => {
    expect(await told({ mayText: false })).toEqual([]);
  });
});
