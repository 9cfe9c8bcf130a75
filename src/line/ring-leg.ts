/** The caller, rung by the practice itself: what to do now, said twice. Nothing of the record is said. */
import twilio from 'twilio';
import { loadCall } from '../call/load-call.ts';
import type { StoredMessage } from '../call/outbox.ts';
import { standingOf } from '../call/step.ts';
import { cameOf } from './came-of.ts';
import type { Query } from './page-leg.ts';
import { messageOf, type ReachDeps } from './reach-deps.ts';
import { textOf, type Params } from './read-reply.ts';
import { sayAll } from './twiml.ts';
import { filled } from './words.ts';

export async function ring(deps: ReachDeps, query: Query): Promise<string> {
  const { line, messageWords, names } = deps;
  const message = await messageOf(deps, query);
  const words = message === null ? messageWords.ring.over : await wordsOf(deps, message);
  const spoken = { ...names, emergency: line.voice.emergency };
  const { greeting, end } = messageWords.ring;
  const response = new twilio.twiml.VoiceResponse();
  const said = filled(words, spoken);
  sayAll(response, [greeting, said, said, filled(end, spoken)], line.voice);
  response.hangup();
  return response.toString();
}

async function wordsOf({ line, messageWords }: ReachDeps, message: StoredMessage): Promise<string> {
  const { ring: own } = messageWords;
  const loaded = await loadCall(line.turn, message.call);
  if (!loaded.ok) return own.nobodyAccepted;
  const { promises } = loaded.value.snapshot.context;
  const about = [promises.escalation, promises['call-back']].find((one) => one?.id === message.promise);
  if (about?.state !== 'open') return own.over;
  const { outcome } = standingOf(loaded.value.runner, loaded.value.snapshot).assessment;
  if (message.template === 'unanswered') return own.unanswered;
  if (message.template !== 'urgent') return own.nobodyAccepted;
  return outcome.emergency ? own.emergency : own.urgent;
}

/** A caller who was not reached is rung again. */
export async function ringStatus(deps: ReachDeps, query: Query, params: Params): Promise<boolean> {
  const message = await messageOf(deps, query);
  const came = OVER[textOf(params['CallStatus'])];
  if (message === null || came === undefined) return true;
  return (await cameOf(deps, { message, came, params })).ok;
}

const OVER: Readonly<Record<string, 'busy' | 'no-answer' | 'failed' | 'delivered'>> = {
  busy: 'busy',
  'no-answer': 'no-answer',
  failed: 'failed',
  canceled: 'failed',
  completed: 'delivered',
};
