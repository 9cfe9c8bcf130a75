/**
 * Texts to the practice. Sources: the practice's rules for texts (danger is paged and rung at once, the rest is
 * acknowledged without a word about the operation and becomes a call-back within 20 minutes, five minutes without an
 * answer to the danger question is rung); the provider's published keywords for stopping messages (from memory).
 */
import { describe, expect, test } from 'vitest';
import type { StoredEvent } from '../../src/call/call-store.ts';
import { aReach, REACH_NOW, type Reach } from './a-reach.ts';

const FROM = '+447700900640';
const MINUTE = 60_000;

let sent = 0;
function sid(): string {
  sent += 1;
  return `SM${String(sent).padStart(32, '0')}`;
}

function text(reach: Reach, body: string, name = sid()) {
  return reach.post('/text/incoming', { MessageSid: name, From: FROM, To: '+447700900900', Body: body });
}

/** Every text is in one call. */
async function theCall({ store }: Reach): Promise<readonly StoredEvent[]> {
  const calls = await store.calls.recent(10);
  if (!calls.ok) throw new Error('The store is down');
  expect(calls.value).toHaveLength(1);
  const [call] = calls.value;
  const events = call === undefined ? null : await store.calls.events(call.call);
  return events?.ok === true ? events.value : [];
}

/** `page escalation +0`. */
async function queued(reach: Reach): Promise<readonly string[]> {
  return (await reach.messages())
    .filter(({ state }) => state === 'queued')
    .map(({ kind, template, dueAt }) => `${kind} ${template} +${String((dueAt - REACH_NOW) / MINUTE)}`);
}

describe('a text with a danger in it', () => {
  test('is told to ring the emergency number, paged at once, and rung at once', async () => {
    const reach = await aReach();
    const { status, body } = await text(reach, 'I cannot breathe properly and my chest hurts');
    expect(status).toBe(200);
    expect(body).toContain('Ring 999 now');
    expect(await queued(reach)).toEqual(expect.arrayContaining(['page escalation +0', 'ring urgent +0']));
  });

  test('that comes later in the same conversation is told so, too', async () => {
    const reach = await aReach();
    await text(reach, 'Hello, can somebody ring me please');
    const { body } = await text(reach, 'She has collapsed');
    expect(body).toContain('Ring 999 now');
    await theCall(reach);
  });

  test('or a yes to the danger question, is an emergency', async () => {
    const reach = await aReach();
    await text(reach, 'Hello, can somebody ring me please');
    expect((await text(reach, 'Yes')).body).toContain('Ring 999 now');
  });
});

describe('any other text', () => {
  test('is acknowledged, becomes a call-back within 20 minutes, and asks the danger question', async () => {
    const reach = await aReach();
    const { body } = await text(reach, 'Hello, I have a question about Thursday');
    expect(body).toContain('Is anybody in danger now?');
    expect(body).not.toMatch(/operation|surgery|breast|wound|clinic/i);
    expect(await queued(reach)).toEqual(
      expect.arrayContaining(['ring unanswered +5', 'notice late +20', 'page late +35']),
    );
  });

  test('whose danger question is answered with no is not rung after five minutes', async () => {
    const reach = await aReach();
    await text(reach, 'Hello, I have a question about Thursday');
    await text(reach, 'No');
    expect(await queued(reach)).not.toContain('ring unanswered +5');
    expect(await queued(reach)).toContain('notice late +20');
  });

  test('whose danger question is not answered is rung after five minutes', async () => {
    const reach = await aReach();
    await text(reach, 'Hello, I have a question about Thursday');
    await text(reach, 'Are you there?');
    reach.clock.moveBy(5 * MINUTE);
    await reach.sendDue();
    const tries = (await theCall(reach)).filter(({ type }) => type === 'attempted');
    expect(tries.map(({ open }) => open)).toMatchObject([{ what: 'ring', came: 'shown' }]);
  });

  test('sent again by the provider is one text with one answer', async () => {
    const reach = await aReach();
    const name = sid();
    const first = await text(reach, 'Hello, I have a question about Thursday', name);
    const events = await theCall(reach);
    const all = await Promise.all(
      [1, 2, 3].map(() => text(reach, 'Hello, I have a question about Thursday', name)),
    );
    expect(all.map(({ body }) => body)).toEqual([first.body, first.body, first.body]);
    expect(await theCall(reach)).toEqual(events);
  });
});

describe('stop', () => {
  test('ends messages to the number, but not the call', async () => {
    const reach = await aReach();
    await text(reach, 'Hello, I have a question about Thursday');
    expect((await text(reach, 'STOP')).body).not.toContain('Message');
    expect((await text(reach, 'She has collapsed')).body).not.toContain('Message');
    expect(await queued(reach)).toEqual(expect.arrayContaining(['page escalation +0', 'ring urgent +0']));
    await text(reach, 'start');
    expect((await text(reach, 'Are you there?')).body).toContain('Message');
  });
});

test('an unsigned or wrongly signed text is refused and changes nothing', async () => {
  const reach = await aReach();
  const params = { MessageSid: sid(), From: FROM, Body: 'I cannot breathe' };
  for (const signature of ['', 'AAAA']) {
    expect((await reach.post('/text/incoming', params, signature)).status).toBe(403);
  }
  expect(await reach.store.calls.recent(5)).toEqual({ ok: true, value: [] });
});
