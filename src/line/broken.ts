/** What is said when something broke: what to do in an emergency, and then a person. It needs no record. */
import twilio from 'twilio';
import type { LineDeps } from './deps.ts';
import { names } from './end.ts';
import { digitByDigit } from './speakable.ts';
import { sayAll } from './twiml.ts';
import { filled } from './words.ts';

const RINGS = 25;

/** Speaks the emergency words, dials the first on call without a whisper, and says both numbers again. */
export function broken(deps: LineDeps): string {
  const { words, voice, turn } = deps;
  const [first] = deps.ladder(turn.clock.now());
  const telephone = first?.telephone ?? deps.practice.telephones.desk;
  const said = { ...names(deps), telephone: digitByDigit(deps.shownTelephone(telephone)) };
  const response = new twilio.twiml.VoiceResponse();
  sayAll(response, [filled(words.broken, said)], voice);
  response.dial({ timeout: RINGS, callerId: voice.callerId }).number(telephone);
  sayAll(response, [filled(words.brokenEnd, said)], voice);
  response.hangup();
  return response.toString();
}

/** For the leg of somebody who was rung: it is not bridged, and the next one is rung. */
export function brokenLeg(): string {
  const response = new twilio.twiml.VoiceResponse();
  response.hangup();
  return response.toString();
}
