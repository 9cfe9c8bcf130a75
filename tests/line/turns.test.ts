/** Retries, silence, mishearing, hanging up and a person: what the line does besides the questions themselves. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import { aLine, NIGHT, OPEN, type Caller, type Line } from './a-line.ts';

let line: Line;
let byDay: Line;
beforeAll(async () => {
  line = await aLine(NIGHT);
  byDay = await aLine(OPEN);
});
afterAll(() => {
  line.stop();
  byDay.stop();
});

/** Answers with no until the question is put; a tummy tuck five days ago. */
async function until(caller: Caller, asked: string): Promise<Caller> {
  for (let n = 0; n < 30 && caller.asked !== asked; n += 1) {
    if (caller.step === 'operation') await caller.says('a tummy tuck five days ago');
    else if (caller.asked === 'opening') await caller.press('1');
    else if (caller.asked === 'temperature') await caller.press('368');
    else await caller.press('2');
  }
  return caller;
}

/** Day of March; the calls are on the 11th. */
const WELL = [
  ['tummy-tuck', '07'],
  ['face-lift', '01'],
  ['carpal-tunnel', '03'],
] as const;
const NAMED = ['tummy tuck', 'face lift', 'carpal tunnel'];

describe('a request that comes twice', () => {
  test('is answered word for word the same, and counts once', async () => {
    const caller = await line.ring();
    const first = caller.body;
    await caller.send(caller.last.path, caller.last.params);
    expect(caller.body).toBe(first);
    await caller.press('2');
    const second = caller.body;
    const events = (await caller.events()).length;
    for (let n = 0; n < 3; n += 1) await caller.send(caller.last.path, caller.last.params);
    expect(caller.body).toBe(second);
    expect(await caller.events()).toHaveLength(events);
  });

  test('at once from several sides counts once', async () => {
    const caller = await line.ring();
    const action = caller.action;
    const params = { CallSid: caller.sid, AccountSid: 'AC1', From: caller.from, Digits: '2' };
    const answers = await Promise.all(Array.from({ length: 8 }, () => line.post(action, params)));
    expect(new Set(answers.map(({ body }) => body)).size).toBe(1);
    expect((await caller.events()).filter(({ type }) => type === 'answered')).toHaveLength(1);
  });

  test('late, after the next one, gets its own old answer and changes nothing', async () => {
    const caller = await line.ring();
    await caller.press('2');
    const late = { ...caller.last, body: caller.body };
    await caller.press('2');
    const events = (await caller.events()).length;
    await caller.send(late.path, late.params);
    expect(caller.body).toBe(late.body);
    expect(await caller.events()).toHaveLength(events);
  });
});

describe('silence', () => {
  test('is asked again, then by keys, then a person is rung, then it is said what to do', async () => {
    const caller = await line.ring();
    await caller.silent();
    expect(caller.gather?.attributes['input']).toMatch(/speech/);
    await caller.silent();
    expect(caller.gather?.attributes['input']).toBe('dtmf');
    await caller.silent();
    expect(caller.said).toMatch(/9 9 9/);
    for (let n = 0; n < 5 && caller.dial !== null; n += 1) {
      await caller.send(caller.action, { DialCallStatus: 'no-answer' });
    }
    expect(caller.verbs.at(-1)?.name).toBe('Hangup');
    expect(caller.said).toMatch(/ring you.*9 9 9/s);
  });
});

describe('speech that is not understood', () => {
  test('leads to keys and then to a person', async () => {
    const caller = await line.ring();
    await caller.says('the kettle is on');
    await caller.says('the kettle is on');
    expect(caller.gather?.attributes['input']).toBe('dtmf');
    await caller.press('6');
    expect(caller.dial).not.toBeNull();
    expect((await caller.promises()).map(({ kind }) => kind)).toContain('escalation');
  });

  test('that reassures and was heard badly is read back', async () => {
    const caller = await line.ring();
    await caller.says('no none of those', '0.3');
    expect(caller.step).toBe('confirm');
    expect(caller.said).toMatch(/none of those/);
    await caller.says('yes that is right', '0.9');
    expect(caller.asked).toBe('screen-colour-swelling-or-bleeding');
  });

  test('that was read back wrongly is keyed', async () => {
    const caller = await line.ring();
    await caller.says('no none of those', '0.3');
    await caller.says('no', '0.9');
    expect(caller.asked).toBe('screen-breath-or-chest');
    expect(caller.gather?.attributes['input']).toBe('dtmf');
    await caller.press('1');
    expect(caller.asked).toBe('breathless');
  });
});

describe('"that is wrong" in the very next turn', () => {
  test('asks the last question again by keys, and the key replaces what was heard', async () => {
    const caller = await until(await line.ring(), 'low-mood');
    await caller.says('yes');
    expect((await caller.standing()).context.held['low-mood']?.value).toBe('yes');
    await caller.says('no that is wrong');
    expect(caller.asked).toBe('low-mood');
    expect(caller.gather?.attributes['input']).toBe('dtmf');
    await caller.press('2');
    expect((await caller.standing()).context.held['low-mood']).toMatchObject({
      value: 'no',
      takenBackTo: null,
    });
  });
});

describe('a wish', () => {
  test('to hear it again repeats the question', async () => {
    const caller = await line.ring();
    const asked = caller.asked;
    await caller.says('sorry can you repeat that');
    expect(caller.asked).toBe(asked);
    await caller.press('9');
    expect(caller.asked).toBe(asked);
  });

  test('to go back puts the last question again', async () => {
    const caller = await line.ring();
    await caller.press('2');
    await caller.press('*');
    expect(caller.asked).toBe('screen-breath-or-chest');
  });

  test('not to be written down leads through the same questions by keys, and is kept', async () => {
    const caller = await line.ring();
    await caller.says('please do not record this');
    await caller.press('2');
    expect(caller.gather?.attributes['input']).toBe('dtmf');
    const heard = (await caller.events()).find(({ type }) => type === 'heard');
    expect(heard?.open).toMatchObject({ aside: 'keys-only' });
  });

  test('is not read into a long tale: to go back to work is an everyday question', async () => {
    const caller = await until(await line.ring(), 'opening');
    await caller.says('well my boss is on at me so I would like to know if I can go back to work on Monday');
    expect(caller.asked).not.toBe('opening');
    expect((await caller.standing()).context.held['asks-work']?.value).toBe('yes');
  });

  test('for an interpreter gives a person, at least the same day', async () => {
    const caller = await byDay.ring();
    await caller.says('I need an interpreter');
    expect(caller.dial?.children[0]?.text).toBe('+442079460100');
    expect((await caller.standing()).assessment.outcome.within).toBe('same-day');
  });

  test('for a person rings the desk first by day, then the clinicians', async () => {
    const caller = await byDay.ring();
    await caller.says('can I speak to a nurse please');
    // The desk's number, then Tuesday's first rung, from practice.yaml.
    expect(caller.dial?.children[0]?.text).toBe('+442079460100');
    await caller.send(caller.action, { DialCallStatus: 'no-answer', DialBridged: 'false' });
    expect(caller.dial?.children[0]?.text).toBe('+447700900712');
    expect((await caller.promises()).map(({ kind }) => kind)).toContain('escalation');
  });

  test('for a person beside a danger hears what to do first', async () => {
    const caller = await line.ring();
    await caller.says('I want a person please I cannot breathe');
    expect(caller.said).toMatch(/9 9 9/);
    expect((await caller.standing()).context.told?.emergency).toBe(true);
  });
});

describe('who is ringing', () => {
  test('is a patient by the number that shows and the birth date that is keyed; the line names no operation', async () => {
    const number = '+447700900611';
    const patient = aPatient({ born: '1984-06-09', telephones: [number] });
    await line.store.people.savePatient(patient);
    await line.store.people.saveOperation(
      anOperation(patient.id, { procedures: ['face-lift'], on: '2026-03-06', endedAt: null }),
    );
    const caller = await until(await line.ring({ from: number }), 'identity');
    expect(caller.step).toBe('born');
    await caller.press('09061984');
    expect(caller.asked).toBe('opening');
    expect(caller.heard.join(' ')).not.toMatch(/face.?lift|Ottilie|Brackwater/i);
    await caller.says('I had a face lift and my ear is a bit sore');
    expect((await caller.standing()).context.times).toEqual([{ day: 5, hours: null }]);
  });

  test('is asked once more for a date that does not match, and then for the operation; nothing is used', async () => {
    const number = '+447700900612';
    await line.store.people.savePatient(aPatient({ born: '1984-06-09', telephones: [number] }));
    const caller = await until(await line.ring({ from: number }), 'identity');
    await caller.press('01011990');
    await caller.press('01011990');
    expect(caller.step).toBe('operation');
    await caller.says('a nose job, two weeks ago');
    expect((await caller.standing()).context.times).toEqual([{ day: 14, hours: null }]);
  });

  test.each([
    ['I had my eyelids done yesterday', 'eyelid-surgery', 1],
    ['carpal tunnel twenty three days ago', 'carpal-tunnel', 23],
    ['it was a boob job on the third day now', 'breast-augmentation', null],
    ['a hernia repair, three weeks ago', 'hernia-repair', 21],
  ])('an unknown caller says "%s"', async (text, flow, day) => {
    const caller = await until(await line.ring(), 'identity');
    await caller.says(text);
    if (day === null) await caller.press('3');
    const loaded = await line.store.calls.load(caller.call);
    const head = loaded.ok ? loaded.value?.head : null;
    expect(line.deps.turn.flows.flowFor([flow]).hash).toBe(head?.flowHash);
    expect((await caller.standing()).context.times[0]?.day).toBe(day ?? 3);
  });
});

describe('a call in which nothing is wrong', () => {
  test('takes at most fourteen prompts from the first danger question to the outcome', async () => {
    const number = '+447700900614';
    const patient = aPatient({ born: '1984-06-09', telephones: [number] });
    await line.store.people.savePatient(patient);
    for (const [at, [procedure, day]] of WELL.entries()) {
      await line.store.people.saveOperation(
        anOperation(patient.id, {
          procedures: [procedure],
          on: `2026-03-${day}`,
          endedAt: null,
          bloodThinner: null,
        }),
      );
      const caller = await line.ring({ from: number });
      let prompts = 0;
      for (; caller.gather !== null && caller.step !== 'said-back'; prompts += 1) {
        if (caller.step === 'born') await caller.press('09061984');
        else if (caller.asked === 'opening')
          await caller.says(`my ${NAMED[at] ?? ''}, I just wanted to hear if all is well`);
        else if (caller.asked === 'temperature') await caller.press('368');
        else if (caller.asked === 'hours-since-urine') await caller.press('3');
        else await caller.says('no none of those');
      }
      expect((await caller.standing()).assessment.outcome.outcome, procedure).toBe('advise');
      expect(prompts, procedure).toBeLessThanOrEqual(14);
    }
  });
});

describe('hanging up', () => {
  test('at any turn leaves a scored record and somebody who rings back', async () => {
    for (let turns = 0; turns < 14; turns += 1) {
      const caller = await line.ring();
      for (let n = 0; n < turns && caller.step !== 'said-back'; n += 1) {
        await until(caller, caller.asked);
        if (caller.step === 'operation') await caller.says('a tummy tuck five days ago');
        else if (caller.asked === 'opening') await caller.press('1');
        else await caller.press(caller.asked === 'temperature' ? '368' : '2');
      }
      expect(await caller.hangsUp()).toBe(204);
      expect(await caller.hangsUp()).toBe(204);
      const { at, context, assessment } = await caller.standing();
      expect(at, String(turns)).toBe('outcome');
      const kinds = (await caller.promises()).filter(({ state }) => state === 'open').map(({ kind }) => kind);
      if (turns > 0) expect(kinds, String(turns)).toContain('call-back');
      expect((await caller.events()).filter(({ type }) => type === 'cut-off')).toHaveLength(
        context.ending === 'cut-off' ? 1 : 0,
      );
      expect(assessment.outcome).toBeDefined();
    }
  });

  test('is no reason to forget an answer that comes after it, or to count it', async () => {
    const caller = await line.ring();
    await caller.press('2');
    const { action } = caller;
    await caller.hangsUp();
    const told = (await caller.standing()).context.told;
    const late = { CallSid: caller.sid, AccountSid: 'AC1', From: caller.from, Digits: '2' };
    expect((await line.post(action, late)).status).toBe(200);
    expect((await caller.standing()).context.told).toEqual(told);
    expect((await caller.events()).at(-1)?.type).toBe('heard');
  });
});

describe('somebody who is rung', () => {
  test('hears no name before accepting, and the handover after it; bridged ends the ladder', async () => {
    const number = '+447700900613';
    const patient = aPatient({ born: '1984-06-09', telephones: [number] });
    await line.store.people.savePatient(patient);
    const caller = await line.ring({ from: number });
    await caller.press('0');
    const url = caller.dial?.children[0]?.attributes['url'] ?? '';
    const leg = {
      CallSid: 'CA00000000000000000000000000000001',
      ParentCallSid: caller.sid,
      AccountSid: 'AC1',
    };
    const whisper = await line.post(url, leg);
    expect(whisper.body).not.toMatch(/Ottilie|Brackwater|7 7 0 0/);
    expect(whisper.body).toMatch(/<\/Gather><Hangup\/><\/Response>$/);
    const accept = /action="([^"]+)"/.exec(whisper.body)?.[1]?.replaceAll('&amp;', '&') ?? '';
    const refused = await line.post(accept, { ...leg, Digits: '2' });
    expect(refused.body).toMatch(/<Hangup\/>/);
    const accepted = await line.post(accept, { ...leg, Digits: '1' });
    expect(accepted.body).not.toMatch(/<Hangup\/>/);
    expect(accepted.body).toMatch(/Situation|Ring back/i);
    await caller.send(caller.action, { DialCallStatus: 'completed', DialBridged: 'true' });
    expect(caller.dial).toBeNull();
    expect((await caller.standing()).context.accepted?.clinician).toBe('Dr Kwabena Osei-Lund');
  });

  test('but presses nothing, is not the one who took it: the next is rung', async () => {
    const caller = await line.ring();
    await caller.press('0');
    await caller.send(caller.action, { DialCallStatus: 'completed', DialBridged: 'false' });
    expect(caller.dial?.children[0]?.text).toBe('+447700900713');
  });
});

describe('the sound of caller and clinician', () => {
  const recorded = async (recording: 'on' | 'off', keysOnly: boolean): Promise<string | undefined> => {
    const { practice } = line.content;
    const other = await aLine(NIGHT, { practice: { ...practice, line: { ...practice.line, recording } } });
    const caller = await other.ring();
    if (keysOnly) await caller.press('7');
    await caller.press('0');
    other.stop();
    return caller.dial?.attributes['record'];
  };

  test('is kept only where the practice says so, and never when the caller does not want it', async () => {
    expect(await recorded('off', false)).toBeUndefined();
    expect(await recorded('on', true)).toBeUndefined();
    expect(await recorded('on', false)).toBe('record-from-answer-dual');
  });
});

test('a store that is down still says what to do and puts through', async () => {
  let isDown = false;
  const broken = await aLine(NIGHT, { isDown: () => isDown });
  const caller = await broken.ring();
  isDown = true;
  await caller.press('2');
  expect(caller.said).toMatch(/9 9 9/);
  expect(caller.verbs.map(({ name }) => name)).toContain('Dial');
  broken.stop();
});
