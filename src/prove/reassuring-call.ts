/** A call in which every question gets its reassuring answer, led by the agenda itself from any beginning. */
import { UNSURE, type FindingId, type FindingValue, type Findings } from '../clinical/finding.ts';
import type { TimeSince } from '../clinical/window.ts';
import type { Agenda } from '../call/agenda.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import type { FactId, Flow, Question } from '../flow/compiled.ts';
import type { Subject } from './subject.ts';

export interface Beginning {
  readonly at: TimeSince;
  readonly findings: Findings;
  readonly facts: readonly FactId[];
}

export interface ReassuringCall {
  readonly asked: readonly string[];
  readonly findings: Findings;
  /** How it finished; null: it did not, or a question was put twice. */
  readonly finished: 'emergency' | 'urgent' | 'all-asked' | 'limit' | null;
}

export function reassuringCall(
  { flow, deciders }: Pick<Subject, 'flow' | 'deciders'>,
  beginning: Beginning,
): ReassuringCall {
  let findings: Findings = Object.freeze({ ...beginning.findings });
  const asked: string[] = [];
  const facts = [...beginning.facts];
  const circumstances = freshCircumstances(beginning.at);
  for (;;) {
    const next: Agenda = deciders.agenda(flow, circumstances, findings, { questions: asked, facts });
    if ('finished' in next) return { asked, findings, finished: next.finished };
    const { ask } = next;
    if (asked.includes(ask.id)) return { asked, findings, finished: null };
    asked.push(ask.id);
    if (ask.fact !== null) facts.push(ask.fact);
    findings = withReassuring(flow, findings, ask);
  }
}

/**
 * With what the question settles and is not known yet answered reassuringly; "no" to a group settles what is measured
 * only by some as well. Frozen, so that it is scored once however often it is looked at.
 */
export function withReassuring(flow: Flow, findings: Findings, { kind, findings: ids }: Question): Findings {
  const open = ids.filter((id) => findings[id] === undefined);
  if (open.length === 0) return findings;
  const answers = open.map((id): [FindingId, FindingValue] => [
    id,
    kind === 'group' ? (flow.findings[id]?.normal ?? UNSURE) : reassuring(flow, id),
  ]);
  return Object.freeze({ ...findings, ...Object.fromEntries(answers) });
}

/** The normal value; what is measured only by those who have the means is not measured. */
export function reassuring(flow: Flow, id: FindingId): FindingValue {
  const spec = flow.findings[id];
  return spec === undefined || spec.optional ? UNSURE : spec.normal;
}
