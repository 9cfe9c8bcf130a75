/** The telephone of a clinician whom the practice rings by itself: how urgent, and a key to take it over. */
import twilio from 'twilio';
import { loadCall, type Loaded } from '../call/load-call.ts';
import type { StoredMessage } from '../call/outbox.ts';
import { standingOf } from '../call/step.ts';
import { turn } from '../call/turn.ts';
import { writeHandover } from '../call/handover.ts';
import { cameOf } from './came-of.ts';
import { messageOf, type ReachDeps } from './reach-deps.ts';
import { textOf, type Params } from './read-reply.ts';
import { sayAll } from './twiml.ts';

export type Query = Readonly<Record<string, unknown>>;

const ACCEPTS = '1';
const REFUSES = '2';

/** Before somebody has accepted it may be anybody's telephone, or a voicemail: nobody is named. */
export async function page(deps: ReachDeps, query: Query): Promise<string> {
  const { words, voice } = deps.line;
  const { page: own } = deps.messageWords;
  const open = await openPage(deps, query);
  if (open === null) return only(deps, own.over);
  const { message, loaded } = open;
  const response = new twilio.twiml.VoiceResponse();
  const isLate = message.template === 'late';
  sayAll(response, [isLate ? own.late : own.greeting], voice);
  const gather = response.gather({
    input: ['dtmf'],
    numDigits: 1,
    timeout: 10,
    action: `${voice.base}/page-key?message=${encodeURIComponent(message.id)}`,
    method: 'POST',
    actionOnEmptyResult: true,
  });
  const { outcome, reasons } = standingOf(loaded.runner, loaded.snapshot).assessment;
  const urgency = outcome.emergency
    ? words.whisper.emergency
    : outcome.within === 'now'
      ? words.whisper.now
      : words.whisper.hour;
  const why = reasons[0]?.text;
  const what = isLate ? [] : [urgency, ...(why === undefined ? [] : [why])];
  sayAll(gather, [own.accept, ...what, own.accept], voice);
  response.hangup();
  return response.toString();
}

/** The key, or none: accepted, refused, or nobody took it. */
export async function pageKey(deps: ReachDeps, query: Query, params: Params): Promise<string> {
  const { page: own } = deps.messageWords;
  const open = await openPage(deps, query);
  if (open === null) return only(deps, own.over);
  const { message, loaded } = open;
  const key = textOf(params['Digits']);
  if (key !== ACCEPTS) {
    await cameOf(deps, { message, came: key === REFUSES ? 'refused' : 'not-accepted', params });
    return only(deps, own.refused);
  }
  if (message.template !== 'late') {
    const clinician = nameOf(deps, message, params);
    const input = { kind: 'accept', clinician } as const;
    const token = `${message.id}#accept`;
    const done = await turn(deps.line.turn, { call: message.call, token, by: 'line', input });
    if (!done.ok) throw new Error('The acceptance could not be written.');
  }
  await cameOf(deps, { message, came: 'accepted', params });
  const { patient, operation, runner, snapshot } = loaded;
  const standing = standingOf(runner, snapshot);
  const whole = writeHandover(runner.compiled.flow, standing, { patient, operation });
  return only(
    deps,
    own.accepted,
    whole.situation,
    whole.background,
    whole.assessment,
    whole.recommendation,
    whole.situation,
  );
}

const OVER: Readonly<Record<string, 'busy' | 'no-answer' | 'failed' | 'not-accepted'>> = {
  busy: 'busy',
  'no-answer': 'no-answer',
  failed: 'failed',
  canceled: 'failed',
  completed: 'not-accepted',
};

/** The provider's last word about a page: whatever was not accepted by key goes to the next rung at once. */
export async function pageStatus(deps: ReachDeps, query: Query, params: Params): Promise<boolean> {
  const message = await messageOf(deps, query);
  const came = OVER[textOf(params['CallStatus'])];
  if (message === null || came === undefined) return true;
  return (await cameOf(deps, { message, came, params })).ok;
}

interface OpenPage {
  readonly message: StoredMessage;
  readonly loaded: Loaded;
}

/** Null when there is no such page, or somebody has taken it over already. */
async function openPage(deps: ReachDeps, query: Query): Promise<OpenPage | null> {
  const message = await messageOf(deps, query);
  if (message === null) return null;
  const loaded = await loadCall(deps.line.turn, message.call);
  if (!loaded.ok) return null;
  const { promises } = loaded.value.snapshot.context;
  const about = [promises.escalation, promises.review, promises['call-back']];
  const isOpen = about.some((one) => one?.id === message.promise && one.state === 'open');
  return isOpen ? { message, loaded: loaded.value } : null;
}

function nameOf({ line }: ReachDeps, message: StoredMessage, params: Params): string {
  const telephone = textOf(params['To']);
  const { staff } = line.practice;
  const rung = staff.find((one) => one.telephone === telephone) ?? staff.find(({ id }) => id === message.to);
  return rung?.name ?? 'the clinician who was rung';
}

/** Says it and hangs up. */
function only({ line }: ReachDeps, ...texts: readonly string[]): string {
  const response = new twilio.twiml.VoiceResponse();
  sayAll(response, texts, line.voice);
  response.hangup();
  return response.toString();
}
