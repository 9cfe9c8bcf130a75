/** Chooses the day on which a counterexample is shown: one on which the call itself asks for everything that it hangs on. */
import type { FindingId, FindingValue, Findings } from '../clinical/finding.ts';
import { rank, type Outcome } from '../clinical/outcome.ts';
import type { TimeSince } from '../clinical/window.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import type { FactId, Flow, Question } from '../flow/compiled.ts';
import { reassuring } from './reassuring-call.ts';
import { decided, momentsByTime, type Subject } from './subject.ts';
import type { Moment } from './tables.ts';

export interface ShownFindings {
  readonly findings: Findings;
  /** What the call falls short of, at this moment. */
  readonly atLeast: (at: TimeSince) => Outcome;
}

/** The first of the moments' days on which the call can be played and falls short; else the first on which it does. */
export function dayToShow(subject: Subject, moments: readonly Moment[], shown: ShownFindings): TimeSince {
  const momentOf = momentsByTime(subject);
  const days = subject.classes
    .map(({ at }) => at)
    .filter((at) => moments.some((moment) => momentOf.get(at) === moment))
    .filter((at) => rank(decided(subject, at, shown.findings)) < rank(shown.atLeast(at)));
  const at = days.find((day) => day.day !== null && isPlayed(subject, day, shown)) ?? days[0];
  if (at === undefined) throw new Error('The deciding function does not confirm the counterexample');
  return at;
}

function isPlayed(subject: Subject, at: TimeSince, { findings, atLeast }: ShownFindings): boolean {
  const settled = playedFindings(subject, at, findings);
  return settled !== null && rank(decided(subject, at, settled)) < rank(atLeast(at));
}

/**
 * What a call knows at its end in which every question is answered from these findings, then with the normal value; null
 * where it does not ask for all of them.
 */
export function playedFindings(
  { flow, deciders }: Pick<Subject, 'flow' | 'deciders'>,
  at: TimeSince,
  findings: Findings,
): Findings | null {
  const settled: Record<FindingId, FindingValue> = {};
  const asked: string[] = [];
  const facts: FactId[] = [];
  const circumstances = freshCircumstances(at);
  for (;;) {
    const next = deciders.agenda(flow, circumstances, settled, { questions: asked, facts });
    if ('finished' in next || asked.includes(next.ask.id)) break;
    asked.push(next.ask.id);
    if (next.ask.fact !== null) facts.push(next.ask.fact);
    if (isOpenedBy(flow, next.ask, findings)) continue;
    for (const id of next.ask.findings) settled[id] ??= findings[id] ?? reassuring(flow, id);
  }
  return Object.entries(findings).every(([id, value]) => settled[id] === value) ? settled : null;
}

/** A group is answered "yes" where one of its members is anything but normal. */
function isOpenedBy(flow: Flow, { kind, findings: members }: Question, findings: Findings): boolean {
  return (
    kind === 'group' &&
    members.some((id) => findings[id] !== undefined && findings[id] !== flow.findings[id]?.normal)
  );
}
