/** What is still asked after a red flag, and what is handed over. Source: the practice's rules. */
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { writeHandover, handoverText } from '../../src/call/handover.ts';
import { wordCount } from '../../src/call/advice.ts';
import { newId, type OperationId, type PatientId } from '../../src/basics/ids.ts';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import { aPractice } from '../support/a-practice.ts';
import type { Ring } from '../support/a-ring.ts';

const practice = aPractice();

function handoverOf(
  ring: Ring,
  people = { patient: aPatient(), operation: anOperation(newId<PatientId>()) },
) {
  const { runner, standing } = ring.done;
  return handoverText(writeHandover(runner.compiled.flow, standing, people));
}

async function written(ring: Ring): Promise<readonly string[]> {
  const events = await practice.store.calls.events(ring.call);
  if (!events.ok) throw new Error('The store is down');
  return events.value.flatMap(({ type, sealed }) =>
    type === 'handover-written' ? [z.object({ text: z.string() }).parse(sealed).text] : [],
  );
}

describe('an emergency', () => {
  test('ends the asking: then only where, who is there, and whether they can ring themselves', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'stroke-signs': 'yes' });
    await ring.answerAll();
    expect(ring.answered).toEqual(['where-now', 'who-with-you', 'can-ring-yourself']);
    expect(ring.done.standing.at).toBe('outcome');
  });

  test('asks for the number first when it is not known', async () => {
    const ring = await practice.ring({ number: null });
    await ring.volunteers({ 'stroke-signs': 'yes' });
    await ring.answerAll();
    expect(ring.answered[0]).toBe('call-back-number');
    expect(ring.answered).toHaveLength(4);
  });

  test('says the emergency words twice', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'stroke-signs': 'yes' });
    await ring.says({ kind: 'tell' });
    const events = await practice.store.calls.events(ring.call);
    if (!events.ok) throw new Error('The store is down');
    const told = events.value.find(({ type }) => type === 'told')?.open;
    const { emergency } = ring.done.runner.compiled.flow.words;
    expect(JSON.stringify(told).split(emergency)).toHaveLength(3);
  });

  test('is called back within 10 minutes', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'stroke-signs': 'yes' });
    const back = ring.done.standing.context.promises['call-back'];
    expect(back?.dueAt).toBe(practice.clock.now() + 10 * 60_000);
  });
});

describe('an outcome within the hour', () => {
  test('finishes only what could still make it an emergency, then asks at most six things to hand over', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'calf-pain': 'yes' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
    await ring.answerAll();
    const handover = [
      'where-now',
      'who-with-you',
      'last-food-drink',
      'can-travel',
      'allergies',
      'blood-thinner',
    ];
    expect(ring.answered.slice(-6)).toEqual(handover);
    const raising = ring.answered.slice(0, -6);
    expect(raising).toEqual(
      expect.arrayContaining(['screen-breathing', 'screen-swelling-or-bleeding', 'screen-awake']),
    );
    // None of these can make it an emergency on this script.
    for (const mild of ['swelling', 'low-mood', 'opening']) expect(raising).not.toContain(mild);
  });

  test('becomes an emergency when such a question finds one', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'calf-pain': 'yes' });
    await ring.answerAll({ breathless: 'yes' });
    expect(ring.result).toBe('urgent-escalation/now/emergency');
    expect(ring.done.standing.assessment.redFlags).toContain('legs-and-chest');
  });
});

describe('every red flag', () => {
  test('says one to three things to do until seen', () => {
    const flows = [
      practice.library.general,
      ...practice.library.procedures.map((id) => practice.library.flowFor([id])),
    ];
    const flags = flows.flatMap(({ flow }) =>
      flow.rules.flatMap(({ effect }) => (effect.kind === 'red-flag' ? [effect.untilSeen.length] : [])),
    );
    expect(flags.length).toBeGreaterThan(50);
    expect(flags.filter((length) => length < 1 || length > 3)).toEqual([]);
  });
});

describe('the handover', () => {
  test('stands in the order situation, background, assessment, recommendation, urgency first', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'calf-pain': 'yes' });
    await ring.answerAll();
    const text = handoverOf(ring);
    expect(text).toMatch(
      /^Situation: Urgent call, needed within the hour\..*\nBackground: .*\nAssessment: .*\nRecommendation: .*$/,
    );
  });

  test("says what is yes, what is not known, the numbers, what was denied, and the caller's words", async () => {
    const ring = await practice.ring();
    await ring.says({ kind: 'opening', text: 'My leg aches and I feel odd' });
    await ring.volunteers({ 'chest-pain': 'yes', fit: 'unsure', 'heart-rate': 112, 'calf-pain': 'yes' });
    await ring.volunteers({ 'chest-pain': 'no' });
    const text = handoverOf(ring);
    for (const part of [
      'My leg aches and I feel odd',
      'Danger, yes: new pain inside the chest',
      'Not known: a fit',
      'heart rate 112',
      'Said, then denied: new pain inside the chest',
      'NEWS2 by telephone at least 2',
      'Patient is at: not known',
    ]) {
      expect(text).toContain(part);
    }
  });

  test('has at most 150 words however much was said, and never loses a danger', async () => {
    const ring = await practice.ring({ number: null });
    const long = 'I was on the sofa and then it all began again like before '.repeat(60);
    await ring.says({ kind: 'opening', text: long });
    await ring.volunteers({ fit: 'yes', 'stroke-signs': 'unsure', 'calf-pain': 'yes', 'heart-rate': 112 });
    await ring.says({ kind: 'fact', question: 'call-back-number', text: '+447700900123' });
    for (const question of ['where-now', 'who-with-you', 'can-ring-yourself']) {
      await ring.says({ kind: 'fact', question, text: long });
    }
    const patient = aPatient({
      allergies: Array.from({ length: 40 }, (_, n) => `medicine number ${String(n)}`),
    });
    const operation = anOperation(patient.id, { bloodThinner: long });
    const text = handoverOf(ring, { patient, operation });
    expect(wordCount(text)).toBeLessThanOrEqual(150);
    expect(text).toContain('Danger, yes: a fit');
    expect(text).toContain('Not known: a dropped face');
    expect(text).toContain('I was on the sofa');
    expect(text).toContain('Please take over now');
  });

  test('names the blood thinner of the record, and what the caller says against it', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'calf-pain': 'yes', 'blood-thinner': 'yes' });
    const patient = aPatient();
    const id = newId<OperationId>();
    const named = anOperation(patient.id, { id, bloodThinner: 'warfarin' });
    const none = anOperation(patient.id, { id, bloodThinner: '' });
    expect(handoverOf(ring, { patient, operation: named })).toContain('blood thinner: warfarin');
    expect(handoverOf(ring, { patient, operation: none })).toContain('blood thinner: yes, says the caller');
  });

  test('is written when the outcome becomes urgent and again when it is told and accepted', async () => {
    const ring = await practice.ring();
    await ring.answerAll({}, 'legs-group');
    expect(await written(ring)).toHaveLength(0);
    await ring.answerAll({ 'calf-pain': 'yes' }, 'where-now');
    expect(await written(ring)).toHaveLength(1);
    await ring.says({ kind: 'tell' });
    expect((await written(ring)).at(-1)).not.toContain('Nothing told yet');
    await ring.says({ kind: 'accept', clinician: 'Dr Ferreday' });
    expect(await written(ring)).toHaveLength(3);
  });

  test('does not claim that the emergency words were said before they were', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ fit: 'yes' });
    expect(handoverOf(ring)).toContain('is still to be told to ring');
    await ring.says({ kind: 'tell' });
    expect(handoverOf(ring)).toContain('was told to ring');
  });
});
