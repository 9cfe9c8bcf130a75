/**
 * What is due is sent by the provider's own library to a stand-in on loopback. Sources: the practice's rules (next rung
 * at once when one fails; paging until accepted; the caller rung after 20 minutes; nothing leaves a demonstration or a
 * trial call), and common practice of refusals (a 4xx is final, a 5xx may be asked again).
 */
import { describe, expect, onTestFinished, test } from 'vitest';
import type { CallId } from '../../src/basics/ids.ts';
import type { StoredMessage } from '../../src/call/outbox.ts';
import { sendOneDue, type DueDeps } from '../../src/follow/send-due.ts';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import { aPractice, newCallId, NOW, type Practice } from '../support/a-practice.ts';
import { Ring } from '../support/a-ring.ts';
import { aSender } from '../support/a-sender.ts';
import { providerStandIn, type StandIn } from '../support/provider-stand-in.ts';

const MINUTE = 60_000;
const FIRST = '+447700900700';
const SECOND = '+447700900701';
const CONSULTANT = '+447700900702';

interface Sending {
  readonly practice: Practice;
  readonly provider: StandIn;
  readonly due: DueDeps;
}

async function sending(): Promise<Sending> {
  const practice = aPractice();
  const provider = await providerStandIn();
  onTestFinished(() => provider.stop());
  return { practice, provider, due: aSender(practice, provider.url) };
}

/** All that is due now; how many messages that were. */
async function sendAll(due: DueDeps): Promise<number> {
  for (let n = 0; n < 50; n += 1) {
    if ((await sendOneDue(due)) !== 'done') return n;
  }
  throw new Error('It never ends');
}

async function messages({ store }: Practice): Promise<readonly StoredMessage[]> {
  const all = await store.outbox.recent(500);
  return all.ok ? all.value : [];
}

async function attempts({ store }: Practice, call: CallId): Promise<readonly string[]> {
  const events = await store.calls.events(call);
  if (!events.ok) throw new Error('The store is down');
  return events.value.flatMap(({ type, open }) => {
    if (type !== 'attempted' || typeof open !== 'object' || open === null) return [];
    const { what, staff, came } = open as { what: string; staff: string | null; came: string };
    return [`${what} ${staff ?? '-'} ${came}`];
  });
}

describe('an emergency', () => {
  test('pages the first rung, and every two minutes the next, round and round until somebody accepts', async () => {
    const { practice, provider, due } = await sending();
    const ring = await practice.ring();
    await ring.volunteers({ fit: 'yes' });
    for (let minute = 0; minute < 8; minute += 2) {
      await sendAll(due);
      practice.clock.moveBy(2 * MINUTE);
    }
    expect(provider.asked.map(({ to }) => to)).toEqual([FIRST, SECOND, CONSULTANT, FIRST]);
    await ring.says({ kind: 'accept', clinician: 'Dr Ferreday' });
    expect(await sendAll(due)).toBe(0);
    practice.clock.moveBy(60 * MINUTE);
    await sendAll(due);
    expect(provider.asked.filter(({ message }) => message.startsWith('page:'))).toHaveLength(4);
  });

  test('nobody accepts: after twenty minutes the caller is rung, and the paging goes on', async () => {
    const { practice, provider, due } = await sending();
    const ring = await practice.ring();
    await ring.volunteers({ fit: 'yes' });
    for (let minute = 0; minute <= 24; minute += 2) {
      await sendAll(due);
      practice.clock.moveBy(2 * MINUTE);
    }
    const rung = provider.asked.filter(({ message }) => message.startsWith('ring:'));
    // The number that the caller rang from.
    expect(rung.map(({ to }) => to)).toEqual(['+447700900123']);
    const pages = provider.asked.filter(({ message }) => message.startsWith('page:'));
    expect(pages).toHaveLength(13);
    expect(ring.done.standing.context.promises.escalation?.state).toBe('open');
  });

  test('that the provider refuses to ring goes to the next rung at once', async () => {
    const { practice, provider, due } = await sending();
    const ring = await practice.ring();
    await ring.volunteers({ fit: 'yes' });
    provider.answerWith(400);
    await sendAll(due);
    expect(provider.asked.map(({ to }) => to)).toEqual([FIRST, SECOND, CONSULTANT]);
    expect(await attempts(practice, ring.call)).toEqual([
      'page dr-first failed',
      'page dr-second failed',
      'page dr-consultant failed',
    ]);
    provider.answerWith(201);
    practice.clock.moveBy(2 * MINUTE);
    await sendAll(due);
    expect((await attempts(practice, ring.call)).at(-1)).toBe('page dr-first sent');
  });
});

describe('without a provider', () => {
  test('pages are shown, the ladder moves, and somebody at the desk can accept', async () => {
    const practice = aPractice();
    const due = aSender(practice, null);
    const ring = await practice.ring();
    await ring.volunteers({ fit: 'yes' });
    await sendAll(due);
    practice.clock.moveBy(2 * MINUTE);
    await sendAll(due);
    expect(await attempts(practice, ring.call)).toEqual(['page dr-first shown', 'page dr-second shown']);
    await ring.says({ kind: 'accept', clinician: 'Dr Second' });
    practice.clock.moveBy(60 * MINUTE);
    await sendAll(due);
    expect((await messages(practice)).filter(({ state }) => state === 'queued' || state === 'sent')).toEqual(
      [],
    );
  });

  test('a call on the trial phone is not dialled either, although there is one', async () => {
    const { practice, provider, due } = await sending();
    const trial = new Ring(practice.deps, newCallId(), 'line');
    await trial.says({ kind: 'start', channel: 'trial', direction: 'patient-rang', callerNumber: null });
    await trial.volunteers({ fit: 'yes' });
    await sendAll(due);
    practice.clock.moveBy(30 * MINUTE);
    await sendAll(due);
    expect(provider.asked).toEqual([]);
    expect((await attempts(practice, trial.call)).at(0)).toBe('page dr-first shown');
  });
});

describe('a call-back', () => {
  test('that nobody made in a quarter of an hour is urgent, and the clinician is paged', async () => {
    const { practice, provider, due } = await sending();
    const ring = await practice.ring({ by: 'line' });
    await ring.answerNext();
    await ring.says({ kind: 'cut-off', how: 'hung-up' });
    practice.clock.moveBy(5 * MINUTE);
    await sendAll(due);
    expect(await attempts(practice, ring.call)).toEqual(['notice - shown']);
    expect(provider.asked).toEqual([]);
    practice.clock.moveBy(10 * MINUTE);
    await sendAll(due);
    await ring.says({ kind: 'note', text: 'Looked at.' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
    practice.clock.moveBy(5 * MINUTE);
    await sendAll(due);
    expect(provider.asked.map(({ to }) => to)).toContain(FIRST);
  });

  test('that was made is not late', async () => {
    const { practice, provider, due } = await sending();
    const ring = await practice.ring({ by: 'line' });
    await ring.answerNext();
    await ring.says({ kind: 'cut-off', how: 'hung-up' });
    await ring.says({ kind: 'promise-kept', promise: 'call-back', result: 'spoken', text: 'She is well.' });
    practice.clock.moveBy(16 * MINUTE);
    await sendAll(due);
    expect(provider.asked).toEqual([]);
    expect(await attempts(practice, ring.call)).toEqual([]);
    expect(ring.result).toBe('arrange-review/same-day');
  });
});

describe('a text', () => {
  async function told({ practice }: Sending): Promise<Ring> {
    const patient = aPatient();
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
    return ring.says({ kind: 'tell' });
  }

  test('goes out once, and is tried again while the provider cannot be asked', async () => {
    const all = await sending();
    const { practice, provider, due } = all;
    provider.answerWith(503);
    const ring = await told(all);
    await sendAll(due);
    expect(await attempts(practice, ring.call)).toEqual([]);
    provider.answerWith(201);
    practice.clock.moveBy(MINUTE);
    await sendAll(due);
    expect(await attempts(practice, ring.call)).toEqual(['text - sent']);
    expect(provider.done()).toMatchObject([
      { what: 'Messages', to: '+447700900101', body: 'Please ring us.' },
    ]);
  });

  test('does not go to a number that said stop', async () => {
    const all = await sending();
    const { practice, provider, due } = all;
    await practice.store.textNumbers.setStopped('+447700900101', true, NOW);
    const ring = await told(all);
    await sendAll(due);
    expect(provider.asked).toEqual([]);
    expect(await attempts(practice, ring.call)).toEqual(['text - failed']);
  });
});

test('a store that is down sends nothing and loses nothing', async () => {
  const { practice, provider, due } = await sending();
  const ring = await practice.ring();
  await ring.volunteers({ fit: 'yes' });
  const down = { ok: false, fault: 'store-down' } as const;
  const broken: DueDeps = { ...due, outbox: { ...due.outbox, claim: () => Promise.resolve(down) } };
  expect(await sendOneDue(broken)).toBe('down');
  expect(provider.asked).toEqual([]);
  await sendAll(due);
  expect(provider.asked.map(({ to }) => to)).toEqual([FIRST]);
});
