/** Turns one input into machine events and steps through them; values are checked against the vocabulary first. */
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId } from '../basics/ids.ts';
import type { Json } from '../basics/json.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { acceptedValues, isValueOf, type FindingId, type FindingValue } from '../clinical/finding.ts';
import type { Question } from '../flow/compiled.ts';
import type { Operation, Patient } from '../people/patient.ts';
import type { CallHead, NewEvent } from './call-store.ts';
import { chooseFlow } from './choose-flow.ts';
import { whatClosingNeeds } from './closing.ts';
import { event, startedEvent, type Stamp } from './events.ts';
import { hear } from './hear.ts';
import { heardEvents, readHeard, type HeardInput, type HeardReply } from './heard.ts';
import { identify, type Identified } from './identify.ts';
import type { TurnInput } from './input.ts';
import { raiserOf } from './raiser.ts';
import type { Loaded } from './load-call.ts';
import { CLOSED, type MachineEvent } from './machine.ts';
import type { Correction } from './settle.ts';
import type { Snapshot } from './snapshot.ts';
import { moveTo, questionAt, standingOf, step, type Runner } from './step.ts';
import type { TurnDeps } from './turn.ts';

/** Where a call is after an input, before anything is written. */
export interface Applied {
  readonly runner: Runner;
  readonly snapshot: Snapshot;
  /** Events that only the input's own handling knows. */
  readonly events: readonly NewEvent[];
  readonly patient: Patient | null;
  readonly operation: Operation | null;
  readonly started: Pick<CallHead, 'channel' | 'direction'> | null;
  /** How a spoken or keyed reply was understood. */
  readonly heard?: HeardReply;
}

interface Given {
  readonly call: CallId;
  readonly input: TurnInput;
  readonly stamp: Stamp;
}

export async function applyInput(
  deps: TurnDeps,
  loaded: Loaded,
  { call, input, stamp }: Given,
): Promise<Result<Applied, Fault>> {
  switch (input.kind) {
    case 'identify':
      if (isClosed(loaded)) return failed(CLOSED_ALREADY);
      return identified(deps, loaded, { call, input, stamp });
    case 'operation':
      if (isClosed(loaded)) return failed(CLOSED_ALREADY);
      return ok(
        onFlow(deps, loaded, { surgeon: null, ...input.operation, age: null, pregnant: null }, stamp),
      );
    case 'start':
      return ok(begun(deps, loaded, { input, stamp }));
    case 'note':
    case 'attempt':
    case 'send-advice':
      return ok(unchanged(loaded));
    case 'promise-kept':
      return loaded.snapshot.context.promises[input.promise]?.state === 'open'
        ? ok(unchanged(loaded))
        : failed(NOT_PROMISED);
    case 'opening': {
      const findings = hear(deps.hearing, loaded.runner.compiled.flow, input.text);
      return stepped(loaded, [{ type: 'OPENING', text: input.text, findings }]);
    }
    case 'back':
      return wentBack(loaded, stamp);
    case 'heard':
      return heardReply(deps, loaded, input, stamp);
    case 'answer':
    case 'fact':
    case 'volunteer':
    case 'reopen':
    case 'cut-off':
    case 'tell':
    case 'raise':
    case 'ask-lowering':
    case 'lower':
    case 'accept':
    case 'close': {
      const events = machineEvents(loaded, input, stamp);
      return events.ok ? stepped(loaded, events.value) : events;
    }
  }
}

function unchanged(loaded: Loaded): Applied {
  const { runner, snapshot, patient, operation } = loaded;
  return { runner, snapshot, patient, operation, events: [], started: null };
}

const NOT_PROMISED = fault('not-now', 'Nothing of this kind is promised any more.');

const CLOSED_ALREADY = fault('not-now', 'The call is closed; what comes after it is a call of its own.');

function isClosed({ snapshot }: Loaded): boolean {
  return snapshot.value === CLOSED;
}

interface Beginning {
  readonly input: Extract<TurnInput, { kind: 'start' }>;
  readonly stamp: Stamp;
}

/**
 * The number that the telephone shows is the number to ring back; nobody is asked for what is seen. Whether the clinic
 * can still see somebody today is known from the start: a call that is never identified needs it most.
 */
function begun(deps: TurnDeps, loaded: Loaded, { input, stamp }: Beginning): Applied {
  const { callerNumber } = input;
  const clinic = deps.identifying.isClinicOpen(stamp.at) ? 'open' : 'closed';
  const next = step(loaded.runner, loaded.snapshot, { type: 'STARTED', clinic, callerNumber });
  if (!next.ok) throw new Error('A call that has only begun takes its own beginning.');
  const started = startedEvent(deps, input, { compiled: loaded.runner.compiled, clinic, stamp });
  return { ...unchanged(loaded), snapshot: next.value, events: [started], started: input };
}

/** A call that is closed keeps what was said and does nothing with it. */
function heardReply(deps: TurnDeps, loaded: Loaded, input: HeardInput, stamp: Stamp): Result<Applied, Fault> {
  const { flow } = loaded.runner.compiled;
  const standing = standingOf(loaded.runner, loaded.snapshot);
  const heard = readHeard(deps.hearing, { flow, standing }, input);
  const after = isClosed(loaded) ? ok(unchanged(loaded)) : stepped(loaded, heard.events);
  if (!after.ok) return after;
  const events = heardEvents(flow, heard, { input, context: after.value.snapshot.context, stamp });
  return ok({ ...after.value, events, heard });
}

/** The question that was answered last is put again. */
function wentBack(loaded: Loaded, stamp: Stamp): Result<Applied, Fault> {
  const question = loaded.snapshot.context.asked.at(-1);
  if (question === undefined) return failed(fault('not-now', 'Nothing has been answered yet.'));
  const back = stepped(loaded, [{ type: 'REOPEN', question }]);
  if (!back.ok) return back;
  return ok({ ...back.value, events: [event('reopened', stamp, { open: { question } })] });
}

function stepped(loaded: Loaded, events: readonly MachineEvent[]): Result<Applied, Fault> {
  let snapshot = loaded.snapshot;
  for (const one of events) {
    const next = step(loaded.runner, snapshot, one);
    if (!next.ok) return failed(notNow(loaded, one));
    snapshot = next.value;
  }
  return ok({ ...unchanged(loaded), snapshot });
}

function notNow(loaded: Loaded, refused: MachineEvent): Fault {
  const standing = standingOf(loaded.runner, loaded.snapshot);
  if (refused.type === 'CLOSE') {
    const needs = whatClosingNeeds(standing.assessment.outcome, standing.context, refused.understood);
    return fault(
      'not-now',
      `The call cannot be closed yet; still needed: ${needs.join(', ') || 'the outcome'}.`,
    );
  }
  if (refused.type === 'LOWER') {
    return fault(
      'needs-clinician',
      'This outcome is lowered only by a clinician who has spoken to the patient.',
    );
  }
  const waiting = standing.question === null ? standing.at : `question ${standing.question.id}`;
  return fault('not-now', `The call does not take this now; it stands at ${waiting}.`);
}

type Plain = Exclude<
  TurnInput,
  {
    kind:
      | 'identify'
      | 'operation'
      | 'start'
      | 'note'
      | 'opening'
      | 'back'
      | 'heard'
      | 'attempt'
      | 'promise-kept'
      | 'send-advice';
  }
>;

function machineEvents(loaded: Loaded, input: Plain, stamp: Stamp): Result<readonly MachineEvent[], Fault> {
  switch (input.kind) {
    case 'answer':
      return answerEvents(loaded, input);
    case 'fact':
      return ok([{ type: 'FACT', question: input.question, text: input.text }]);
    case 'volunteer': {
      const correction: Correction = input.correction ?? 'taken-back';
      const checked = checkFindings(loaded, input.findings);
      if (!checked.ok) return checked;
      return ok([{ type: 'SETTLE', findings: input.findings, how: 'volunteered', correction }]);
    }
    case 'reopen':
      return questionOf(loaded, input.question).ok
        ? ok([{ type: 'REOPEN', question: input.question }])
        : unknownQuestion(input.question);
    case 'cut-off':
      return ok([{ type: 'CUT_OFF' }]);
    case 'tell':
      return ok([{ type: 'TELL' }]);
    case 'raise':
      return ok([{ type: 'RAISE', to: input.to, by: raiserOf(stamp.by) }]);
    case 'ask-lowering':
      return ok([{ type: 'ASK_LOWERING', to: input.to }]);
    case 'lower': {
      const { to, clinician, spokeToPatient } = input;
      return ok([{ type: 'LOWER', lowering: { to, clinician, spokeToPatient, confirmedAt: stamp.at } }]);
    }
    case 'accept':
      return ok([
        { type: 'ACCEPT', clinician: input.clinician, at: stamp.at, reported: input.reported === true },
      ]);
    case 'close':
      return ok([{ type: 'CLOSE', understood: input.understood }]);
  }
}

function questionOf(loaded: Loaded, id: string): Result<Question, Fault> {
  const question = loaded.runner.compiled.flow.questions.find((one) => one.id === id);
  return question === undefined ? unknownQuestion(id) : ok(question);
}

function unknownQuestion(id: string): Result<never, Fault> {
  return failed(fault('not-found', `This script has no question "${id.slice(0, 80)}".`));
}

/** An answer to an earlier question re-opens it first, so that a correction is one turn. */
function answerEvents(
  loaded: Loaded,
  input: Extract<TurnInput, { kind: 'answer' }>,
): Result<readonly MachineEvent[], Fault> {
  const question = questionOf(loaded, input.question);
  if (!question.ok) return question;
  const [finding] = question.value.findings;
  if (question.value.kind === 'fact' || finding === undefined) {
    return failed(fault('bad-request', 'This question takes words, not one of its answers.'));
  }
  if (question.value.kind === 'group') {
    if (!['yes', 'no', 'unsure'].includes(String(input.value))) {
      return failed(fault('bad-request', 'A question about several things takes yes, no or unsure.'));
    }
  } else {
    const checked = checkFindings(loaded, { [finding]: input.value });
    if (!checked.ok) return checked;
  }
  const correction: Correction = input.correction ?? 'taken-back';
  const answer: MachineEvent = { type: 'ANSWER', question: input.question, value: input.value, correction };
  const here = questionAt(loaded.runner, loaded.snapshot)?.id === input.question;
  const reopen: MachineEvent = { type: 'REOPEN', question: input.question };
  const wasAsked = loaded.snapshot.context.asked.includes(input.question);
  return ok(here || !wasAsked ? [answer] : [reopen, answer]);
}

function checkFindings(
  loaded: Loaded,
  findings: Readonly<Record<FindingId, FindingValue>>,
): Result<null, Fault> {
  for (const [id, value] of Object.entries(findings)) {
    const spec = loaded.runner.compiled.flow.findings[id];
    if (spec === undefined)
      return failed(fault('not-found', `This script has no finding "${id.slice(0, 60)}".`));
    if (!isValueOf(spec, value)) {
      const code = spec.kind === 'number' && typeof value === 'number' ? 'out-of-range' : 'bad-request';
      return failed(
        fault(code, `That cannot be right for ${id}; accepted: ${acceptedValues(spec)}. Please ask again.`),
      );
    }
  }
  return ok(null);
}

async function identified(
  deps: TurnDeps,
  loaded: Loaded,
  { call, input, stamp }: Given & { readonly input: Extract<TurnInput, { kind: 'identify' }> },
): Promise<Result<Applied, Fault>> {
  const people = await deps.identifying.people(input.patientId, input.operationId);
  if (!people.ok) return people;
  const { patient, operation } = people.value;
  if (patient === null || operation === null || operation.patientId !== patient.id) {
    return failed(fault('not-found', 'There is no such patient with such an operation.'));
  }
  const wanted = { call, patient, operation, statedDates: input.statedDates, now: stamp.at };
  const brings = await identify(deps, wanted);
  if (!brings.ok) return brings;
  return ok({ ...onFlow(deps, loaded, brings.value, stamp), patient, operation });
}

/** Moves the call onto the flow of the operation, with what the record knows. */
function onFlow(deps: TurnDeps, loaded: Loaded, brings: Identified, stamp: Stamp): Applied {
  const compiled = chooseFlow(deps.flows, brings);
  const runner = deps.runners.of(compiled);
  const { times, clinic, earlierCalls, known, facts } = brings;
  const move: MachineEvent = {
    type: 'IDENTIFIED',
    times,
    clinic,
    earlierCalls,
    known: knownHere(runner, known),
    facts,
  };
  const moved = step(runner, moveTo(runner, loaded.snapshot), move);
  if (!moved.ok) throw new Error('A call that is open takes an identification in every state.');
  const open: Json = JSON.parse(
    JSON.stringify({
      procedures: brings.procedures,
      flow: compiled.flow.id,
      hash: compiled.hash,
      times,
      clinic,
      earlierCalls,
      known,
    }),
  ) as Json;
  return {
    ...unchanged(loaded),
    runner,
    snapshot: moved.value,
    events: [event('identified', stamp, { open, sealed: facts })],
  };
}

function knownHere(
  runner: Runner,
  known: Readonly<Record<FindingId, FindingValue>>,
): Readonly<Record<FindingId, FindingValue>> {
  const { findings } = runner.compiled.flow;
  return Object.fromEntries(Object.entries(known).filter(([id]) => findings[id] !== undefined));
}
