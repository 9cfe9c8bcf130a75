/** One call as the provider runs it: executes each document strictly, and waits where the caller may speak or press. */
import { fetchDocument, newSid, notify, type Site } from './provider.ts';
import { ringNumber, type Clinician } from './dialled-leg.ts';
import { readDocument, spoken, type Verb } from './read-document.ts';
import type { Form } from './sign.ts';

const MOST_DOCUMENTS = 160;
/** The same document so often in a row, whatever the caller does, is a loop. */
const MOST_REPEATS = 4;
const MOST_REDIRECTS = 5;

export interface Ringing {
  readonly from?: string;
  readonly to?: string;
  /** Who picks up, number by number; nobody when left out. */
  readonly clinician?: Clinician;
}

interface Rung {
  readonly number: string;
  readonly whisper: string;
  readonly status: string;
  readonly bridged: boolean;
}

export class Call {
  readonly sid = newSid('CA');
  readonly from: string;
  /** What the caller heard, one text for each document. */
  readonly heard: string[] = [];
  /** Whom the line rang, and what they heard. */
  readonly rung: Rung[] = [];
  /** Inputs that the caller has given. */
  turns = 0;
  ended = false;
  readonly #site: Site;
  readonly #to: string;
  readonly #clinician: Clinician;
  #gather: Verb | null = null;
  #url: string;
  #documents = 0;
  #repeats = 0;
  #lastBody = '';

  constructor(site: Site, { from = '+447700900999', to = '+448081570100', clinician }: Ringing = {}) {
    this.#site = site;
    this.from = from;
    this.#to = to;
    this.#clinician = clinician ?? (() => ({ does: 'no-answer' }));
    this.#url = `${site.publicUrl}/line/incoming`;
  }

  static async rings(site: Site, ringing: Ringing = {}): Promise<Call> {
    const call = new Call(site, ringing);
    await call.#fetch(call.#url, { CallStatus: 'ringing' });
    return call;
  }

  get said(): string {
    return this.heard.at(-1) ?? '';
  }

  get isAsked(): boolean {
    return this.#gather !== null;
  }

  /** The Gather that waits; throws when the line waits for nothing. */
  get gather(): Verb {
    if (this.#gather === null) throw new Error(`The line waits for nothing: ${this.said}`);
    return this.#gather;
  }

  /** Where the next input goes, as the provider would send it. */
  get next(): string {
    return this.#resolve(this.gather.attributes['action']);
  }

  form(more: Form): Form {
    return {
      CallSid: this.sid,
      AccountSid: 'AC0123456789abcdef0123456789abcdef',
      From: this.from,
      To: this.#to,
      Caller: this.from,
      Called: this.#to,
      Direction: 'inbound',
      ApiVersion: '2010-04-01',
      CallStatus: 'in-progress',
      // New ones come without notice.
      FromCity: '',
      SomethingNew: 'of tomorrow',
      ...more,
    };
  }

  /** Keys, one after the other: the finish key ends, as many as are asked for end, else the pause after them does. */
  async press(keys: string): Promise<this> {
    const { numDigits, finishOnKey = '#', input = 'dtmf' } = this.gather.attributes;
    if (!input.includes('dtmf')) throw new Error('Keys are not taken here');
    const most = numDigits === undefined ? Number.POSITIVE_INFINITY : Number(numDigits);
    let taken = '';
    for (const key of keys) {
      if (key === finishOnKey) break;
      taken += key;
      if (taken.length >= most) break;
    }
    // The finish key alone counts as nothing pressed.
    return taken === '' ? await this.silence() : await this.#answer({ Digits: taken, FinishedOnKey: '' });
  }

  /** The provider promises no confidence; null sends none. */
  async say(text: string, confidence: number | null = 0.93): Promise<this> {
    if (this.gather.attributes['input']?.includes('speech') !== true)
      throw new Error('Speech is not taken here');
    const sure: Form = confidence === null ? {} : { Confidence: String(confidence) };
    return await this.#answer({ SpeechResult: text, ...sure });
  }

  async silence(): Promise<this> {
    return await this.#answer({});
  }

  /** The caller puts the telephone down: no action is requested, and the call is reported as over. */
  async hangUp(): Promise<void> {
    this.#gather = null;
    await this.#over();
  }

  get takesSpeech(): boolean {
    return this.#gather?.attributes['input']?.includes('speech') === true;
  }

  async #answer(input: Form): Promise<this> {
    const { next } = this;
    this.turns += 1;
    this.#gather = null;
    await this.#fetch(next, input);
    return this;
  }

  async #over(): Promise<void> {
    this.ended = true;
    await notify(
      this.#site,
      `${this.#site.publicUrl}/line/status`,
      this.form({
        CallStatus: 'completed',
        CallDuration: '61',
        SequenceNumber: '0',
        CallbackSource: 'call-progress-events',
      }),
    );
  }

  #resolve(address: string | undefined): string {
    if (address === undefined) throw new Error('A verb without an address');
    const url = new URL(address, this.#url).href;
    if (!url.startsWith(`${this.#site.publicUrl}/`))
      throw new Error(`The line sends the provider to ${new URL(url).origin}`);
    return url;
  }

  async #fetch(url: string, more: Form, redirects = 0): Promise<void> {
    this.#documents += 1;
    if (this.#documents > MOST_DOCUMENTS) throw new Error('The call does not end');
    if (redirects > MOST_REDIRECTS) throw new Error('The line redirects in a circle');
    const body = await fetchDocument(this.#site, url, this.form(more));
    this.#url = url;
    const verbs = readDocument(body, 'caller');
    const said = spoken(verbs);
    this.#repeats = said === this.#lastBody ? this.#repeats + 1 : 0;
    this.#lastBody = said;
    if (this.#repeats >= MOST_REPEATS) throw new Error(`The line says the same again and again: ${said}`);
    this.heard.push('');
    await this.#run(verbs, redirects);
  }

  async #run(verbs: readonly Verb[], redirects: number): Promise<void> {
    for (const verb of verbs) {
      this.#hear(verb);
      if (verb.name === 'Gather') {
        this.#gather = verb;
        return;
      }
      if (verb.name === 'Hangup') return await this.#hungUpOn();
      if (verb.name === 'Redirect')
        return await this.#fetch(this.#resolve(verb.text.trim()), {}, redirects + 1);
      if (verb.name === 'Dial') return await this.#dial(verb);
      if (verb.name === 'Record') throw new Error('Sound is kept, though that is off');
    }
    throw new Error('The document ran out and the caller was cut off');
  }

  #hear(verb: Verb): void {
    const said = spoken([verb]);
    const at = this.heard.length - 1;
    this.heard[at] = `${this.heard[at] ?? ''} ${said}`.trim();
  }

  /** Nobody is put down without having been told in the last words what to do next. */
  async #hungUpOn(): Promise<void> {
    if (!/9 9 9|ring us|will ring you|ring you/i.test(this.said)) {
      throw new Error(`The line hung up without saying what to do: "${this.said}"`);
    }
    await this.#over();
  }

  async #dial(dial: Verb): Promise<void> {
    const action = this.#resolve(dial.attributes['action']);
    const { legSid, whisper, status, bridged } = await ringNumber(
      {
        site: this.#site,
        dial,
        resolve: (address) => this.#resolve(address),
        parent: this.form({}),
      },
      this.#clinician,
    );
    const number = dial.children[0]?.text.trim() ?? '';
    this.rung.push({ number, whisper, status, bridged });
    await this.#fetch(action, {
      DialCallStatus: status,
      DialBridged: String(bridged),
      DialCallSid: legSid,
      ...(bridged ? { DialCallDuration: '90' } : {}),
    });
  }
}
