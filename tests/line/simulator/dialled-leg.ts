/** The leg that a Dial rings: its own call with its own document, bridged when that runs out, kept apart by a Hangup. */
import { fetchDocument, newSid, notify, type Site } from './provider.ts';
import { readDocument, spoken, type Verb } from './read-document.ts';
import type { Form } from './sign.ts';

export type Does =
  | { readonly does: 'busy' | 'no-answer' | 'failed' }
  /** Keys pressed one question after the other; nothing more when they run out. */
  | { readonly does: 'picks-up'; readonly keys: readonly string[] }
  /** A machine that talks on and presses nothing. */
  | { readonly does: 'voicemail' };

/** Who picks up the number that is rung, and what they do. */
export type Clinician = (number: string) => Does;

export const ACCEPTS: Does = { does: 'picks-up', keys: ['1'] };
export const REFUSES: Does = { does: 'picks-up', keys: ['2'] };

export interface Leg {
  readonly legSid: string;
  readonly whisper: string;
  readonly status: string;
  readonly bridged: boolean;
}

export interface Dialling {
  readonly site: Site;
  readonly dial: Verb;
  readonly resolve: (address: string) => string;
  /** The parameters of the call that waits. */
  readonly parent: Form;
}

/** The numbers that Ofcom keeps for drama; any other belongs to somebody. */
const DRAMA = /^\+44(2079460\d{3}|1632960\d{3}|7700900\d{3}|808157 ?0\d{3})$/;
const MOST_DOCUMENTS = 8;

export async function ringNumber(dialling: Dialling, clinician: Clinician): Promise<Leg> {
  const [number] = dialling.dial.children;
  const to = number?.text.trim() ?? '';
  if (number === undefined || !DRAMA.test(to))
    throw new Error('The line rings a number outside the invented ones');
  const legSid = newSid('CA');
  const form: Form = {
    ...dialling.parent,
    CallSid: legSid,
    ParentCallSid: dialling.parent['CallSid'] ?? '',
    Direction: 'outbound-dial',
    From: dialling.dial.attributes['callerId'] ?? '',
    To: to,
    CallStatus: 'in-progress',
  };
  const who = clinician(to);
  const leg =
    who.does === 'picks-up' || who.does === 'voicemail'
      ? await pickedUp(dialling, { number, form, keys: who.does === 'picks-up' ? who.keys : [] })
      : { whisper: '', status: who.does, bridged: false };
  const callback = number.attributes['statusCallback'];
  if (callback !== undefined) {
    await notify(dialling.site, dialling.resolve(callback), {
      ...form,
      CallStatus: 'completed',
      SequenceNumber: '3',
    });
  }
  return { legSid, ...leg };
}

interface PickedUp {
  readonly number: Verb;
  readonly form: Form;
  readonly keys: readonly string[];
}

/** "Completed" says that it was answered, not that anybody was put through: the bridge says that. */
async function pickedUp(
  { site, resolve }: Dialling,
  { number, form, keys }: PickedUp,
): Promise<Omit<Leg, 'legSid'>> {
  const left = [...keys];
  const heard: string[] = [];
  let url = resolve(number.attributes['url'] ?? '');
  let more: Form = {};
  for (let n = 0; n < MOST_DOCUMENTS; n += 1) {
    const verbs = readDocument(await fetchDocument(site, url, { ...form, ...more }), 'dialled');
    heard.push(spoken(verbs));
    const stop = verbs.find(({ name }) => name === 'Gather' || name === 'Hangup');
    const done = { whisper: heard.join(' | '), status: 'completed' };
    if (stop === undefined) return { ...done, bridged: true };
    if (stop.name === 'Hangup') return { ...done, bridged: false };
    url = new URL(stop.attributes['action'] ?? '', url).href;
    const key = left.shift();
    more = key === undefined ? {} : { Digits: key };
  }
  throw new Error('The document of the leg that is dialled does not end');
}
