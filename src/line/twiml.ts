/** Renders what the line says for the provider; escaping and form are its library's affair. */
import twilio from 'twilio';
import { writeAddress, type Address } from './address.ts';
import { pieces, speakable, type Pronounce } from './speakable.ts';
import type { Dial, Listen, Spoken } from './spoken.ts';

type Response = InstanceType<typeof twilio.twiml.VoiceResponse>;
type SayAttributes = Parameters<Response['say']>[0];

export interface Voice extends Pronounce {
  readonly voice: string;
  readonly language: string;
  /** The path under which the line is reached from outside, without a slash at the end. */
  readonly base: string;
  /** The number that a person who is rung sees. */
  readonly callerId: string;
  /** Whether the sound of two people talking is kept by the provider; never against the caller's wish. */
  readonly isRecorded: boolean;
}

interface Sayer {
  readonly say: (attributes: SayAttributes, message: string) => unknown;
}

export function twiml(spoken: Spoken, voice: Voice): string {
  const response = new twilio.twiml.VoiceResponse();
  sayAll(response, spoken.say, voice);
  switch (spoken.then.kind) {
    case 'listen':
      listen(response, spoken.then, voice);
      break;
    case 'dial':
      dial(response, spoken.then, voice);
      break;
    case 'end':
      response.hangup();
      break;
  }
  return response.toString();
}

export function sayAll(to: Sayer, texts: readonly string[], voice: Voice): void {
  const attributes = { voice: voice.voice, language: voice.language } as SayAttributes;
  for (const text of texts) {
    for (const piece of pieces(speakable(text, voice))) to.say(attributes, piece);
  }
}

/** A caller in pain hesitates: two seconds of silence end a short answer, three a long one. */
const PAUSE = { short: '2', long: '3' } as const;
const HINTS_MOST = 100;

function listen(response: Response, then: Listen, voice: Voice): void {
  const gather = response.gather({
    input: then.speech ? ['dtmf', 'speech'] : ['dtmf'],
    action: writeAddress(`${voice.base}/turn`, { ...then.to, single: then.digits === 'one' }),
    method: 'POST',
    timeout: then.speech ? 6 : 10,
    actionOnEmptyResult: true,
    ...(then.digits === 'one' ? { numDigits: 1 } : { finishOnKey: '#' }),
    ...(then.digits === 'eight' ? { numDigits: 8 } : {}),
    ...(then.speech
      ? {
          speechTimeout: then.open ? PAUSE.long : PAUSE.short,
          language: voice.language as 'en-GB',
          profanityFilter: false,
          ...(then.hints.length === 0 ? {} : { hints: hintText(then.hints) }),
        }
      : {}),
  });
  sayAll(gather, then.say, voice);
}

function hintText(hints: readonly string[]): string {
  const short = hints
    .map((hint) => hint.replaceAll(',', ' ').trim())
    .filter((hint) => hint.length <= HINTS_MOST);
  return [...new Set(short)].slice(0, HINTS_MOST).join(',');
}

function dial(response: Response, then: Dial, voice: Voice): void {
  const dialled = response.dial({
    action: writeAddress(`${voice.base}/dial`, then.to),
    method: 'POST',
    timeout: then.seconds,
    callerId: voice.callerId,
    ...(voice.isRecorded && !then.to.keys ? { record: 'record-from-answer-dual' } : {}),
  });
  dialled.number({ url: whisperUrl(voice, then.to), method: 'POST' }, then.telephone);
}

function whisperUrl({ base }: Voice, to: Address): string {
  return writeAddress(`${base}/whisper`, to);
}
