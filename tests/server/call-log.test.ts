/** The lead nurse's log over the running desk: what narrows it, what a re-read call shows, and marking it. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import { logAnswerSchema, logCallAnswerSchema, type LogAnswer } from '../../src/desk/contract/log.ts';
import { aDesk, DESK_NOW, type Desk } from '../support/a-desk.ts';
import { answerUntil, faultOf, get, getAs, post, startCall, turn } from '../support/desk-api.ts';

let nurse: Desk;
let lead: Desk;
let urgent: string;
let calm: string;
beforeAll(async () => {
  nurse = await aDesk('small');
  lead = nurse.as('lead-nurse');
  const first = await startCall(nurse);
  urgent = first.id;
  await turn(nurse, urgent, { kind: 'note', text: 'Speaks in "whole" sentences, <i>zephyr</i>.' });
  await turn(nurse, urgent, {
    kind: 'volunteer',
    findings: { breathless: 'yes' },
    words: 'I cannot get my breath',
    correction: null,
  });
  calm = (await answerUntil(nurse, await startCall(lead, { chosen: null }), {})).id;
});
afterAll(() => nurse.remove());

async function idsIn(query: string): Promise<readonly string[]> {
  return (await log(query)).lines.map(({ id }) => id);
}

function log(query: string): Promise<LogAnswer> {
  return getAs(lead, `/api/log?${query}`, logAnswerSchema);
}

describe('the log', () => {
  test('holds every call of the last thirty days, newest first, with who took it', async () => {
    const { lines, looked } = await log('');
    expect(looked).toBe(2);
    expect(lines.map(({ id }) => id)).toEqual([calm, urgent]);
    // flows/practice.yaml: the nurse and the lead nurse of the demo.
    expect(lines.map(({ takenBy }) => takenBy)).toEqual(['Precious Adeyinka', 'Bronagh Tully']);
    // flows/demo/people.yaml: operated on two days ago.
    expect(lines[1]?.day).toBe(2);
  });

  test.each([
    ['outcome=urgent-escalation', () => [urgent]],
    ['procedure=breast-lift', () => [urgent]],
    ['procedure=nose-surgery', () => []],
    ['day=1-3', () => [urgent]],
    ['day=4-7', () => []],
    ['by=precious-adeyinka', () => [calm]],
    ['channel=line', () => []],
    ['reviewed=yes', () => []],
    ['from=2026-03-10&to=2026-03-10', () => [calm, urgent]],
    ['from=2026-02-01&to=2026-03-09', () => []],
    ['words=ZEPHYR', () => [urgent]],
    ['words=breath%20cannot', () => [urgent]],
    ['words=zephyr%20unsaid', () => []],
  ])('narrowed by %s', async (query, expected) => {
    expect(await idsIn(query)).toEqual(expected());
  });

  test.each(['from=yesterday', 'day=often', 'outcome=fine', 'more=1', 'from=2026-02-30'])(
    'does not take %s',
    async (query) => {
      expect((await get(lead, `/api/log?${query}`)).status).toBe(400);
    },
  );

  test('says how many calls were read for words', async () => {
    expect((await log('words=zephyr')).readForWords).toBe(2);
    expect((await log('')).readForWords).toBeNull();
  });
});

describe('a call that is re-read', () => {
  test('shows every word, how the outcome moved, what was promised, and which answers would have changed it', async () => {
    const call = await getAs(lead, `/api/log/${urgent}`, logCallAnswerSchema);
    const text = call.record.sections.flatMap(({ lines }) => lines.map((line) => line.text)).join('\n');
    expect(text).toContain('I cannot get my breath');
    expect(call.moves.at(-1)?.outcome).toEqual({
      outcome: 'urgent-escalation',
      within: 'now',
      emergency: true,
    });
    expect(call.promises.map(({ kind }) => kind)).toContain('escalation');
    const breath = call.wouldHaveChanged.filter(({ instead }) => instead === 'No');
    expect(breath.map(({ outcome }) => outcome.emergency)).toEqual([false]);
  });

  test('is marked once, however often the same mark is sent, and stays marked', async () => {
    const mark = { id: newId(), comment: 'Rang 999 first: <b>right</b>.' };
    for (const comment of [mark.comment, 'other words']) {
      const response = await post(lead, `/api/log/${urgent}/reviewed`, { ...mark, comment });
      const { reviews } = logCallAnswerSchema.parse(response.body);
      expect(reviews.map((one) => [one.by, one.comment, one.at.at])).toEqual([
        ['Precious Adeyinka', mark.comment, DESK_NOW],
      ]);
    }
    expect(await idsIn('reviewed=yes')).toEqual([urgent]);
  });

  test('must exist', async () => {
    const nobody = '01980000-0000-7000-8000-00000000ffff';
    expect((await get(lead, `/api/log/${nobody}`)).status).toBe(404);
    const marked = await post(lead, `/api/log/${nobody}/reviewed`, { id: newId(), comment: '' });
    expect(faultOf(marked)).toEqual({ status: 404, code: 'not-found' });
  });
});
