/**
 * Calls recorded by each released version still read. What each holds was written down by hand when the call was
 * played: what was answered, what was told, who accepted. The files are frozen and never made anew.
 */
import { describe, expect, test } from 'vitest';
import { EVENT_VERSIONS } from '../../src/call/events.ts';
import { readRecord } from '../../src/review/read-record.ts';
import { RECORDED_CALLS, recordedCall } from '../support/recorded-calls.ts';

test('every type of event, in every version of it, stands in a recorded call', () => {
  const seen = new Set(
    RECORDED_CALLS.flatMap(({ events }) => events.map(({ type, v }) => `${type} ${String(v)}`)),
  );
  const written = Object.entries(EVENT_VERSIONS).flatMap(([type, newest]) =>
    Array.from({ length: newest }, (_, n) => `${type} ${String(n + 1)}`),
  );
  expect([...seen].toSorted()).toEqual(written.toSorted());
});

test.each(RECORDED_CALLS)('$release $name still reads', ({ events }) => {
  const view = readRecord(events);
  expect(view.conversation.length).toBeGreaterThan(2);
  expect(view.outcomes.length).toBeGreaterThan(0);
});

const valueOf = (view: ReturnType<typeof readRecord>, finding: string) =>
  view.findings.find((one) => one.finding === finding);

describe('the call that ended in a review', () => {
  const view = readRecord(recordedCall('review'));

  test('came to the desk on 2 March 2026 at 10:00 London time and ran on two scripts', () => {
    expect(view.header).toMatchObject({
      channel: 'desk',
      direction: 'patient-rang',
      zone: 'Europe/London',
      callerNumber: { said: '+447700900123' },
      procedures: ['breast-lift'],
      times: [{ day: 3, hours: null }],
      clinic: 'open',
      program: '0.1.0',
    });
    expect(new Date(view.header.startedAt).toISOString()).toMatch(/^2026-03-02T10:00:/);
    expect(view.header.scripts.map(({ flow }) => flow)).toEqual(['general', 'breast-lift']);
  });

  test("holds the first words, the note and the record's allergy", () => {
    const text = JSON.stringify(view.conversation);
    expect(text).toContain('My left side feels odd since this morning');
    expect(text).toContain('Sounds calm, her sister is with her.');
    expect(text).toContain('penicillin');
  });

  test('asked about breath twice, because the first answer was "I don\'t know"', () => {
    const breath = view.conversation.flatMap((line) =>
      'question' in line && line.question === 'breathless'
        ? [
            line.kind === 'asked'
              ? `asked, again: ${String(line.again)}`
              : line.kind === 'answered'
                ? line.value
                : '',
          ]
        : [],
    );
    expect(breath).toEqual(['asked, again: false', 'unsure', 'asked, again: true', 'no']);
  });

  test('shows the swelling corrected twice and then volunteered, and what hung on it withdrawn', () => {
    const swelling = valueOf(view, 'swelling');
    expect(swelling?.value).toBe('one-sided');
    expect(
      swelling?.history.map((change) => (change.kind === 'settled' ? change.value : change.kind)),
    ).toEqual(['one-sided', 'even', 'none', 'one-sided']);
    expect(valueOf(view, 'swelling-tense')?.history.map(({ kind }) => kind)).toEqual([
      'settled',
      'withdrawn',
      'settled',
    ]);
  });

  // Points by the fixture's rules: any swelling 2, on one side 1 more; 2 is a planned visit, 3 the next working day.
  test('moved with each correction and ended on the next working day', () => {
    expect(view.outcomes.map(({ outcome, points }) => [outcome.within, points['bleeding'] ?? 0])).toEqual([
      ['same-day', 0],
      ['none', 0],
      ['next-working-day', 3],
      ['planned-visit', 2],
      ['none', 0],
      ['next-working-day', 3],
    ]);
  });

  test('was told, promised and closed so', () => {
    expect(view.told.map(({ outcome }) => outcome.within)).toEqual(['next-working-day']);
    expect(view.told[0]?.words[0]).toBe('We will see you on the next clinic day.');
    expect(view.promises.map(({ kind, state }) => `${kind} ${state}`)).toEqual([
      'review withdrawn',
      'review open',
    ]);
    expect(view.closed).toMatchObject({
      understood: true,
      agreed: { said: 'Comes on the next clinic day; rings again if it grows.' },
    });
    expect(view.erased).toBe(false);
    expect(view.handover).toBeNull();
  });
});

describe('the call that became an emergency', () => {
  const view = readRecord(recordedCall('emergency'));

  test('keeps the calf pain that was taken back', () => {
    expect(valueOf(view, 'calf-pain')).toMatchObject({ value: 'yes', takenBackTo: 'no' });
    expect(JSON.stringify(view.conversation)).toContain('My calf is killing me');
  });

  test('was raised, lowered by a clinician who spoke to the patient, and accepted by another', () => {
    expect(view.decisions.map(({ kind, to }) => `${kind} ${to.within}`)).toEqual([
      'raised 1-hour',
      'lowering-asked same-day',
      'lowered same-day',
      'accepted now',
    ]);
    expect(view.decisions[2]).toMatchObject({ clinician: { said: 'Dr Ferreday' }, spokeToPatient: true });
    expect(view.decisions[3]).toMatchObject({ clinician: { said: 'Mr Oyelaran' } });
  });

  test('rose to an emergency again after the lowering, and was told so', () => {
    expect(view.outcomes.map(({ outcome }) => outcome.within)).toEqual([
      'same-day',
      '1-hour',
      '1-hour',
      '1-hour',
      'same-day',
      'now',
    ]);
    expect(view.told.map(({ outcome }) => outcome.emergency)).toEqual([false, true]);
    expect(view.handover?.text).toMatchObject({ said: expect.stringMatching(/^Situation: Emergency call/) });
  });

  test('left a done escalation and nothing open', () => {
    expect(view.promises.map(({ kind, state }) => `${kind} ${state}`)).toEqual([
      'escalation withdrawn',
      'review withdrawn',
      'escalation done',
      'call-back withdrawn',
    ]);
  });
});

describe('the call that broke off on the line', () => {
  const view = readRecord(recordedCall('cut-off'));

  test('is open, with a review and a call-back within five minutes', () => {
    expect(view.header.channel).toBe('line');
    expect(view.closed).toBeNull();
    expect(view.conversation.at(-1)).toMatchObject({ kind: 'cut-off', how: 'hung-up', by: 'line' });
    const [review, back] = view.promises;
    expect(review).toMatchObject({ kind: 'review', state: 'open' });
    expect(back).toMatchObject({ kind: 'call-back', state: 'open' });
    expect((back?.dueAt ?? 0) - (back?.openedAt ?? 0)).toBe(5 * 60_000);
  });
});

describe('the call that was spoken and keyed on the line', () => {
  const view = readRecord(recordedCall('line'));

  test('keeps what was heard, how, and what it was taken for', () => {
    const heard = view.conversation.filter((line) => line.kind === 'heard');
    expect(heard.map(({ how, taken }) => `${how} ${taken}`)).toEqual([
      'keys answered',
      'speech aside',
      'speech aside',
      'keys answered',
      'speech not-understood',
    ]);
    expect(heard.at(-1)?.text).toEqual({ said: 'the kettle is on' });
    expect(valueOf(view, 'chest-pain')?.value).toBe('no');
  });
});

describe('the call of an erased patient', () => {
  const events = recordedCall('erased');
  const view = readRecord(events);

  test('says at every place where words or names stood that they are erased', () => {
    expect(view.erased).toBe(true);
    expect(view.header.callerNumber).toEqual({ erased: true });
    expect(view.conversation.find(({ kind }) => kind === 'opening')).toMatchObject({
      text: { erased: true },
    });
    expect(view.conversation.find(({ kind }) => kind === 'noted')).toMatchObject({ text: { erased: true } });
    expect(view.decisions).toMatchObject([{ kind: 'accepted', clinician: { erased: true } }]);
    expect(view.handover).toMatchObject({ text: { erased: true } });
    expect(view.closed).toMatchObject({ agreed: { erased: true } });
  });

  test('still shows what was found, decided and told', () => {
    expect(valueOf(view, 'breathless')?.value).toBe('yes');
    expect(view.outcomes.at(-1)?.outcome.emergency).toBe(true);
    expect(view.told).toHaveLength(1);
  });
});

describe('the call whose clinician was paged', () => {
  const view = readRecord(recordedCall('reached'));

  test('holds every try: the first rung busy, the second rung, and accepted half a minute later', () => {
    const tries = view.reached.flatMap((line) =>
      line.kind === 'attempt' ? [[line.what, line.rung, line.staff, line.came]] : [],
    );
    expect(tries).toEqual([
      ['page', 'first', 'dr-first', 'sent'],
      ['page', 'first', 'dr-first', 'busy'],
      ['page', 'second', 'dr-second', 'sent'],
    ]);
    expect(view.decisions.map(({ kind }) => kind)).toEqual(['accepted', 'lowered']);
  });

  test('holds that the review was tried once, then booked', () => {
    const kept = view.reached.filter(({ kind }) => kind === 'promise');
    expect(kept).toMatchObject([
      { promise: 'review', result: 'not-reached', text: { said: 'No answer.' } },
      { promise: 'review', result: 'booked', text: { said: 'Today at 15:30.' } },
    ]);
  });
});

describe('the call on which the program broke', () => {
  const view = readRecord(recordedCall('broke'));

  test('holds the words that it broke on, and the call-back that was opened for it', () => {
    const broke = view.conversation.flatMap((line) => (line.kind === 'broke' ? [line.sent] : []));
    expect(JSON.stringify(broke)).toContain('My left side feels odd since this morning');
    expect(view.promises.map(({ kind, state }) => `${kind} ${state}`)).toEqual(['call-back open']);
  });

  test('went on, and was told advice', () => {
    expect(view.told.map(({ outcome }) => outcome.outcome)).toEqual(['advise']);
  });
});
