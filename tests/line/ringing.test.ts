/** Rings the real server process as the telephone provider does, strictly: what it says, whom it rings, what it keeps. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Call, type Ringing } from './simulator/call.ts';
import { keptCall } from './simulator/demo-patients.ts';
import { ACCEPTS, REFUSES, type Does } from './simulator/dialled-leg.ts';
import { inTheEvening } from './simulator/evening.ts';
import { newSid, notify, send } from './simulator/provider.ts';
import { aServer, type Server } from './simulator/server-process.ts';
import { sign } from './simulator/sign.ts';
import { saysAllIsWell, sayWell } from './simulator/well-caller.ts';

let server: Server;
beforeAll(async () => {
  server = await aServer({ practice: inTheEvening });
  await server.start();
});
afterAll(() => server.remove());

const ring = (ringing: Ringing = {}): Promise<Call> => Call.rings(server.site, ringing);
const kept = ({ sid }: Call) => keptCall(server.dataDir, sid);

describe('the first words', () => {
  test('are what to do in an emergency, before anything is asked', async () => {
    const call = await ring();
    expect(call.said).toMatch(/9 9 9/);
    expect(call.said.indexOf('9 9 9')).toBeLessThan(call.said.indexOf('?'));
    await call.hangUp();
  });
});

describe('a caller who is silent to the end', () => {
  test('is asked again, then a person is rung, and it is said what to do', async () => {
    const call = await ring();
    while (call.isAsked) await call.silence();
    expect(call.rung.length).toBeGreaterThan(0);
    expect(call.said).toMatch(/9 9 9/);
    expect(kept(call).promises).toContain('escalation open');
  });
});

describe('a caller who is never understood', () => {
  test.each([
    ['wrong keys', (call: Call) => call.press('6')],
    ['noise', (call: Call) => (call.takesSpeech ? call.say('mm the kettle brr', 0.1) : call.press('5'))],
    [
      'noise without a confidence',
      (call: Call) => (call.takesSpeech ? call.say('...', null) : call.silence()),
    ],
  ])('%s to the end lead to a person, and never to advice', async (_name, reply) => {
    const call = await ring();
    while (call.isAsked) await reply(call);
    expect(call.rung.length).toBeGreaterThan(0);
    expect(kept(call).outcome).toMatch(/^(urgent-escalation|arrange-review)/);
    expect(kept(call).promises).toContain('escalation open');
  });
});

describe('an immediate danger', () => {
  // rules of the practice: told what to do within two turns.
  test.each(["I can't breathe", 'my chest hurts and it will not stop', 'she will not wake up properly'])(
    '"%s" in the first words is answered with what to do',
    async (words) => {
      const call = await ring();
      await call.say(words, null);
      if (call.isAsked && !call.said.includes('9 9 9')) await call.press('1');
      expect(call.said).toMatch(/9 9 9/);
      expect(call.turns).toBeLessThanOrEqual(2);
      await call.hangUp();
      expect(kept(call).outcome).toBe('urgent-escalation/now/emergency');
      expect(kept(call).promises).toContain('escalation open');
    },
  );
});

describe('the clinician', () => {
  test.each<[string, Does, boolean]>([
    ['accepts', ACCEPTS, true],
    ['refuses', REFUSES, false],
    ['lets a voicemail pick up', { does: 'voicemail' }, false],
    ['is busy', { does: 'busy' }, false],
    ['does not pick up', { does: 'no-answer' }, false],
    ['cannot be reached', { does: 'failed' }, false],
  ])('%s', async (_name, does, isBridged) => {
    const call = await ring({ clinician: () => does });
    await call.press('0');
    while (call.isAsked) await call.silence();
    // First, second and consultant of the rota in practice.yaml.
    expect(call.rung.map(({ bridged }) => bridged)).toEqual(isBridged ? [true] : [false, false, false]);
    expect(new Set(call.rung.map(({ number }) => number)).size).toBe(call.rung.length);
    expect(call.said).toMatch(/9 9 9/);
    if (!isBridged) expect(kept(call).promises).toContain('escalation open');
  });

  test('hears no name before accepting', async () => {
    const call = await ring({ from: '+447700900103', clinician: () => REFUSES });
    await call.press('0');
    while (call.isAsked) await call.silence();
    expect(call.rung[0]?.whisper).toMatch(/press 1/i);
    expect(call.rung.map(({ whisper }) => whisper).join(' ')).not.toMatch(/Kirsty|MacAilpein/);
  });
});

describe('a call in which nothing is wrong', () => {
  test('takes at most fourteen prompts, is closed, and has a nurse look at it', async () => {
    const call = await ring();
    const prompts = await saysAllIsWell(call);
    expect(prompts).toBeLessThanOrEqual(14);
    expect(call.ended).toBe(true);
    expect(kept(call)).toMatchObject({ outcome: 'advise/none/-', state: 'closed' });
    // The nurse who rings the next morning.
    expect(kept(call).promises).toContain('call-back open');
  });
});

describe('a patient on record', () => {
  // flows/demo/people.yaml: +44 7700 900103, born 29 February 1996, breast augmentation.
  test('hears nothing of the record before the birth date is keyed, and never the operation', async () => {
    const call = await ring({ from: '+447700900103' });
    for (let n = 0; call.isAsked && !/date of birth/i.test(call.said) && n < 12; n += 1) await sayWell(call);
    expect(call.said).toMatch(/date of birth/i);
    expect(call.heard.join(' ')).not.toMatch(/Kirsty|MacAilpein|breast|implant|latex|Farrant/i);
    await call.press('29021996');
    expect(call.heard.join(' ')).not.toMatch(/Kirsty|MacAilpein|augmentation|implant|enlargement|Farrant/i);
    await call.hangUp();
  });
});

describe('a caller who hangs up', () => {
  test.each([0, 1, 3, 5, 7, 9])(
    'after %i answers leaves a scored record and a call-back',
    async (answers) => {
      const call = await ring();
      for (let n = 0; n < answers; n += 1) await sayWell(call);
      await call.hangUp();
      const record = kept(call);
      if (answers === 0) return expect(record.outcome ?? '').not.toMatch(/^advise/);
      expect(record.outcome).toMatch(/^(arrange-review|urgent-escalation)/);
      expect(record.promises.join()).toMatch(/call-back/);
    },
  );
});

describe('a request', () => {
  test('that is repeated each time is answered alike, and counts once', async () => {
    const site = { ...server.site, times: 3 };
    const once = await ring();
    const repeated = await Call.rings(site);
    const wells = [await saysAllIsWell(once), await saysAllIsWell(repeated)];
    expect(wells[0]).toBe(wells[1]);
    expect(kept(repeated)).toEqual(kept(once));
  });

  test('with a forged signature, none, or that of another answer is refused and changes nothing', async () => {
    const call = await ring();
    await sayWell(call);
    const before = kept(call);
    const { next: url } = call;
    const form = call.form({ Digits: '2' });
    const signatures = ['', 'AAAAAAAAAAAAAAAAAAAAAAAAAAA=', sign('another token', url, form)];
    const refused = await Promise.all([
      ...signatures.map((signature) => send(server.site, { url, form, signature })),
      send(server.site, {
        url,
        form: call.form({ Digits: '1' }),
        signature: sign(server.site.token, url, form),
      }),
      send(server.site, { url: `${url}&x=1`, form, signature: sign(server.site.token, url, form) }),
    ]);
    expect(refused.map(({ status }) => status)).toEqual([403, 403, 403, 403, 403]);
    expect(kept(call)).toEqual(before);
    await call.hangUp();
  });

  test('that comes again after the call went on gets its old answer, and changes nothing', async () => {
    const call = await ring();
    const old = { url: call.next, form: call.form({ Digits: '2' }) };
    await call.press('2');
    await sayWell(call);
    const before = kept(call);
    expect((await send(server.site, old)).status).toBe(200);
    expect(kept(call)).toEqual(before);
    await call.hangUp();
  });

  test('about a call that is over, late or twice, changes nothing', async () => {
    const call = await ring();
    await sayWell(call);
    await call.hangUp();
    const before = kept(call);
    const status = `${server.site.publicUrl}/line/status`;
    for (const said of ['completed', 'in-progress', 'ringing', 'completed']) {
      await notify(server.site, status, call.form({ CallStatus: said, SequenceNumber: '0' }));
    }
    expect(kept(call)).toEqual(before);
  });

  test('about a call that never was is answered, and nothing is kept', async () => {
    const sid = newSid('CA');
    const stranger = (await ring()).form({ CallSid: sid, CallStatus: 'completed' });
    await notify(server.site, `${server.site.publicUrl}/line/status`, stranger);
    expect(() => keptCall(server.dataDir, sid)).toThrow();
  });
});

describe('two calls from one number at once', () => {
  test('are two calls', async () => {
    const [well, ill] = [await ring(), await ring()];
    await well.press('2');
    await ill.say("I can't breathe");
    await well.press('2');
    expect(ill.said).toMatch(/9 9 9/);
    expect(well.heard.slice(1).join(' ')).not.toMatch(/9 9 9 now/);
    await ill.hangUp();
    await well.hangUp();
    expect(kept(ill).outcome).toMatch(/emergency$/);
    expect(kept(well).outcome).not.toMatch(/emergency$/);
  });
});
