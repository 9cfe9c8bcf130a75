/** What "I don't know", a covered wound, a call that breaks off and a corrected answer mean. Source: the practice's rules. */
import { describe, expect, test } from 'vitest';
import { UNSURE_IS_URGENT } from '../../src/flow/law.ts';
import { aPractice } from '../support/a-practice.ts';

const practice = aPractice();
const DANGERS = [
  'breathless',
  'chest-pain',
  'coughing-blood',
  'face-or-tongue-swelling',
  'bleeding-heavy',
  'mottled-or-blue',
  'collapse',
  'hard-to-wake',
  'new-confusion',
  'stroke-signs',
  'fit',
];

describe('"I don\'t know"', () => {
  test('is asked a second time before it is taken as such', async () => {
    const ring = await practice.ring();
    await ring.answer('screen-breathing', 'yes');
    await ring.answer('breathless', 'unsure');
    expect(ring.question).toBe('breathless');
    expect(ring.done.standing.again).toBe(true);
    expect(ring.done.standing.context.held['breathless']).toBeUndefined();
    await ring.answer('breathless', 'unsure');
    expect(ring.done.standing.context.held['breathless']?.value).toBe('unsure');
  });

  test('is forgotten when the second answer is plain', async () => {
    const ring = await practice.ring();
    await ring.answer('screen-breathing', 'yes');
    await ring.answer('breathless', 'unsure');
    await ring.answer('breathless', 'no');
    expect(ring.question).toBe('chest-pain');
    expect(ring.done.standing.context.held['breathless']?.value).toBe('no');
  });

  // The list stands in the practice's rules; those of them that the fixture's two procedures have are asked here.
  test.each([...DANGERS, 'skin-colour', 'one-leg-swollen', 'calf-pain', 'nipple-colour'])(
    'to %s is urgent',
    async (finding) => {
      const ring = await practice.ring();
      await ring.answerAll({ [finding]: 'unsure' });
      expect(ring.rank).toBeGreaterThanOrEqual(5);
      expect(ring.done.standing.context.held[finding]?.value).toBe('unsure');
    },
  );

  test('about a hard belly is urgent where the operation was on the belly', async () => {
    const ring = await practice.ring({ operated: { procedures: ['tummy-tuck'] } });
    await ring.answerAll({ 'belly-rigid-swollen': 'unsure' });
    expect(ring.result).toBe('urgent-escalation/1-hour');
  });

  test('is urgent for the eleven named findings beside the immediate dangers, and for no others', () => {
    // Practice rule: not knowing is urgent for exactly these.
    expect([...UNSURE_IS_URGENT].toSorted()).toEqual(
      [
        'vision-change',
        'eye-pain-severe',
        'eye-bulging',
        'neck-tight-or-voice-change',
        'nipple-colour',
        'skin-colour',
        'fingers-pale-or-blue',
        'below-dressing-blue-or-numb',
        'one-leg-swollen',
        'calf-pain',
        'belly-rigid-swollen',
      ].toSorted(),
    );
  });

  test.each(['swelling-within-hours', 'swelling-tense'])(
    'to %s, another red-flag question, is looked at the same day',
    async (finding) => {
      const ring = await practice.ring();
      await ring.answerAll({ swelling: 'even', [finding]: 'unsure' });
      expect(ring.result).toBe('arrange-review/same-day');
    },
  );

  test('never counts as reassurance: an everyday call with it is a full call', async () => {
    const ring = await practice.ring();
    await ring.says({ kind: 'opening', text: 'When may I drive again?' });
    await ring.volunteers({ 'swelling-tense': 'unsure' });
    await ring.answerAll();
    expect(ring.answered).toContain('temperature');
    expect(ring.rank).toBeGreaterThan(0);
  });
});

describe('a temperature that nobody can take', () => {
  test('is asked once and goes to how hot or shivery they feel, not to unsure', async () => {
    const ring = await practice.ring();
    await ring.answerAll({ temperature: 'unsure' });
    expect(ring.answered.filter((id) => id === 'temperature')).toHaveLength(1);
    expect(ring.answered).toContain('feels-feverish');
    expect(ring.result).toBe('advise/none');
  });

  test('counts by its stand-in', async () => {
    const ring = await practice.ring();
    await ring.answerAll({ temperature: 'unsure', 'feels-feverish': 'yes' });
    expect(ring.result).toBe('arrange-review/same-day');
  });
});

describe('a covered wound', () => {
  test('on days when the plan keeps it covered skips the colour and asks what stands in for it', async () => {
    const ring = await practice.ring({ operated: { day: 3 } });
    await ring.answerAll({ 'site-covered': 'yes' });
    expect(ring.answered).not.toContain('skin-colour');
    expect(ring.answered).not.toContain('nipple-colour');
    expect(ring.answered).toContain('smell');
    expect(ring.result).toBe('advise/none');
  });

  test('a bad smell from it still counts', async () => {
    const ring = await practice.ring({ operated: { day: 3 } });
    await ring.answerAll({ 'site-covered': 'yes', smell: 'yes' });
    expect(ring.rank).toBeGreaterThan(0);
  });

  test('on the first day after the plan uncovers it, it is looked at the same day', async () => {
    const ring = await practice.ring({ operated: { day: 8 } });
    await ring.answerAll({ 'site-covered': 'yes' });
    expect(ring.result).toBe('arrange-review/same-day');
  });
});

describe('a call that breaks off', () => {
  const ringBack = async (says: () => Promise<Awaited<ReturnType<typeof practice.ring>>>) => {
    const ring = await says();
    await ring.says({ kind: 'cut-off', how: 'hung-up' });
    const promises = await practice.store.calls.promisesOf(ring.call);
    if (!promises.ok) throw new Error('The store is down');
    const back = promises.value.find(({ kind, state }) => kind === 'call-back' && state === 'open');
    return {
      ring,
      minutes:
        back === undefined || back.dueAt === null ? null : (back.dueAt - practice.clock.now()) / 60_000,
    };
  };

  test('after something worrying is rung back within 5 minutes, and what was said stands', async () => {
    const { ring, minutes } = await ringBack(async () => {
      const ring = await practice.ring();
      await ring.answerAll({}, 'temperature');
      return ring.volunteers({ redness: 'spreading' });
    });
    expect(minutes).toBe(5);
    expect(ring.rank).toBeGreaterThanOrEqual(4);
  });

  test('after an urgent answer stays urgent', async () => {
    const { ring, minutes } = await ringBack(async () => {
      const ring = await practice.ring();
      return ring.volunteers({ 'calf-pain': 'yes' });
    });
    expect(minutes).toBe(5);
    expect(ring.result).toBe('urgent-escalation/1-hour');
  });

  test('with the danger screen unfinished is rung back within 5 minutes', async () => {
    const { ring, minutes } = await ringBack(async () => {
      const ring = await practice.ring();
      return ring.answer('screen-breathing', 'no');
    });
    expect(minutes).toBe(5);
    expect(ring.rank).toBeGreaterThanOrEqual(4);
  });

  test('with a group answered yes and not opened to the end counts as worrying', async () => {
    const { ring, minutes } = await ringBack(async () => {
      const ring = await practice.ring();
      await ring.answerAll({}, 'legs-group');
      return ring.answer('legs-group', 'yes');
    });
    expect(minutes).toBe(5);
    expect(ring.reasons).toContain('cut-off-worrying');
  });

  test('with the screen finished and nothing worrying is at least a review, rung back within 20 minutes', async () => {
    const { ring, minutes } = await ringBack(async () => {
      const ring = await practice.ring();
      return ring.answerAll({}, 'temperature');
    });
    expect(minutes).toBe(20);
    expect(ring.done.standing.assessment.outcome.outcome).toBe('arrange-review');
  });

  test('without a word or a key is rung back once when the number belongs to a patient within day 84', async () => {
    const { ring, minutes } = await ringBack(() => practice.ring({ operated: { day: 84 } }));
    expect(minutes).not.toBeNull();
    expect(ring.rank).toBeGreaterThan(0);
  });

  test('without a word or a key is only logged otherwise', async () => {
    const { ring, minutes } = await ringBack(() => practice.ring({ operated: null }));
    expect(minutes).toBeNull();
    const promises = await practice.store.calls.promisesOf(ring.call);
    expect(promises).toEqual({ ok: true, value: [] });
    const late = await ringBack(() => practice.ring({ operated: { day: 85 } }));
    expect(late.minutes).toBeNull();
  });
});

describe('a corrected answer', () => {
  test('that was mis-keyed changes the answer', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ breathless: 'yes' });
    await ring.volunteers({ breathless: 'no' }, 'mis-keyed');
    expect(ring.done.standing.context.held['breathless']?.value).toBe('no');
    expect(ring.done.standing.assessment.redFlags).toEqual([]);
  });

  test('a danger that was taken back goes on counting', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ breathless: 'yes' });
    await ring.volunteers({ breathless: 'no' });
    expect(ring.result).toBe('urgent-escalation/now/emergency');
    expect(ring.done.standing.context.held['breathless']).toMatchObject({ value: 'yes', takenBackTo: 'no' });
    expect(ring.reasons).toContain('taken-back');
  });

  test('a red flag that was taken back goes on counting', async () => {
    const ring = await practice.ring();
    await ring.answerAll({ 'calf-pain': 'yes' }, 'where-now');
    await ring.answer('calf-pain', 'no', 'taken-back');
    expect(ring.result).toBe('urgent-escalation/1-hour');
  });

  test('a danger said again after it was taken back stands as said', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ breathless: 'yes' });
    await ring.volunteers({ breathless: 'no' });
    await ring.volunteers({ breathless: 'yes' });
    expect(ring.done.standing.context.held['breathless']).toMatchObject({ value: 'yes', takenBackTo: null });
  });

  test('what counts only as points may be taken back', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'scar-raised-itchy': 'yes' });
    await ring.volunteers({ 'scar-raised-itchy': 'no' });
    await ring.answerAll();
    expect(ring.result).toBe('advise/none');
  });

  test('what was asked only because of the corrected value is withdrawn, and an event says so', async () => {
    const ring = await practice.ring();
    await ring.answerAll({ swelling: 'one-sided', 'swelling-tense': 'no' });
    await ring.answer('swelling', 'none', 'mis-keyed');
    const { held } = ring.done.standing.context;
    expect(held['swelling-tense']).toBeUndefined();
    expect(held['swelling-within-hours']).toBeUndefined();
    const events = await practice.store.calls.events(ring.call);
    if (!events.ok) throw new Error('The store is down');
    const withdrawn = events.value.filter(({ type }) => type === 'finding-withdrawn');
    expect(withdrawn.map(({ open }) => open)).toEqual(
      expect.arrayContaining([expect.objectContaining({ finding: 'swelling-tense', was: 'no' })]),
    );
  });

  test('what the caller volunteered stays when the answer it hangs on is corrected', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'swelling-tense': 'yes' });
    await ring.answerAll({ swelling: 'even' });
    await ring.answer('swelling', 'none', 'mis-keyed');
    expect(ring.done.standing.context.held['swelling-tense']?.value).toBe('yes');
  });

  test('what was volunteered and then said again to a question is still volunteered', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'swelling-tense': 'no' });
    await ring.answerAll({ swelling: 'even' });
    await ring.says({ kind: 'reopen', question: 'swelling-tense' });
    await ring.answer('swelling-tense', 'no');
    await ring.answer('swelling', 'none', 'mis-keyed');
    expect(ring.done.standing.context.held['swelling-tense']?.value).toBe('no');
  });

  test('withdrawn questions are put again when the answer changes back', async () => {
    const ring = await practice.ring();
    await ring.answerAll({ swelling: 'even' });
    await ring.answer('swelling', 'none', 'mis-keyed');
    await ring.answer('swelling', 'one-sided', 'mis-keyed');
    expect(ring.question).toBe('swelling-within-hours');
  });

  test('a group that was answered no by mistake is opened again', async () => {
    const ring = await practice.ring();
    await ring.answer('screen-breathing', 'no');
    await ring.answer('screen-breathing', 'yes', 'mis-keyed');
    expect(ring.done.standing.context.held['breathless']).toBeUndefined();
    expect(ring.question).toBe('breathless');
  });

  test('the old answer stands until the re-opened question is answered', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ swelling: 'one-sided' });
    await ring.answerAll();
    const before = ring.result;
    await ring.says({ kind: 'reopen', question: 'swelling' });
    expect(ring.question).toBe('swelling');
    expect(ring.result).toBe(before);
  });
});
