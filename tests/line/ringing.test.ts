/** Rings the real server process as the telephone provider does, strictly: what it says, whom it rings, what it keeps. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Call } from './simulator/call.ts';
import { ACCEPTS, REFUSES, type Does } from './simulator/dialled-leg.ts';
import { aServer, type Server } from './simulator/server-process.ts';

let server: Server;
beforeAll(async () => {
  server = await aServer();
  await server.start();
});
afterAll(() => server.remove());

describe('the first words', () => {
  test('are what to do in an emergency, before anything is asked', async () => {
    const call = await Call.rings(server.site);
    expect(call.said).toMatch(/9 9 9/);
    expect(call.said.indexOf('9 9 9')).toBeLessThan(call.said.indexOf('?'));
    await call.hangUp();
  });
});

describe('a caller who is silent to the end', () => {
  test('is asked again, then a person is rung, and it is said what to do', async () => {
    const call = await Call.rings(server.site);
    while (call.isAsked) await call.silence();
    expect(call.ended).toBe(true);
    expect(call.rung.length).toBeGreaterThan(0);
    expect(call.said).toMatch(/9 9 9/);
  });
});

describe('an immediate danger', () => {
  test('in the first words is answered with what to do within two turns', async () => {
    const call = await Call.rings(server.site);
    await call.say("I can't breathe", null);
    expect(call.said).toMatch(/9 9 9/);
    expect(call.turns).toBe(1);
    await call.hangUp();
  });
});

describe('the clinician', () => {
  test.each<[string, Does, boolean]>([
    ['accepts', ACCEPTS, true],
    ['refuses', REFUSES, false],
    ['lets a voicemail pick up', { does: 'voicemail' }, false],
    ['is busy', { does: 'busy' }, false],
    ['does not pick up', { does: 'no-answer' }, false],
  ])('%s', async (_name, does, isBridged) => {
    const call = await Call.rings(server.site, { clinician: () => does });
    await call.press('0');
    while (call.isAsked) await call.silence();
    expect(call.rung.at(-1)?.bridged).toBe(isBridged);
    expect(call.rung).toHaveLength(isBridged ? 1 : 3);
  });
});
