/** Plays a demo call through the one door: the opening, then every question answered from its facts. */
import type { Fault } from '../basics/fault.ts';
import { fault } from '../basics/fault.ts';
import { newId, type CallId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import {
  UNSURE,
  acceptedValues,
  isValueOf,
  type FindingSpec,
  type FindingValue,
} from '../clinical/finding.ts';
import type { TurnInput } from '../call/input.ts';
import type { Standing } from '../call/step.ts';
import { turn, type TurnDeps, type TurnDone } from '../call/turn.ts';
import type { Question } from '../flow/compiled.ts';
import { timeOf, type DemoCall } from './demo-call.ts';

export interface Played {
  readonly done: TurnDone;
  /** Facts that the opening was read differently for, and that were corrected as mis-keyed. */
  readonly misread: readonly string[];
  /** Facts that no question asked for and the opening did not state. */
  readonly neverAsked: readonly string[];
}

export interface Playing {
  readonly withOpening: boolean;
  /** The number that the telephone shows. */
  readonly callerNumber: string;
}

const NOTHING_MORE = '-';
const TURNS_AT_MOST = 400;

export async function playCall(
  deps: TurnDeps,
  call: DemoCall,
  playing: Playing,
): Promise<Result<Played, Fault>> {
  const time = timeOf(call);
  if (!time.ok) return time;
  const player = makePlayer(deps);
  const start = await player.send({
    kind: 'start',
    channel: 'replay',
    direction: 'patient-rang',
    callerNumber: playing.callerNumber,
  });
  if (!start.ok) return start;
  const operation = await player.send({ kind: 'operation', operation: broughtBy(call, time.value) });
  if (!operation.ok) return operation;
  const wrong = wrongFact(call, {
    ...deps.flows.general.flow.findings,
    ...operation.value.runner.compiled.flow.findings,
  });
  if (wrong !== null) return failed(wrong);
  const opened = await sayOpening(player, call, playing, operation.value);
  if (!opened.ok) return opened;
  const done = await answerAll(player, call, opened.value.done);
  if (!done.ok) return done;
  const held = done.value.standing.context.held;
  const neverAsked = Object.keys(call.facts ?? {}).filter((id) => held[id] === undefined);
  return ok({ done: done.value, misread: opened.value.misread, neverAsked });
}

interface Player {
  readonly send: (input: TurnInput) => Promise<Result<TurnDone, Fault>>;
}

function makePlayer(deps: TurnDeps): Player {
  const call = newId<CallId>();
  let sent = 0;
  return {
    send: (input) => {
      sent += 1;
      return turn(deps, { call, token: `turn-${sent}`, by: 'terminal', input });
    },
  };
}

function broughtBy(call: DemoCall, time: { day: number | null; hours: number | null }) {
  const { operation } = call;
  const known: Record<string, FindingValue> = {};
  if (operation?.drain === 'no') known['drain-in'] = 'no';
  if (operation?.['blood-thinner'] !== undefined) known['blood-thinner'] = operation['blood-thinner'];
  return {
    procedures: [call.procedure, ...(call.also ?? [])],
    ...(operation?.surgeon === undefined ? {} : { surgeon: operation.surgeon }),
    times: [time],
    clinic: call.clinic ?? 'open',
    earlierCalls: (call.earlierCalls ?? []).map((earlier) => ({
      hoursAgo: earlier.hoursAgo,
      outcome: earlier.outcome,
      about: earlier.about ?? null,
      kind: earlier.kind ?? ('worried' as const),
    })),
    // What the caller says stands before what the record knows.
    known: Object.fromEntries(Object.entries(known).filter(([id]) => call.facts?.[id] === undefined)),
    facts: {},
  };
}

/**
 * A fact of an unknown finding, or with a value that the finding cannot take, is unusable input. A fact of another
 * procedure is known, and never asked for.
 */
function wrongFact(call: DemoCall, findings: Readonly<Record<string, FindingSpec>>): Fault | null {
  for (const [id, value] of Object.entries(call.facts ?? {})) {
    const spec = findings[id];
    if (spec === undefined) {
      return fault('bad-request', `facts.${id} is no finding; an id of the vocabulary is accepted`);
    }
    if (!isValueOf(spec, value)) {
      return fault(
        'bad-request',
        `facts.${id} cannot be "${String(value)}"; accepted: ${acceptedValues(spec)}`,
      );
    }
  }
  return null;
}

interface Opened {
  readonly done: TurnDone;
  readonly misread: readonly string[];
}

async function sayOpening(
  player: Player,
  call: DemoCall,
  playing: Playing,
  before: TurnDone,
): Promise<Result<Opened, Fault>> {
  if (call.opening === undefined || !playing.withOpening) return ok({ done: before, misread: [] });
  const said = await player.send({ kind: 'opening', text: call.opening });
  if (!said.ok) return said;
  const held = said.value.standing.context.held;
  const misread = Object.entries(call.facts ?? {}).filter(
    ([id, value]) => held[id] !== undefined && held[id].value !== value,
  );
  if (misread.length === 0) return ok({ done: said.value, misread: [] });
  const corrected = await player.send({
    kind: 'volunteer',
    findings: Object.fromEntries(misread),
    words: null,
    correction: 'mis-keyed',
  });
  return corrected.ok ? ok({ done: corrected.value, misread: misread.map(([id]) => id) }) : corrected;
}

async function answerAll(player: Player, call: DemoCall, first: TurnDone): Promise<Result<TurnDone, Fault>> {
  let done = first;
  for (let turns = 0; done.standing.at === 'asking'; turns += 1) {
    const { question } = done.standing;
    if (question === null || turns > TURNS_AT_MOST)
      throw new Error('The call asks nothing and does not end.');
    const ticked = ticksAt(question, call, done.standing);
    const next = await player.send(
      ticked === null
        ? replyTo(question, call, done)
        : { kind: 'volunteer', findings: ticked, words: null, correction: null },
    );
    if (!next.ok) return next;
    done = next.value;
  }
  return ok(done);
}

/**
 * What whoever takes the call ticks without asking: who is speaking, with the identity; what the caller only wants to
 * know, with the open question. Null when there is nothing to tick.
 */
const HEARD = new Set(['caller-is', 'caller-very-worried']);

function ticksAt(
  question: Question,
  call: DemoCall,
  standing: Standing,
): Record<string, FindingValue> | null {
  const wanted = Object.entries(call.facts ?? {}).filter(
    ([id]) =>
      standing.context.held[id] === undefined &&
      ((question.fact === 'identity' && (HEARD.has(id) || id.startsWith('asks-'))) ||
        (question.fact === 'opening' && id.startsWith('asks-'))),
  );
  return wanted.length === 0 ? null : Object.fromEntries(wanted);
}

/** What the caller of a demo call answers to the question that is put. */
export function replyTo(question: Question, call: DemoCall, done: TurnDone): TurnInput {
  const { standing } = done;
  const { findings } = done.runner.compiled.flow;
  if (question.fact === 'opening') return { kind: 'opening', text: NOTHING_MORE };
  if (question.fact !== null) return { kind: 'fact', question: question.id, text: NOTHING_MORE };
  const open = question.findings.filter((id) => standing.context.held[id] === undefined);
  const values = (question.kind === 'group' ? open : question.findings).flatMap((id) => {
    const spec = findings[id];
    return spec === undefined ? [] : [{ spec, value: factValue(call, spec) }];
  });
  const [first] = values;
  if (question.kind === 'group' || first === undefined) {
    const worrying = values.some(({ spec, value }) => value !== spec.normal && !isUnmeasured(call, spec));
    return answer(question, worrying ? 'yes' : 'no');
  }
  return answer(question, first.value);
}

/** Measured only by those who have the means, and not listed: nobody opens a group for it. */
function isUnmeasured(call: DemoCall, spec: FindingSpec): boolean {
  return spec.optional && call.facts?.[spec.id] === undefined;
}

/** What the facts say, else the normal value; what is measured only with the means for it was not measured. */
function factValue(call: DemoCall, spec: FindingSpec): FindingValue {
  const given = call.facts?.[spec.id];
  if (given !== undefined) return given;
  return spec.optional ? UNSURE : spec.normal;
}

function answer(question: Question, value: FindingValue): TurnInput {
  return { kind: 'answer', question: question.id, value, correction: null };
}
