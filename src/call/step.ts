/** One step of a call: snapshot and event in, next snapshot and what it means out. Nothing is run here. */
import { initialTransition, transition } from 'xstate';
import { failed, ok, type Result } from '../basics/result.ts';
import type { CompiledFlow, Question } from '../flow/compiled.ts';
import type { Assessment } from './assess.ts';
import type { CallContext } from './context.ts';
import {
  askState,
  buildMachine,
  CHOOSING,
  CLOSED,
  OUTCOME,
  type CallMachine,
  type MachineEvent,
} from './machine.ts';
import { resolve, type Snapshot } from './snapshot.ts';
import { assessmentOf } from './standing.ts';

/** Where a call stands after a step, as every channel shows it. */
export interface Standing {
  readonly at: 'asking' | 'outcome' | 'closed';
  readonly question: Question | null;
  /** The question is put a second time, in other words. */
  readonly again: boolean;
  readonly assessment: Assessment;
  readonly context: CallContext;
}

/** A flow with its machine, built once and kept. */
export interface Runner {
  readonly compiled: CompiledFlow;
  readonly machine: CallMachine;
  /** By the state in which it is asked. */
  readonly questionIn: ReadonlyMap<string, Question>;
}

export function runnerOf(compiled: CompiledFlow): Runner {
  const { flow } = compiled;
  const questionIn = new Map(flow.questions.map((question) => [askState(question.id), question]));
  return { compiled, machine: buildMachine(flow), questionIn };
}

export function begin(runner: Runner): Snapshot {
  const [snapshot] = initialTransition(runner.machine);
  return snapshot;
}

/** An event that the state does not take is a fault, never silence. */
export function step(runner: Runner, snapshot: Snapshot, event: MachineEvent): Result<Snapshot, 'not-now'> {
  if (!snapshot.can(event)) return failed('not-now');
  const [next] = transition(runner.machine, snapshot, event);
  return ok(next);
}

/** The same call on another flow: what is known moves over, and the flow's own hub chooses what is asked. */
export function moveTo(runner: Runner, snapshot: Snapshot): Snapshot {
  return resolve(runner.machine, { value: { open: CHOOSING }, context: snapshot.context });
}

/** The question that is put now, or null. */
export function questionAt(runner: Runner, snapshot: Snapshot): Question | null {
  return runner.questionIn.get(stateOf(snapshot)) ?? null;
}

function stateOf({ value }: Snapshot): string {
  return typeof value === 'string' ? value : value['open'];
}

export function standingOf(runner: Runner, snapshot: Snapshot): Standing {
  const { flow } = runner.compiled;
  const { context } = snapshot;
  const state = stateOf(snapshot);
  const question = questionAt(runner, snapshot);
  return {
    at: state === CLOSED ? 'closed' : state === OUTCOME ? 'outcome' : 'asking',
    question,
    again: question !== null && context.again === question.id,
    assessment: assessmentOf(flow, context),
    context,
  };
}
