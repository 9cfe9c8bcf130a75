/** Rules on the order of a call, played through the one door. Source: the practice's rules. */
import { describe, expect, test } from 'vitest';
import { aPractice, libraryWith } from '../support/a-practice.ts';
import { NUMBER } from '../support/a-ring.ts';
import { readText } from '../support/project-files.ts';

const practice = aPractice();
const SCREEN = ['screen-breathing', 'screen-swelling-or-bleeding', 'screen-awake', 'screen-stroke-or-fit'];

describe('the danger screen', () => {
  test('comes before everything else, in four groups of at most three', async () => {
    const ring = await practice.ring();
    await ring.answerAll({}, 'identity');
    expect(ring.answered).toEqual(SCREEN);
    const { questions } = practice.library.general.flow;
    const groups = questions.filter(({ kind, tier }) => kind === 'group' && tier === 'screen');
    expect(groups.map(({ findings }) => findings.length)).toEqual([3, 3, 3, 2]);
  });

  test('a no to the whole group settles each danger in it as no', async () => {
    const ring = await practice.ring();
    await ring.answer('screen-breathing', 'no');
    const { held } = ring.done.standing.context;
    expect(held['breathless']?.value).toBe('no');
    expect(held['chest-pain']?.value).toBe('no');
    expect(held['coughing-blood']?.value).toBe('no');
    expect(ring.question).toBe('screen-swelling-or-bleeding');
  });

  test.each(['yes', 'unsure'])('"%s" to a group settles nothing and opens it one by one', async (value) => {
    const ring = await practice.ring();
    await ring.answer('screen-breathing', value);
    expect(ring.done.standing.context.held).toEqual({});
    await ring.answerAll({ breathless: 'no' }, 'screen-swelling-or-bleeding');
    expect(ring.answered).toEqual(['breathless', 'chest-pain', 'coughing-blood']);
    expect(ring.done.standing.context.held['chest-pain']?.value).toBe('no');
  });

  test('what the caller said of a group before stays when the group is answered no', async () => {
    const ring = await practice.ring();
    await ring.volunteers({ 'coughing-blood': 'yes' });
    await ring.answerAll();
    expect(ring.done.standing.context.held['coughing-blood']?.value).toBe('yes');
    expect(ring.result).toBe('urgent-escalation/now/emergency');
  });

  test('self-harm is in no group; a mood question is on every full call and low mood asks for it alone', async () => {
    const { questions } = practice.library.flowFor(['breast-lift']).flow;
    const grouped = questions.filter(({ kind }) => kind === 'group').flatMap(({ findings }) => findings);
    expect(grouped).not.toContain('self-harm-thoughts');
    const calm = await practice.ring();
    await calm.answerAll();
    expect(calm.answered).toContain('low-mood');
    expect(calm.answered).not.toContain('self-harm-thoughts');
    const low = await practice.ring();
    await low.answerAll({ 'low-mood': 'yes' });
    expect(low.answered).toContain('self-harm-thoughts');
  });
});

describe('the number to ring back', () => {
  test('is the second turn when the telephone withholds it', async () => {
    const ring = await practice.ring({ number: null });
    await ring.answerNext();
    expect(ring.question).toBe('call-back-number');
  });

  test('is filled in from the telephone and then not asked', async () => {
    const ring = await practice.ring();
    await ring.answerAll();
    expect(ring.answered).not.toContain('call-back-number');
    expect(ring.done.standing.context.facts['call-back-number']).toBe(NUMBER);
  });

  test('is still the second turn when a danger was heard first', async () => {
    const ring = await practice.ring({ number: null });
    await ring.volunteers({ breathless: 'yes' });
    expect(ring.question).toBe('call-back-number');
  });
});

describe('who calls', () => {
  test('is asked after the danger screen, and one open question comes before any closed one on the operation', async () => {
    const ring = await practice.ring();
    await ring.answerAll();
    const order = ['screen-stroke-or-fit', 'identity', 'opening', 'legs-group'].map((id) =>
      ring.answered.includes(id) ? ring.answered.indexOf(id) : ring.answered.length,
    );
    expect(order).toEqual(order.toSorted((a, b) => a - b));
    expect(ring.answered.indexOf('opening')).toBeLessThan(ring.answered.indexOf('swelling'));
  });

  test('the first words are kept as said and the open question is not put again', async () => {
    const ring = await practice.ring();
    await ring.says({ kind: 'opening', text: 'It is swollen on one side' });
    await ring.answerAll();
    expect(ring.answered).not.toContain('opening');
    expect(ring.answered).not.toContain('swelling');
    expect(ring.done.standing.context.opening).toBe('It is swollen on one side');
  });
});

describe('at the first danger answered yes or unsure', () => {
  test('where the patient is and who is there are asked next', async () => {
    const ring = await practice.ring();
    await ring.answer('screen-breathing', 'yes');
    await ring.answer('breathless', 'unsure');
    await ring.answer('breathless', 'unsure');
    expect(ring.question).toBe('where-now');
    await ring.answerNext();
    expect(ring.question).toBe('who-with-you');
  });
});

describe('how many questions', () => {
  test('a call in which nothing is wrong takes at most 14 with the screen', async () => {
    const ring = await practice.ring({ number: null });
    await ring.answerAll();
    expect(ring.result).toBe('advise/none');
    expect(ring.answered.length).toBeLessThanOrEqual(14);
    expect(new Set(ring.answered).size).toBe(ring.answered.length);
  });

  test('an everyday question takes the screen, the danger set of the day and the answer: at most 8', async () => {
    const ring = await practice.ring();
    await ring.says({ kind: 'opening', text: 'When may I drive again?' });
    await ring.answerAll();
    expect(ring.result).toBe('advise/none');
    expect(ring.answered).toHaveLength(8);
    expect(ring.answered).toEqual([...SCREEN, 'identity', 'nipple-colour', 'legs-group', 'skin-colour']);
  });

  test('an everyday question with anything worrying beside it is a full call', async () => {
    const ring = await practice.ring();
    await ring.says({ kind: 'opening', text: 'When may I drive again?' });
    await ring.volunteers({ swelling: 'even' });
    await ring.answerAll();
    expect(ring.answered).toEqual(expect.arrayContaining(['temperature', 'low-mood']));
  });

  test('after 40 the asking ends: at least a review the same day, because too much is unknown', async () => {
    const long = aPractice({ library: longLibrary() });
    const ring = await long.ring({ operated: { procedures: ['long'] } });
    await ring.answerAll();
    expect(ring.answered).toHaveLength(40);
    expect(ring.done.standing.at).toBe('outcome');
    expect(ring.result).toBe('arrange-review/same-day');
    expect(ring.reasons).toContain('too-much-unknown');
  });

  test('a danger heard at the limit is still an emergency with its own few questions', async () => {
    const long = aPractice({ library: longLibrary() });
    const ring = await long.ring({ operated: { procedures: ['long'] } });
    await ring.answerAll();
    await ring.volunteers({ breathless: 'yes' });
    expect(ring.result).toBe('urgent-escalation/now/emergency');
    expect(ring.question).toBe('where-now');
  });
});

/** The same flows with one more, which likes to know 45 further things. */
function longLibrary() {
  const names = Array.from({ length: 45 }, (_, n) => `thing-${String(n)}`);
  const below = 'findings.yaml';
  const written = readText(`tests/fixtures/flows-rules/${below}`);
  const vocabulary = written.replace('procedures: [', 'procedures: [long, ');
  const more = `many:\n${names.map((name) => `  ${name}: { kind: yes-no }\n`).join('')}`;
  const questions = names.map((name) => ({
    id: name,
    finding: name,
    ask: 'likely',
    words: 'And this?',
    spoken: 'And this?',
    why: 'Only to be many.',
    unsure: 'Not known.',
  }));
  const script = {
    procedure: 'long',
    title: 'Long',
    called: [],
    topics: { 'danger-screen': '0-365', handover: '0-365' },
    questions,
    rules: [],
    'safety-net': [{ days: '0-365', say: 'Ring.' }],
    normal: [{ days: '0-365', say: 'Usual.' }],
    aftercare: {},
  };
  return libraryWith([
    { file: below, below, text: `${vocabulary}\n${more}` },
    { file: 'long.yaml', below: 'procedures/long.yaml', text: JSON.stringify(script) },
  ]);
}
