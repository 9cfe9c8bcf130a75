/** How a call is scored: days, early warning score, repeated contacts, other voices, several operations. */
import { describe, expect, test } from 'vitest';
import type { EarlierCall } from '../../src/call/circumstances.ts';
import { aPractice } from '../support/a-practice.ts';
import type { Says } from '../support/a-ring.ts';

const practice = aPractice();

async function resultOn(day: number, says: Says, procedures: readonly string[] = ['breast-lift']) {
  const ring = await practice.ring({ operated: { day, procedures } });
  await ring.volunteers(says);
  await ring.answerAll(says);
  return ring.result;
}

describe('day windows', () => {
  // Practice rule: one sore or swollen leg is urgent on days 0 to 84, a review the same day after that (NICE NG158).
  test.each([
    [0, 'urgent-escalation/1-hour'],
    [84, 'urgent-escalation/1-hour'],
    [85, 'arrange-review/same-day'],
    [365, 'arrange-review/same-day'],
  ])('a sore calf on day %i is %s', async (day, result) => {
    expect(await resultOn(day, { 'calf-pain': 'yes' })).toBe(result);
  });

  test('a sore calf with a breathing or chest danger is an emergency', async () => {
    expect(await resultOn(10, { 'calf-pain': 'yes', 'chest-pain': 'yes' })).toBe(
      'urgent-escalation/now/emergency',
    );
  });

  // Practice rule: swelling that came within hours is urgent on days 0 to 14, a review the same day after that.
  test.each([
    [14, 'urgent-escalation/1-hour'],
    [15, 'arrange-review/same-day'],
  ])('swelling that came within hours on day %i is %s', async (day, result) => {
    expect(await resultOn(day, { swelling: 'even', 'swelling-within-hours': 'yes' })).toBe(result);
  });

  test('an immediate danger has no window', async () => {
    expect(await resultOn(365, { 'stroke-signs': 'yes' })).toBe('urgent-escalation/now/emergency');
  });

  test('a red flag outside its days counts nothing only where its rule says why it is harmless there', async () => {
    expect(await resultOn(6, { 'fluid-shifts': 'yes' })).toBe('urgent-escalation/1-hour');
    expect(await resultOn(7, { 'fluid-shifts': 'yes' })).toBe('advise/none');
    const flags = practice.library
      .flowFor(['breast-lift'])
      .flow.rules.flatMap(({ id, effect }) =>
        effect.kind === 'red-flag' && effect.harmlessOutside !== null ? [id] : [],
      );
    expect(flags).toEqual(['fluid-early']);
  });

  test('an unknown day counts as inside every window', async () => {
    const ring = await practice.ring({ operated: { day: null } });
    await ring.volunteers({ 'calf-pain': 'yes' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
  });
});

// Points: Royal College of Physicians, NEWS2, 2017, chart 1. Thresholds: practice rule.
describe('the early warning score only raises', () => {
  test.each([
    ['4: breathing 22, pulse 115', { 'respiratory-rate': 22, 'heart-rate': 115 }, 'advise/none'],
    [
      '5: breathing 22, pulse 115, pressure 105',
      { 'respiratory-rate': 22, 'heart-rate': 115, 'systolic-pressure': 105 },
      'urgent-escalation/1-hour',
    ],
    [
      '6: breathing 22, pulse 115, pressure 95',
      { 'respiratory-rate': 22, 'heart-rate': 115, 'systolic-pressure': 95 },
      'urgent-escalation/1-hour',
    ],
    [
      '7: breathing 22, pulse 115, pressure 95, oxygen 95',
      { 'respiratory-rate': 22, 'heart-rate': 115, 'systolic-pressure': 95, 'oxygen-saturation': 95 },
      'urgent-escalation/now/emergency',
    ],
    [
      '5 while an infection is suspected',
      { 'respiratory-rate': 22, 'heart-rate': 115, 'systolic-pressure': 105, redness: 'spreading' },
      'urgent-escalation/now/emergency',
    ],
    [
      '5 while getting worse',
      { 'respiratory-rate': 22, 'heart-rate': 115, 'systolic-pressure': 105, 'getting-worse': 'yes' },
      'urgent-escalation/now/emergency',
    ],
    ['a single 3: oxygen 91', { 'oxygen-saturation': 91 }, 'urgent-escalation/1-hour'],
    ['a single 3: pulse 40', { 'heart-rate': 40 }, 'urgent-escalation/1-hour'],
  ])('%s', async (_what, says, result) => {
    expect(await resultOn(2, says)).toBe(result);
  });

  test('a reassuring score lowers nothing', async () => {
    const calm = {
      'respiratory-rate': 16,
      'heart-rate': 70,
      'systolic-pressure': 120,
      'oxygen-saturation': 98,
    };
    expect(await resultOn(2, { 'calf-pain': 'yes', ...calm })).toBe('urgent-escalation/1-hour');
  });

  test('a number that was not given was not measured', async () => {
    const ring = await practice.ring();
    await ring.answerAll();
    expect(ring.done.standing.context.held['heart-rate']).toBeUndefined();
  });
});

describe('several contacts within 72 hours', () => {
  const earlier = (changes: Partial<EarlierCall> = {}): EarlierCall => ({
    hoursAgo: 10,
    outcome: 'advise',
    about: 'bleeding',
    kind: 'worried',
    ...changes,
  });

  async function resultAfter(earlierCalls: readonly EarlierCall[], says: Says) {
    const ring = await practice.ring({ operated: { day: 3, earlierCalls } });
    await ring.volunteers(says);
    await ring.answerAll(says);
    return ring.result;
  }

  test('the second about another problem is at least a review', async () => {
    expect(await resultAfter([earlier()], {})).toBe('arrange-review/planned-visit');
  });

  // Practice rule: planned visit, next working day, next day, same day, urgent.
  test.each<[Says, string]>([
    [{ swelling: 'even' }, 'arrange-review/next-working-day'],
    [{ swelling: 'one-sided' }, 'arrange-review/next-day'],
  ])('the second about the same problem is one step sooner: %j', async (says, result) => {
    expect(await resultAfter([earlier()], says)).toBe(result);
  });

  test('from the same day the next step is urgent', async () => {
    const before = [earlier({ about: 'infection' })];
    expect(await resultAfter(before, { redness: 'spreading' })).toBe('urgent-escalation/1-hour');
  });

  test('the second about another problem leaves this problem where it scores alone', async () => {
    const before = [earlier({ about: 'mood' })];
    expect(await resultAfter(before, { swelling: 'one-sided' })).toBe('arrange-review/next-working-day');
  });

  test('the third about the same problem is urgent', async () => {
    const before = [earlier(), earlier({ hoursAgo: 50 })];
    expect(await resultAfter(before, { swelling: 'even' })).toBe('urgent-escalation/1-hour');
  });

  test('the third about different problems is not urgent by that', async () => {
    const before = [earlier(), earlier({ about: 'mood' })];
    expect(await resultAfter(before, { swelling: 'even' })).toBe('arrange-review/next-working-day');
  });

  test('an earlier problem that is not known is taken as the same', async () => {
    const before = [earlier({ about: null })];
    expect(await resultAfter(before, { swelling: 'even' })).toBe('arrange-review/next-working-day');
  });

  test('72 hours ago counts and a minute more does not', async () => {
    expect(await resultAfter([earlier({ hoursAgo: 72 })], {})).toBe('arrange-review/planned-visit');
    expect(await resultAfter([earlier({ hoursAgo: 72.02 })], {})).toBe('advise/none');
  });

  test.each(['asked-by-practice', 'cut-off', 'everyday'] as const)(
    'one that was %s is not counted',
    async (kind) => {
      expect(await resultAfter([earlier({ kind }), earlier({ kind })], { swelling: 'even' })).toBe(
        'arrange-review/planned-visit',
      );
    },
  );

  test('an everyday question is no further contact', async () => {
    expect(await resultAfter([earlier()], { 'asks-driving': 'yes' })).toBe('advise/none');
  });
});

describe('someone else on the telephone', () => {
  async function resultFor(says: Says) {
    const ring = await practice.ring();
    await ring.volunteers({ 'caller-is': 'relative-or-friend' });
    await ring.answerAll(says);
    return ring;
  }

  test('is asked whether the patient is there and can be heard', async () => {
    const ring = await resultFor({});
    expect(ring.answered).toEqual(expect.arrayContaining(['patient-beside-caller', 'patient-voice']));
  });

  test('does not get advice in place of the patient', async () => {
    expect((await resultFor({})).result).toBe('arrange-review/same-day');
  });

  test("when the patient comes to the telephone, the call is the patient's own", async () => {
    expect((await resultFor({ 'patient-voice': 'comes-to-phone' })).result).toBe('advise/none');
  });

  test('a patient who cannot be woken is an emergency, one who cannot speak is urgent', async () => {
    expect((await resultFor({ 'patient-voice': 'cannot-be-woken' })).result).toBe(
      'urgent-escalation/now/emergency',
    );
    expect((await resultFor({ 'patient-voice': 'cannot-speak' })).result).toBe('urgent-escalation/1-hour');
  });

  test('a patient who is not there is rung within 20 minutes', async () => {
    const ring = await resultFor({ 'patient-beside-caller': 'no' });
    expect(ring.result).toBe('arrange-review/same-day');
    const back = ring.done.standing.context.promises['call-back'];
    expect(back?.dueAt).toBe(practice.clock.now() + 20 * 60_000);
  });

  test('a very worried caller gets at least a review the same day', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'caller-very-worried': 'yes' });
    await ring.answerAll();
    expect(ring.result).toBe('arrange-review/same-day');
  });
});

describe('more than one date or operation', () => {
  test('two dates that disagree are both scored and the worse counts', async () => {
    const late = { day: 100, hours: null };
    const early = { day: 80, hours: null };
    for (const times of [
      [late, early],
      [early, late],
    ]) {
      const ring = await practice.ring({ operated: { times } });
      await ring.volunteers({ 'calf-pain': 'yes' });
      expect(ring.result).toBe('urgent-escalation/1-hour');
    }
  });

  test('several procedures in one operation: each danger once, and the red flags of both', async () => {
    const procedures = ['tummy-tuck', 'breast-lift'];
    const ring = await practice.ring({ operated: { day: 9, procedures } });
    await ring.answerAll();
    expect(ring.done.runner.compiled.flow.id).toBe('breast-lift+tummy-tuck');
    expect(new Set(ring.answered).size).toBe(ring.answered.length);
    expect(ring.answered).toEqual(expect.arrayContaining(['nipple-colour', 'belly-rigid-swollen']));
    expect(await resultOn(9, { 'nipple-colour': 'dusky' }, procedures)).toBe('urgent-escalation/1-hour');
    expect(await resultOn(9, { 'belly-rigid-swollen': 'yes' }, procedures)).toBe('urgent-escalation/1-hour');
  });

  test('the stricter of two plans for the dressing counts', async () => {
    // The breast lift uncovers on day 8, the tummy tuck on day 15: the earlier look is the stricter one.
    const procedures = ['tummy-tuck', 'breast-lift'];
    expect(await resultOn(9, { 'site-covered': 'yes' }, procedures)).toBe('arrange-review/same-day');
    expect(await resultOn(9, { 'site-covered': 'yes' }, ['tummy-tuck'])).toBe('advise/none');
  });
});
