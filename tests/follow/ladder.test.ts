/**
 * Sources: the practice's own paging rule (2 minutes a rung in an emergency, 5 within the hour; the next rung at once
 * when one refuses or cannot be reached; round again until accepted), worked by hand in minutes from the opening.
 * That a busy, unanswered or refused rung is followed at once is common practice of on-call lists.
 */
import { describe, expect, test } from 'vitest';
import { MINUTE } from '../../src/basics/civil-time.ts';
import { CAME, type Attempt, type Came, type RungName } from '../../src/call/attempt.ts';
import { isOver, nextRung, type NextRung } from '../../src/follow/ladder.ts';
import type { OnCallPlan } from '../../src/people/rota.ts';
import { aPlan, OPENED } from '../support/a-plan.ts';

const MINUTES = { emergency: 2, hour: 5 };

interface Tried {
  readonly rung: RungName;
  readonly staff: string;
  /** Minutes after the opening. */
  readonly at: number;
  readonly came: Came;
  readonly known?: number;
}

function attempts(tried: readonly Tried[]): readonly Attempt[] {
  return tried.map(({ rung, staff, at, came, known }) => ({
    rung,
    staff,
    at: OPENED + at * MINUTE,
    came,
    cameAt: OPENED + (known ?? at) * MINUTE,
  }));
}

function next(tried: readonly Tried[], how: { emergency?: boolean; plan?: OnCallPlan; now?: number } = {}) {
  return nextRung({
    plan: how.plan ?? aPlan(),
    emergency: how.emergency ?? false,
    minutes: MINUTES,
    openedAt: OPENED,
    attempts: attempts(tried),
    now: OPENED + (how.now ?? 0) * MINUTE,
  });
}

/** `second dr-second +5`: who, and how many minutes after the opening. */
function shown(answer: NextRung): string {
  if (answer.kind !== 'ring') return answer.kind;
  return `${answer.rung} ${answer.staff.id} +${String((answer.at - OPENED) / MINUTE)}`;
}

const first = (at: number, came: Came, known = at): Tried => ({
  rung: 'first',
  staff: 'dr-first',
  at,
  came,
  known,
});
const second = (at: number, came: Came, known = at): Tried => ({
  rung: 'second',
  staff: 'dr-second',
  at,
  came,
  known,
});
const consultant = (at: number, came: Came, known = at): Tried => ({
  rung: 'consultant',
  staff: 'dr-consultant',
  at,
  came,
  known,
});

describe('the ladder', () => {
  test.each<[string, readonly Tried[], { emergency?: boolean }, string]>([
    ['begins with the first, at once', [], {}, 'first dr-first +0'],
    ['leaves a rung five minutes', [first(0, 'sent')], {}, 'second dr-second +5'],
    ['leaves it two in an emergency', [first(0, 'sent')], { emergency: true }, 'second dr-second +2'],
    ['goes up at once when busy', [first(0, 'busy', 0.5)], {}, 'second dr-second +0.5'],
    ['goes up at once when refused', [first(0, 'refused', 1)], {}, 'second dr-second +1'],
    ['goes up at once without an answer', [first(0, 'no-answer', 0.5)], {}, 'second dr-second +0.5'],
    ['goes up at once at a voicemail', [first(0, 'voicemail', 0.4)], {}, 'second dr-second +0.4'],
    ['goes up at once when no key was pressed', [first(0, 'not-accepted', 1)], {}, 'second dr-second +1'],
    ['goes up at once when the page failed', [first(0, 'failed', 0.1)], {}, 'second dr-second +0.1'],
    ['moves although nothing was dialled', [first(0, 'shown')], {}, 'second dr-second +5'],
    ['ends with the consultant', [first(0, 'busy', 1), second(1, 'sent')], {}, 'consultant dr-consultant +6'],
    [
      'begins again after the consultant',
      [first(0, 'sent'), second(5, 'sent'), consultant(10, 'sent')],
      {},
      'first dr-first +15',
    ],
    [
      'does not ring the first again within the minutes of a rung',
      [first(0, 'busy', 0.1), second(0.1, 'refused', 0.2), consultant(0.2, 'failed', 0.3)],
      {},
      'first dr-first +5',
    ],
    ['is over when somebody accepted', [first(0, 'sent'), second(5, 'accepted', 6)], {}, 'accepted'],
  ])('%s', (_what, tried, how, then) => {
    expect(shown(next(tried, how))).toBe(then);
  });

  test('keeps ringing through the night when nobody accepts', () => {
    const tried: Tried[] = [];
    for (let n = 0; n < 40; n += 1) {
      const answer = next(tried, { emergency: true, now: n * 2 });
      if (answer.kind !== 'ring') throw new Error('The ladder ended by itself');
      const at = (answer.at - OPENED) / MINUTE;
      tried.push({ rung: answer.rung, staff: answer.staff.id, at, came: 'sent' });
    }
    expect(tried.at(-1)?.at).toBe(78);
    expect(new Set(tried.map(({ staff }) => staff))).toEqual(
      new Set(['dr-first', 'dr-second', 'dr-consultant']),
    );
  });

  test('skips a rung on which nobody stands', () => {
    const answer = next([first(0, 'busy', 1)], { plan: aPlan({ second: null }) });
    expect(shown(answer)).toBe('consultant dr-consultant +1');
  });

  test('rings the consultant of last resort, again and again, when the rota names nobody', () => {
    const plan = aPlan({ first: null, second: null, consultant: null });
    const last = { rung: 'last-resort', staff: 'dr-last' } as const;
    expect(shown(next([], { plan }))).toBe('last-resort dr-last +0');
    expect(shown(next([{ ...last, at: 0, came: 'busy' }], { plan }))).toBe('last-resort dr-last +5');
  });

  test('goes on with the people of the next duty when the rota changes', () => {
    const after = 24 * 60;
    const answer = next([first(after - 5, 'sent')], { plan: aPlan({}, { first: 'dr-last' }), now: after });
    expect(shown(answer)).toBe(`second dr-second +${String(after)}`);
    const again = next([consultant(after - 5, 'sent')], {
      plan: aPlan({}, { first: 'dr-last' }),
      now: after,
    });
    expect(shown(again)).toBe(`first dr-last +${String(after)}`);
  });

  test('says so when the settings name nobody who works here', () => {
    const plan = aPlan({ first: null, second: null, consultant: null });
    expect(next([], { plan: { ...plan, staff: [] } })).toEqual({ kind: 'nobody' });
  });
});

test('only what waits and what was accepted leaves a rung its time', () => {
  expect(CAME.filter((came) => !isOver(came))).toEqual(['sent', 'shown', 'delivered', 'accepted']);
});
