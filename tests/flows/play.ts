/** Plays whole calls through the real machine: what is asked, in order, and where the call stands at the end. */
import type { FindingId, FindingValue, Findings } from '../../src/clinical/finding.ts';
import type { TimeSince } from '../../src/clinical/window.ts';
import type { MachineEvent } from '../../src/call/machine.ts';
import { begin, standingOf, step, type Runner, type Standing } from '../../src/call/step.ts';
import type { CompiledFlow, Question } from '../../src/flow/compiled.ts';
import { timeClasses, type TimeClass } from '../../src/prove/times.ts';

export interface Played {
  /** Question ids in the order in which they were put. */
  readonly asked: readonly string[];
  readonly standing: Standing;
}

export interface Call {
  readonly at: TimeSince;
  /** Shown by the telephone unless this says otherwise. */
  readonly number?: 'shown' | 'asked';
  /** What the caller said before any question, first words included. */
  readonly opening?: Findings;
  /** Answers that are not reassuring. */
  readonly answers?: Readonly<Record<FindingId, FindingValue>>;
}

const MOST = 60;

/** The operation is known; every question gets its reassuring answer. */
export function play(runner: Runner, call: Call): Played {
  const { flow } = runner.compiled;
  const asked: string[] = [];
  let snapshot = begin(runner);
  const send = (event: MachineEvent): void => {
    const next = step(runner, snapshot, event);
    if (!next.ok) throw new Error(`The machine does not take ${event.type}`);
    snapshot = next.value;
  };
  send({ type: 'STARTED', clinic: 'open', callerNumber: call.number === 'asked' ? null : '+447700900123' });
  send({ type: 'IDENTIFIED', times: [call.at], clinic: 'open', earlierCalls: [], known: {}, facts: {} });
  if (call.opening !== undefined) send({ type: 'OPENING', text: 'as said', findings: call.opening });
  for (let turn = 0; turn < MOST; turn += 1) {
    const standing = standingOf(runner, snapshot);
    const { question } = standing;
    if (question === null) return { asked, standing };
    if (!standing.again) asked.push(question.id);
    if (question.fact !== null) send({ type: 'FACT', question: question.id, text: 'said' });
    else {
      const value = answerTo(flow, question, call.answers ?? {});
      send({ type: 'ANSWER', question: question.id, value, correction: 'mis-keyed' });
    }
  }
  throw new Error(`The call was not over after ${String(MOST)} turns`);
}

function answerTo(flow: CompiledFlow['flow'], question: Question, answers: Findings): FindingValue {
  if (question.kind === 'group') return question.findings.some((id) => id in answers) ? 'yes' : 'no';
  const [id = ''] = question.findings;
  return answers[id] ?? flow.findings[id]?.normal ?? 'unsure';
}

/**
 * Time enters a call through windows alone, so moments at which every window reads alike make the same call. One of each
 * class stands for all its days; together the classes hold every day from 0 to 365 and every hour of the first 72.
 */
export function momentsOf({ flow }: CompiledFlow): readonly TimeClass[] {
  const parts = [...flow.questions, ...flow.rules, ...flow.aftercare, ...flow.safetyNet, ...flow.normal];
  return timeClasses(parts.map(({ window }) => window)).filter(({ at }) => at.day !== null);
}
