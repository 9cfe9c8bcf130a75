/** The trial phone over the running desk: its page, its voice, and calls that are signed on the server and marked. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { aDesk, type Desk } from '../support/a-desk.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

const SID = 'CA0123456789abcdef0123456789abcdef';

function send(to: string, params: Record<string, string>): Promise<Response> {
  return fetch(`${desk.address}/trial-phone/send`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'X-Call-Desk': 'trial' },
    body: JSON.stringify({ to, params }),
  });
}

describe('the page', () => {
  test('holds no key, and loads its own script and style', async () => {
    const page = await (await fetch(`${desk.address}/trial-phone`)).text();
    expect(page).toContain('/trial-phone.js');
    for (const path of ['/trial-phone.js', '/trial-phone.css']) {
      const response = await fetch(`${desk.address}${path}`);
      expect(response.status).toBe(200);
      expect(await response.text()).not.toMatch(/[0-9a-f]{64}/);
    }
  });
});

describe('the voice', () => {
  test('is sound in the form that RIFF WAVE files have', async () => {
    const text = 'Dial 9 9 9 now.';
    const response = await fetch(`${desk.address}/trial-phone/say?text=${encodeURIComponent(text)}`);
    const wav = Buffer.from(await response.arrayBuffer());
    // Multimedia Programming Interface and Data Specifications 1.0 (IBM, Microsoft, 1991): RIFF, size, WAVE.
    expect(wav.toString('latin1', 0, 4)).toBe('RIFF');
    expect(wav.toString('latin1', 8, 12)).toBe('WAVE');
    expect(wav.readUInt32LE(4) + 8).toBeLessThanOrEqual(wav.length);
    expect(wav.length).toBeGreaterThan(10_000);
  });

  test('says nothing for no text and for too much', async () => {
    for (const text of ['', 'a'.repeat(2000)]) {
      const response = await fetch(`${desk.address}/trial-phone/say?text=${text}`);
      expect(response.status).toBe(404);
    }
  });
});

describe('a trial call', () => {
  test('is answered by the real line and marked as a trial in the log', async () => {
    const answer = await send('/line/incoming', { CallSid: SID, From: '+447700900101', To: '+448081570100' });
    expect(await answer.json()).toMatchObject({ status: 200, body: expect.stringContaining('<Gather') });
    const log = await fetch(`${desk.address}/api/calls`, { headers: { Cookie: await desk.cookie() } });
    expect(JSON.stringify(await log.json())).toContain('"channel":"trial"');
  });

  test.each([
    ['another door', '/api/calls', SID],
    ['another host', '//elsewhere.example/line/incoming', SID],
    ['an id that the provider could give', '/line/incoming', 'CA1'],
  ])('is not signed for %s', async (_what, to, sid) => {
    expect((await send(to, { CallSid: sid })).status).toBe(400);
  });
});
