/**
 * The legs that the practice rings itself. Sources: the practice's rules (a name only after somebody accepted; refused,
 * busy, unanswered or without a key goes to the next rung at once), the provider's call statuses as its documentation
 * names them.
 */
import { describe, expect, test } from 'vitest';
import type { StoredMessage } from '../../src/call/outbox.ts';
import { newCallId } from '../support/a-practice.ts';
import { aRing, type Ring } from '../support/a-ring.ts';
import { aReach, REACH_NOW, type Reach } from './a-reach.ts';

const MINUTE = 60_000;
/** Tuesday's first on call in the demo's rota. */
const FIRST = { name: 'Dr Kwabena Osei-Lund', telephone: '+447700900712', staff: 'kwabena-lund' };

interface Paged {
  readonly reach: Reach;
  readonly ring: Ring;
  readonly page: StoredMessage;
}

async function paged(): Promise<Paged> {
  const reach = await aReach();
  const ring = await aRing(reach.turn, { call: newCallId(), operated: null });
  await ring.volunteers({ collapse: 'yes' });
  const page = (await reach.messages()).find(({ kind }) => kind === 'page');
  if (page === undefined) throw new Error('Nobody is paged');
  return { reach, ring, page };
}

function ask({ reach, page }: Paged, path: string, params: Readonly<Record<string, string>> = {}) {
  const address = `/line/${path}?message=${encodeURIComponent(page.id)}`;
  return reach.post(address, { CallSid: `CA${'1'.repeat(32)}`, To: FIRST.telephone, ...params });
}

async function tries({ reach, ring }: Paged): Promise<readonly unknown[]> {
  const events = await reach.store.calls.events(ring.call);
  return events.ok ? events.value.filter(({ type }) => type === 'attempted').map(({ open }) => open) : [];
}

async function waiting({ reach }: Paged): Promise<readonly number[]> {
  const queued = (await reach.messages()).filter(
    ({ kind, template, state }) => kind === 'page' && template === 'escalation' && state === 'queued',
  );
  return queued.map(({ dueAt }) => (dueAt - REACH_NOW) / MINUTE);
}

describe('the telephone of who is paged', () => {
  test('hears how urgent it is and a key to press, and nobody’s name', async () => {
    const all = await paged();
    await all.ring.says({ kind: 'note', text: 'Ottilie Brackwater is on the floor.' });
    const { status, body } = await ask(all, 'page');
    expect(status).toBe(200);
    expect(body).toContain('emergency');
    expect(body).toContain('Press 1');
    expect(body).toMatch(/<Gather[^>]*numDigits="1"/);
    expect(body).toMatch(/<Hangup\/><\/Response>$/);
    expect(body).not.toContain('Brackwater');
  });

  test('accepts by 1: written under the name of who was rung, and paged no more', async () => {
    const all = await paged();
    const { body } = await ask(all, 'page-key', { Digits: '1' });
    expect(body).toContain('It is yours now');
    await all.ring.says({ kind: 'note', text: 'Looked at.' });
    expect(all.ring.done.standing.context.accepted?.clinician).toBe(FIRST.name);
    expect(await waiting(all)).toEqual([]);
    expect(await tries(all)).toMatchObject([{ what: 'page', staff: FIRST.staff, came: 'accepted' }]);
    // The provider's last word about the same call changes nothing.
    await ask(all, 'page-status', { CallStatus: 'completed' });
    expect(await tries(all)).toHaveLength(1);
    expect((await ask(all, 'page')).body).toContain('taken this over already');
  });

  test.each([
    ['refused by 2', 'page-key', { Digits: '2' }, 'refused'],
    ['no key', 'page-key', {}, 'not-accepted'],
    ['busy', 'page-status', { CallStatus: 'busy' }, 'busy'],
    ['no answer', 'page-status', { CallStatus: 'no-answer' }, 'no-answer'],
    ['failed', 'page-status', { CallStatus: 'failed' }, 'failed'],
    [
      'picked up by something that pressed nothing',
      'page-status',
      { CallStatus: 'completed' },
      'not-accepted',
    ],
  ])('%s goes to the next rung at once, and counts once', async (_what, path, params, came) => {
    const all = await paged();
    await all.reach.sendDue();
    all.reach.clock.moveBy(30_000);
    // Shown, as in every demonstration: the ladder waits its two minutes.
    expect(await waiting(all)).toEqual([2]);
    await ask(all, path, params);
    await ask(all, path, params);
    const own = (await tries(all)).filter((open) => JSON.stringify(open).includes(`"came":"${came}"`));
    expect(own).toHaveLength(1);
    expect(await waiting(all)).toEqual([0.5]);
  });
});

describe('the caller, rung because nobody accepted', () => {
  test('hears where to go and the emergency number, and nothing of the record', async () => {
    const { reach, ring } = await paged();
    const message = (await reach.messages()).find(({ kind }) => kind === 'ring');
    const { body } = await reach.post(`/line/ring?message=${encodeURIComponent(message?.id ?? '')}`, {});
    expect(body).toContain('Saltmere General Hospital');
    expect(body).toContain('9 9 9');
    await ring.says({ kind: 'accept', clinician: FIRST.name });
    const over = await reach.post(`/line/ring?message=${encodeURIComponent(message?.id ?? '')}`, {});
    expect(over.body).toContain('looking after you already');
  });
});

test.each(['page', 'page-key', 'page-status', 'ring', 'ring-status'])(
  '/line/%s without a signature is refused',
  async (path) => {
    const all = await paged();
    const answer = await all.reach.post(`/line/${path}?message=${all.page.id}`, { Digits: '1' }, 'AAAA');
    expect(answer.status).toBe(403);
    expect(await tries(all)).toEqual([]);
  },
);
