/** A record reads the same whatever became of scripts and rules since, and what it shows cannot steer a terminal. */
import { describe, expect, test } from 'vitest';
import type { StoredEvent } from '../../src/call/call-store.ts';
import { readRecord } from '../../src/review/read-record.ts';
import { recordText } from '../../src/review/record-text.ts';
import { aPractice } from '../support/a-practice.ts';
import type { Ring } from '../support/a-ring.ts';
import { randomCall } from '../support/random-call.ts';
import { recordedCall } from '../support/recorded-calls.ts';
import { seeded } from '../support/seeded.ts';

const practice = aPractice();
const LONDON = 'Europe/London';

async function eventsOf(ring: Ring): Promise<readonly StoredEvent[]> {
  const events = await practice.store.calls.events(ring.call);
  if (!events.ok) throw new Error('The store is down');
  return events.value;
}

describe('the record of a call that really ran', () => {
  test('ends on the outcome, the findings and the floor that the call itself ended on', async () => {
    for (let seed = 0; seed < 25; seed += 1) {
      const ring = await randomCall(practice, seeded(seed), 25);
      const view = readRecord(await eventsOf(ring));
      // A note brings back where the call stands now, whatever it refused before.
      await ring.says({ kind: 'note', text: 'Read again.' });
      const { assessment, context } = ring.done.standing;
      expect(view.outcomes.at(-1)?.outcome, `seed ${String(seed)}`).toEqual(assessment.outcome);
      const standing = view.findings.flatMap(({ finding, value }) =>
        value === null ? [] : [[finding, value]],
      );
      const held = Object.entries(context.held).map(([finding, { value }]) => [finding, value]);
      expect(standing.toSorted(), `seed ${String(seed)}`).toEqual(held.toSorted());
      const open = view.promises.filter(({ state }) => state !== 'withdrawn').map(({ id }) => id);
      const made = Object.values(context.promises).map(({ id }) => id);
      expect(open, `seed ${String(seed)}`).toEqual(expect.arrayContaining(made));
    }
  });

  test('shows each question in the words in which it was asked', async () => {
    const ring = await practice.ring();
    await ring.answer('screen-breathing', 'no');
    const view = readRecord(await eventsOf(ring));
    const asked = view.conversation.flatMap((line) => (line.kind === 'asked' ? [line.words] : []));
    const { questions } = practice.library.flowFor(['breast-lift']).flow;
    expect(asked).toEqual(
      ['screen-breathing', 'screen-swelling-or-bleeding'].map(
        (id) => questions.find((question) => question.id === id)?.words,
      ),
    );
  });

  test('on the line shows the words that the line speaks', async () => {
    const ring = await practice.ring({ by: 'line' });
    const view = readRecord(await eventsOf(ring));
    const { questions } = practice.library.general.flow;
    expect(view.conversation[0]).toMatchObject({ kind: 'asked', words: questions[0]?.spoken });
  });
});

describe('events that no release wrote', () => {
  const events = recordedCall('cut-off');
  const changed = (change: Partial<StoredEvent>): readonly StoredEvent[] =>
    events.map((event) => (event.seq === 4 ? { ...event, ...change } : event));

  test.each([
    ['another type', { type: 'guessed' }],
    ['a later version', { v: 99 }],
    ['another shape', { open: { question: 7 } }],
  ] satisfies readonly [string, Partial<StoredEvent>][])('are not guessed at: %s', (_what, change) => {
    expect(() => readRecord(changed(change))).toThrow();
  });

  test('nor is a call without its beginning', () => {
    expect(() => readRecord(events.slice(1))).toThrow();
  });
});

describe('the record as text', () => {
  test('has every section, in order, also where there is nothing to say', () => {
    const text = recordText(readRecord(recordedCall('cut-off')), LONDON);
    const titles = [
      'What was said',
      'What stands, and how it came',
      'How the outcome moved',
      'What the caller was told',
      'Handover',
      'Raised, lowered, accepted',
      'Promised',
      'Closed',
    ];
    const at = titles.map((title) => text.split('\n').indexOf(title));
    expect(at.every((line) => line > 0)).toBe(true);
    expect(at).toEqual(at.toSorted((a, b) => a - b));
    expect(text).toContain('Closed\n  none');
  });

  test('shows times in the zone that is asked for', () => {
    const view = readRecord(recordedCall('review'));
    expect(recordText(view, LONDON)).toContain('Started: 2026-03-02 10:00 (Europe/London)');
    // Sydney is 11 hours ahead of London in March (IANA time zone database).
    expect(recordText(view, 'Australia/Sydney')).toContain('Started: 2026-03-02 21:00 (Australia/Sydney)');
  });

  test('says "erased", and nothing of what was', () => {
    const text = recordText(readRecord(recordedCall('erased')), LONDON);
    expect(text).toContain('first words: erased');
    expect(text).toContain("Caller's number: erased");
    expect(text).toContain('agreed: erased');
  });

  test('holds no sign that could steer a terminal or turn the writing round', async () => {
    const ring = await practice.ring();
    const hostile = 'pain \u001b[2J\u001b]0;x\u0007 \u202egnp\u2028 \u0000 end';
    await ring.says({ kind: 'opening', text: hostile });
    await ring.says({ kind: 'note', text: hostile });
    await ring.says({
      kind: 'raise',
      to: { outcome: 'urgent-escalation', within: '1-hour', emergency: false },
      why: hostile,
    });
    const text = recordText(readRecord(await eventsOf(ring)), LONDON);
    // Control and format characters, line and paragraph separators (Unicode general categories Cc, Cf, Zl, Zp).
    expect(text.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/u);
    expect(text).toContain('first words: "pain');
  });
});
