/** Into which runs of days a script falls for people: where what is asked without being prompted changes. */
import { LAST_DAY, type Window } from '../../clinical/window.ts';
import type { Flow, Question, Tier } from '../../flow/compiled.ts';

export type Days = readonly [number, number];

/** Put on every call of those days, whatever was said before. */
const UNPROMPTED: ReadonlySet<Tier> = new Set<Tier>(['screen', 'likely', 'day-danger']);

/** Every day 0-365 once, in order. */
export function dayWindowsOf(flow: Flow): readonly Days[] {
  const starts = new Set([0]);
  for (const { tier, window, opens } of flow.questions) {
    if (!UNPROMPTED.has(tier) || opens !== undefined) continue;
    starts.add(window.days[0]);
    if (window.days[1] < LAST_DAY) starts.add(window.days[1] + 1);
  }
  const sorted = [...starts].toSorted((a, b) => a - b);
  return sorted.map((from, at) => [from, (sorted[at + 1] ?? LAST_DAY + 1) - 1]);
}

export function touches(window: Window, [from, to]: Days): boolean {
  return window.days[0] <= to && window.days[1] >= from;
}

/**
 * The questions that a call of these days puts unprompted. A member that only a group opens is not among them, nor what
 * only stands for several of them where a call would grow too long.
 */
export function askedOn(flow: Flow, days: Days): readonly Question[] {
  const asked = flow.questions.filter(
    ({ tier, window, kind, opens }) =>
      UNPROMPTED.has(tier) && kind !== 'fact' && opens === undefined && touches(window, days),
  );
  const grouped = new Set(asked.flatMap(({ kind, findings }) => (kind === 'group' ? findings : [])));
  return asked.filter(({ kind, findings }) => kind === 'group' || !findings.every((id) => grouped.has(id)));
}

/** Those that are put only when the opening or an earlier answer points to them. */
export function pointedOn(flow: Flow, days: Days): readonly Question[] {
  return flow.questions.filter(
    ({ tier, window, kind }) => tier === 'pointed' && kind === 'finding' && touches(window, days),
  );
}

export function daysText([from, to]: Days): string {
  return from === to ? `day ${String(from)}` : `days ${String(from)} to ${String(to)}`;
}
