/** The leg of whoever is rung: how urgent it is and what for, and a key to accept. A name only after that. */
import twilio from 'twilio';
import type { Fault } from '../basics/fault.ts';
import { ok, type Result } from '../basics/result.ts';
import { writeHandover } from '../call/handover.ts';
import { loadCall } from '../call/load-call.ts';
import { standingOf } from '../call/step.ts';
import { turn } from '../call/turn.ts';
import { writeAddress, type Address } from './address.ts';
import { DESK_RUNG, whomToRing } from './connect.ts';
import type { LineDeps } from './deps.ts';
import { names } from './end.ts';
import { textOf, type Params } from './read-reply.ts';
import { sayAll } from './twiml.ts';
import { filled } from './words.ts';

const ACCEPTS = '1';

/** The bridge is made when this document runs out, so it ends in hanging up: only a key leads to the bridge. */
export async function whisper(deps: LineDeps, address: Address): Promise<Result<string, Fault>> {
  const { words, voice } = deps;
  const urgent = await handover(deps, address, false);
  if (!urgent.ok) return urgent;
  const response = new twilio.twiml.VoiceResponse();
  sayAll(response, [filled(words.whisper.greeting, names(deps))], voice);
  const gather = response.gather({
    input: ['dtmf'],
    numDigits: 1,
    timeout: 8,
    action: writeAddress(`${voice.base}/accept`, address),
    method: 'POST',
    actionOnEmptyResult: true,
  });
  const desk = address.rung === DESK_RUNG;
  sayAll(
    gather,
    desk ? [words.whisper.desk] : [words.whisper.accept, ...urgent.value, words.whisper.accept],
    voice,
  );
  response.hangup();
  return ok(response.toString());
}

export async function accept(
  deps: LineDeps,
  address: Address,
  params: Params,
): Promise<Result<string, Fault>> {
  const { words, voice } = deps;
  const response = new twilio.twiml.VoiceResponse();
  const whom = whomToRing(deps, address.rung, deps.turn.clock.now());
  if (textOf(params['Digits']) !== ACCEPTS || whom === null) {
    sayAll(response, [words.whisper.refused], voice);
    response.hangup();
    return ok(response.toString());
  }
  if (address.rung !== DESK_RUNG) {
    const input = { kind: 'accept', clinician: whom.name } as const;
    const token = `accept-${String(address.turn)}`;
    const done = await turn(deps.turn, { call: address.call, token, by: 'line', input });
    if (!done.ok) return done;
  }
  const said = await handover(deps, address, true);
  if (!said.ok) return said;
  sayAll(response, [...said.value, words.whisper.accepted], voice);
  return ok(response.toString());
}

/** Before somebody has accepted it may be anybody's telephone: nobody is named and no number is said. */
async function handover(
  deps: LineDeps,
  { call }: Address,
  accepted: boolean,
): Promise<Result<readonly string[], Fault>> {
  const loaded = await loadCall(deps.turn, call);
  if (!loaded.ok) return loaded;
  const { runner, snapshot, patient, operation } = loaded.value;
  const { flow } = runner.compiled;
  const standing = standingOf(runner, snapshot);
  if (accepted) {
    const whole = writeHandover(flow, standing, { patient, operation });
    return ok([whole.situation, whole.background, whole.assessment, whole.recommendation]);
  }
  const { outcome, reasons } = standing.assessment;
  const urgency = outcome.emergency
    ? deps.words.whisper.emergency
    : outcome.within === 'now'
      ? deps.words.whisper.now
      : deps.words.whisper.hour;
  const [worst] = reasons;
  return ok([urgency, ...(worst === undefined ? [] : [worst.text])]);
}
