/** A caller who needs an interpreter or cannot hear gets a person, whenever that shows. Source: the practice's rules. */
import { describe, expect, test } from 'vitest';
import { aPractice } from '../support/a-practice.ts';
import { realContent } from '../support/real-flows.ts';

const { library } = realContent();
const practice = aPractice({ library });

describe.each(['needs-interpreter', 'hard-to-hear'])('%s', (finding) => {
  test.each(['yes', 'unsure'])('said first as "%s" gives at least a review the same day', async (value) => {
    const ring = await practice.ring({ operated: { day: 30, procedures: ['tummy-tuck'] } });
    await ring.volunteers({ [finding]: value });
    await ring.answerAll();
    expect(ring.result).toBe('arrange-review/same-day');
  });

  test('noticed in the middle or at the end of a call counts as well', async () => {
    const ring = await practice.ring({ operated: { day: 30, procedures: ['tummy-tuck'] } });
    await ring.answerAll({}, 'opening');
    await ring.volunteers({ [finding]: 'yes' });
    expect(ring.result).toBe('arrange-review/same-day');
    const late = await practice.ring({ operated: { day: 30, procedures: ['tummy-tuck'] } });
    await late.answerAll();
    expect(late.result).toBe('advise/none');
    await late.volunteers({ [finding]: 'yes' });
    expect(late.result).toBe('arrange-review/same-day');
  });

  test('counts before anybody knows which operation it was', async () => {
    const ring = await practice.ring({ operated: null });
    await ring.volunteers({ [finding]: 'yes' });
    expect(ring.rank).toBeGreaterThan(0);
  });

  test('does not hide a danger', async () => {
    const ring = await practice.ring({ operated: { day: 30, procedures: ['tummy-tuck'] } });
    await ring.volunteers({ [finding]: 'yes', 'chest-pain': 'yes' });
    expect(ring.result).toBe('urgent-escalation/now/emergency');
  });
});

test('no child interprets danger questions, which the nurse reads with the question', () => {
  const question = library.general.flow.questions.find(({ id }) => id === 'needs-interpreter');
  expect(question?.why).toMatch(/no child/);
});
