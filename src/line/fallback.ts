/** The file for the provider's fallback address: it stands on other infrastructure and needs no server of ours. */
import twilio from 'twilio';
import { digitByDigit } from './speakable.ts';
import { sayAll, type Voice } from './twiml.ts';
import { filled, type LineWords } from './words.ts';

export interface Fallback {
  readonly words: LineWords;
  readonly voice: Voice;
  readonly practice: string;
  /** Who is rung; a file cannot look at a rota. */
  readonly telephone: string;
  /** The same number as people read it. */
  readonly shown: string;
}

const RINGS = 60;

/** Emergency words first, then the on-call telephone, then what to do when nobody picks up. */
export function fallbackTwiml({ words, voice, practice, telephone, shown }: Fallback): string {
  const said = { emergency: voice.emergency, practice, telephone: digitByDigit(shown) };
  const response = new twilio.twiml.VoiceResponse();
  sayAll(response, [filled(words.greeting, said), filled(words.broken, said)], voice);
  response.dial({ timeout: RINGS, callerId: voice.callerId }).number(telephone);
  sayAll(response, [filled(words.brokenEnd, said)], voice);
  response.hangup();
  return response.toString();
}
