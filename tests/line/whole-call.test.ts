/** Whole calls over the real webhooks: by keys, by speech, urgent and calm. */
import { afterAll, describe, expect, test } from 'vitest';
import { aLine, NIGHT, type Caller } from './a-line.ts';

const line = await aLine(NIGHT);
afterAll(() => line.stop());

/** Answers every question with no, as somebody does who is well. */
async function saysNo(caller: Caller, most = 40): Promise<Caller> {
  for (let n = 0; n < most && caller.gather !== null && caller.step !== 'said-back'; n += 1) {
    if (caller.step === 'operation') await caller.says('a tummy tuck five days ago');
    else if (caller.asked === 'opening') await caller.says('just checking in');
    else if (caller.asked === 'temperature') await caller.press('368');
    else await caller.press('2');
  }
  return caller;
}

describe('the first words', () => {
  test('are a demonstration, the emergency number and a machine with a clinician behind it', async () => {
    const caller = await line.ring();
    expect(caller.said).toMatch(/demonstration.*dial 9 9 9.*machine.*doctor/s);
    expect(caller.asked).toBe('screen-breath-or-chest');
  });
});

describe('a call in which nothing is wrong', () => {
  test('ends in advice that is said back, and is closed', async () => {
    const caller = await saysNo(await line.ring());
    expect((await caller.standing()).assessment.outcome.outcome).toBe('advise');
    await caller.press('1');
    expect(caller.said).toMatch(/9 9 9/);
    expect(caller.verbs.at(-1)?.name).toBe('Hangup');
    expect((await caller.standing()).at).toBe('closed');
    // The machine never ends alone: a nurse rings by 10:00 on the next open day, here the same Wednesday.
    const [check] = (await caller.promises()).filter(
      ({ kind, state }) => kind === 'call-back' && state === 'open',
    );
    expect(new Date(check?.dueAt ?? 0).toISOString()).toBe('2026-03-11T10:00:00.000Z');
  });
});

describe('an immediate danger', () => {
  test('is answered with what to do within two turns', async () => {
    const caller = await line.ring();
    await caller.press('1');
    await caller.press('1');
    expect(caller.said).toMatch(/9 9 9/);
    expect((await caller.standing()).context.told?.emergency).toBe(true);
  });

  test('said in words is answered at once', async () => {
    const caller = await line.ring();
    await caller.says('I cannot breathe', '0.2');
    expect(caller.said).toMatch(/9 9 9/);
  });
});

describe('0', () => {
  test('rings the first clinician, the next, and the last, and then says what to do', async () => {
    const caller = await line.ring();
    await caller.press('0');
    const rung: string[] = [];
    while (caller.dial !== null) {
      rung.push(caller.dial.children[0]?.text ?? '');
      await caller.send(caller.action, { DialCallStatus: 'no-answer', DialBridged: 'false' });
    }
    // Tuesday's duty, from practice.yaml: Osei-Lund, Carrow, Farrant.
    expect(rung).toEqual(['+447700900712', '+447700900713', '+447700900721']);
    expect(caller.said).toMatch(/Saltmere General Hospital/);
    expect((await caller.promises()).map(({ kind, state }) => `${kind} ${state}`)).toContain(
      'escalation open',
    );
  });
});
