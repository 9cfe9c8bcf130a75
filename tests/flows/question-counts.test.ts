/** How many questions a call takes when nothing is wrong, on every day of every operation. Source: the practice's rules. */
import { describe, expect, it } from 'vitest';
import { runnerOf } from '../../src/call/step.ts';
import { timeText } from '../../src/prove/times.ts';
import { realContent } from '../support/real-flows.ts';
import { momentsOf, play } from './play.ts';

const { library } = realContent();
const NOTHING_WRONG = 14;
const EVERYDAY_ONLY = 8;

const everyday = library.vocabulary.ids.filter((id) => id.startsWith('asks-'));
const flows = library.procedures.map((id) => ({ id, compiled: library.flowFor([id]) }));
const pairs = library.procedures.flatMap((a, at) =>
  library.procedures.slice(at + 1).map((b) => [a, b] as const),
);

describe('the moments that are looked at', () => {
  it.each(flows)('hold every day of $id', ({ compiled }) => {
    const days = new Set(momentsOf(compiled).flatMap(({ times }) => times.map(({ day }) => day)));
    expect(days.size).toBe(366);
  });
});

describe('a call in which nothing is wrong', () => {
  it.each(flows)(`takes at most ${String(NOTHING_WRONG)} questions on every day of $id`, ({ compiled }) => {
    const runner = runnerOf(compiled);
    for (const { at } of momentsOf(compiled)) {
      const { asked, standing } = play(runner, { at });
      expect(standing.assessment.outcome.outcome, timeText(at)).toBe('advise');
      expect(asked.length, `${timeText(at)}: ${asked.join(', ')}`).toBeLessThanOrEqual(NOTHING_WRONG);
    }
  });
});

describe('a call with an everyday question and nothing else', () => {
  it.each(flows)(`takes at most ${String(EVERYDAY_ONLY)} questions on every day of $id`, ({ compiled }) => {
    const runner = runnerOf(compiled);
    for (const [turn, { at }] of momentsOf(compiled).entries()) {
      const wanted = everyday[turn % everyday.length] ?? '';
      const { asked, standing } = play(runner, { at, opening: { [wanted]: 'yes' } });
      expect(standing.assessment.outcome.outcome, timeText(at)).toBe('advise');
      expect(asked.length, `${timeText(at)}: ${asked.join(', ')}`).toBeLessThanOrEqual(EVERYDAY_ONLY);
      const screen = compiled.flow.questions.filter(
        ({ tier, kind }) => tier === 'screen' && kind === 'group',
      );
      expect(asked).toEqual(expect.arrayContaining(screen.map(({ id }) => id)));
    }
  });

  it.each(flows)('asks the danger set of the day all the same ($id)', ({ compiled }) => {
    const runner = runnerOf(compiled);
    const tiers = new Map(compiled.flow.questions.map(({ id, tier }) => [id, tier]));
    for (const { at } of momentsOf(compiled)) {
      const { asked } = play(runner, { at, opening: { 'asks-driving': 'yes' } });
      expect(
        asked.map((id) => tiers.get(id)),
        timeText(at),
      ).toContain('day-danger');
    }
  });
});

describe('a call about two procedures of one operation', () => {
  /** One day of each band of recovery, the bands of the plans. */
  const days = [1, 6, 12, 30, 120];
  const alone = new Map(
    library.procedures.map((id) => {
      const runner = runnerOf(library.flowFor([id]));
      return [id, days.map((day) => play(runner, { at: { day, hours: null } }).asked)];
    }),
  );

  it.each(pairs)('puts no question twice and none that neither alone would put: %s with %s', (a, b) => {
    const both = runnerOf(library.flowFor([a, b]));
    for (const [band, day] of days.entries()) {
      const { asked } = play(both, { at: { day, hours: null } });
      const apart = new Set([a, b].flatMap((id) => alone.get(id)?.[band] ?? []));
      expect(asked.filter((id, position) => asked.indexOf(id) !== position)).toEqual([]);
      expect(
        asked.filter((id) => !apart.has(id)),
        `day ${String(day)}`,
      ).toEqual([]);
    }
    const everydayCall = play(both, { at: { day: 1, hours: null }, opening: { 'asks-driving': 'yes' } });
    expect(everydayCall.asked.length).toBeLessThanOrEqual(EVERYDAY_ONLY);
  });
});
