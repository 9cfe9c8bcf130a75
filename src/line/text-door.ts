/** A text message to the practice, small on purpose: danger is rung at once, everything else becomes a call-back. */
import { fault, type Fault } from '../basics/fault.ts';
import { callIdFrom, type CallId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { EMERGENCY, isUrgent } from '../clinical/outcome.ts';
import type { TurnInput } from '../call/input.ts';
import { saysNo, saysStart, saysStop, saysYes } from '../call/text-words.ts';
import { turn, type TurnDone } from '../call/turn.ts';
import type { ReachDeps } from './reach-deps.ts';
import { textOf, type Params } from './read-reply.ts';
import { filled } from './words.ts';

/** Texts of one number belong together for a day. */
const TOGETHER_MILLIS = 24 * 60 * 60_000;
const LONGEST = 1600;

/** What is texted back; null is nothing. Sent again by the provider it changes nothing and answers the same. */
export async function textIncoming(deps: ReachDeps, params: Params): Promise<Result<string | null, Fault>> {
  const sid = textOf(params['MessageSid']);
  const number = textOf(params['From']);
  const body = textOf(params['Body']).slice(0, LONGEST).trim();
  if (sid === '' || !/^\+\d{6,15}$/.test(number)) return ok(null);
  const at = deps.line.turn.clock.now();
  if (saysStop(body) || saysStart(body)) {
    const set = await deps.numbers.setStopped(number, saysStop(body), at);
    return set.ok ? ok(null) : failed(STORE_DOWN);
  }
  const call = await callFor(deps, { sid, number, at });
  if (!call.ok) return call;
  const began = await said(deps, call.value, 'begin', {
    kind: 'start',
    channel: 'text',
    direction: 'patient-rang',
    callerNumber: number,
  });
  if (!began.ok) return began;
  return taken(deps, { call: call.value, sid, number, body, began: began.value });
}

const STORE_DOWN = fault('store-down', 'The record cannot be written now.');

interface Incoming {
  readonly sid: string;
  readonly number: string;
  readonly at: number;
}

/** A call that was closed is over: the next text begins another. */
async function callFor(
  { line, numbers }: ReachDeps,
  { sid, number, at }: Incoming,
): Promise<Result<CallId, Fault>> {
  const fresh = callIdFrom(`text ${sid}`);
  const known = await numbers.callOf(number, { fresh, at, since: at - TOGETHER_MILLIS });
  if (!known.ok) return failed(STORE_DOWN);
  const loaded = await line.turn.store.load(known.value);
  if (!loaded.ok) return failed(STORE_DOWN);
  if (loaded.value?.head.state !== 'closed' || known.value === fresh) return ok(known.value);
  const next = await numbers.callOf(number, { fresh, at, since: at + 1 });
  return next.ok ? ok(next.value) : failed(STORE_DOWN);
}

interface Text {
  readonly call: CallId;
  readonly sid: string;
  readonly number: string;
  readonly body: string;
  readonly began: TurnDone;
}

async function taken(deps: ReachDeps, text: Text): Promise<Result<string | null, Fault>> {
  const { call, sid, body, began } = text;
  const isFirst = began.standing.context.opening === null;
  const heard = await said(deps, call, `text ${sid}`, inputOf(body, isFirst));
  if (!heard.ok) return heard;
  const saysDanger = !isFirst && saysYes(body) && !heard.value.repeated;
  const after = saysDanger ? await said(deps, call, `text ${sid} yes`, YES) : heard;
  if (!after.ok) return after;
  const { outcome } = after.value.standing.assessment;
  const { texts } = deps.messageWords;
  const words = outcome.emergency
    ? texts.emergency
    : isUrgent(outcome)
      ? texts.urgent
      : saysNo(body)
        ? texts.noDanger
        : texts.received;
  return answered(deps, text, filled(words, deps.names));
}

const YES: TurnInput = {
  kind: 'raise',
  to: { ...EMERGENCY },
  why: 'Asked by text whether anybody is in danger now, the caller said yes.',
};

/** The first text is the opening; what comes later only adds what worries. */
function inputOf(text: string, isFirst: boolean): TurnInput {
  if (isFirst) return { kind: 'opening', text };
  return {
    kind: 'heard',
    question: null,
    text,
    confidence: 1,
    how: 'speech',
    aside: 'other',
    confirms: null,
    correction: null,
  };
}

/** The answer stands in the record, word for word; a number that said stop gets none. */
async function answered(
  deps: ReachDeps,
  { call, sid, number }: Text,
  words: string,
): Promise<Result<string | null, Fault>> {
  const stopped = await deps.numbers.isStopped(number);
  if (!stopped.ok) return failed(STORE_DOWN);
  if (stopped.value) return ok(null);
  const kept = await said(deps, call, `text ${sid} answer`, { kind: 'note', text: `Texted back: ${words}` });
  return kept.ok ? ok(words) : kept;
}

function said(
  { line }: ReachDeps,
  call: CallId,
  token: string,
  input: TurnInput,
): Promise<Result<TurnDone, Fault>> {
  return turn(line.turn, { call, token, by: 'text', input });
}
