/** The trial phone: rings the line, plays what it says, sends what is said and keyed, and plays the other telephone. */
import { TRIAL_WORDS as W } from '../../trial-words.ts';
import { newId } from '../browser.ts';
import { button, element } from './elements.ts';
import { newSid, send, type Ask, type Heard, type Ring } from './provider.ts';
import { hush, play } from './sound.ts';

const line = document.body.dataset['line'] ?? '';
const phone = document.querySelector('#phone') ?? document.body;

const number = element('input', {
  id: 'number',
  value: document.body.dataset['caller'] ?? '',
  autocomplete: 'off',
});
const sound = element('input', { id: 'sound', type: 'checkbox', checked: '' });
const log = element('ol', { id: 'heard', 'aria-live': 'polite', 'aria-label': W.heard });
const controls = element('div', { id: 'controls' });
const other = element('section', { id: 'other', 'aria-label': W.clinician });

const KEYS = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '*', '0', '#'] as const;

interface Call {
  readonly sid: string;
  readonly from: string;
}

let call: Call | null = null;

function idle(): void {
  call = null;
  other.replaceChildren();
  controls.replaceChildren(button(W.dial, () => void ring(), 'go'));
}

async function ring(): Promise<void> {
  log.replaceChildren();
  call = { sid: newSid(newId()), from: number.value.trim() === '' ? 'anonymous' : number.value.trim() };
  await ask('/line/incoming', { CallStatus: 'ringing' });
}

/** The caller's own leg. */
async function ask(to: string, params: Readonly<Record<string, string>>): Promise<void> {
  const now = call;
  if (now === null) return;
  controls.replaceChildren();
  const base = {
    CallSid: now.sid,
    From: now.from,
    To: line,
    CallStatus: 'in-progress',
    Direction: 'inbound',
  };
  const heard = await send(to, { ...base, ...params });
  if (call !== now) return;
  if (heard === null) {
    note(W.line, W.broken);
    return ended();
  }
  await follow(now, heard);
}

async function follow(now: Call, heard: Heard): Promise<void> {
  // What can be done stands there while the line still speaks: a caller may talk over it.
  if (heard.ask !== null) listen(heard.ask);
  else controls.replaceChildren(hangUp());
  for (const text of heard.says) note(W.line, text);
  await speak(now, heard.says);
  if (call !== now) return;
  if (heard.ring !== null) return ringOther(now, heard.ring);
  if (heard.ask === null) await ended();
}

async function speak(now: Call, texts: readonly string[]): Promise<void> {
  for (const text of texts) {
    if (call !== now || !sound.checked) return;
    await play(text);
  }
}

function note(who: string, text: string): void {
  log.append(element('li', {}, [element('strong', {}, [`${who}: `]), text]));
  log.lastElementChild?.scrollIntoView({ block: 'nearest' });
}

function hangUp(): HTMLButtonElement {
  return button(W.hangUp, () => void ended(), 'stop');
}

async function ended(): Promise<void> {
  const now = call;
  hush();
  idle();
  if (now === null) return;
  note(W.line, W.over);
  await send('/line/status', { CallSid: now.sid, From: now.from, To: line, CallStatus: 'completed' });
}

function listen(asked: Ask): void {
  const keyed = element('output', { id: 'keyed', 'aria-label': W.keyed });
  const reply = (params: Readonly<Record<string, string>>, shown: string): void => {
    hush();
    note(W.you, shown);
    void ask(asked.action, params);
  };
  const press = (key: string): void => {
    if (!asked.one && key !== '#') {
      keyed.textContent = `${keyed.textContent}${key}`;
      return;
    }
    const digits = asked.one ? key : keyed.textContent;
    if (digits === '#') reply({}, W.silent);
    else reply({ Digits: digits }, digits);
  };
  const keys = element(
    'div',
    { class: 'keys', role: 'group', 'aria-label': W.keypad },
    KEYS.map((key) => button(key, () => press(key))),
  );
  controls.replaceChildren(
    ...(asked.speech ? [speech((text) => reply({ SpeechResult: text, Confidence: '0.9' }, text))] : []),
    keys,
    ...(asked.one ? [] : [keyed]),
    button(W.silence, () => reply({}, W.silent)),
    hangUp(),
  );
}

function speech(say: (text: string) => void): HTMLFormElement {
  const words = element('input', { id: 'words', autocomplete: 'off' });
  const form = element('form', {}, [
    element('label', { for: 'words' }, [W.say]),
    words,
    element('button', { type: 'submit' }, [W.sayIt]),
  ]);
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    if (words.value.trim() !== '') say(words.value.trim());
  });
  return form;
}

/** The telephone of whoever is rung, played by whoever tries the line. */
function ringOther(now: Call, to: Ring): void {
  note(W.line, `${W.ringing} ${to.telephone}`);
  const over = (status: string, bridged: boolean): void => {
    other.replaceChildren();
    void ask(to.action, {
      DialCallStatus: status,
      DialBridged: String(bridged),
      DialCallSid: newSid(newId()),
    });
  };
  const leg = { sid: newSid(newId()), from: line };
  other.replaceChildren(
    element('h2', {}, [`${W.ringing} ${to.telephone}`]),
    button(W.pickUp, () => void whisper(now, { to, leg, over }), 'go'),
    button(W.busy, () => over('busy', false)),
    button(W.noAnswer, () => over('no-answer', false)),
    button(W.voicemail, () => over('completed', false)),
  );
}

interface OtherLeg {
  readonly to: Ring;
  readonly leg: Call;
  readonly over: (status: string, bridged: boolean) => void;
}

async function whisper(now: Call, { to, leg, over }: OtherLeg): Promise<void> {
  const base = {
    CallSid: leg.sid,
    ParentCallSid: now.sid,
    Direction: 'outbound-dial',
    From: line,
    To: to.telephone,
  };
  const heard = await send(to.whisper, base);
  const asked = heard?.ask ?? null;
  if (heard === null || asked === null) return over('completed', false);
  const press = async (params: Readonly<Record<string, string>>): Promise<void> => {
    const answer = await send(asked.action, { ...base, ...params });
    if (answer === null || answer.hangsUp) return over('completed', false);
    other.replaceChildren(
      element('p', {}, [answer.says.join(' ')]),
      element('p', {}, [W.talking]),
      button(W.finish, () => over('completed', true)),
    );
  };
  other.replaceChildren(
    element('h2', {}, [W.clinician]),
    element('p', {}, [heard.says.join(' ')]),
    button(W.accept, () => void press({ Digits: '1' }), 'go'),
    button(W.refuse, () => void press({ Digits: '2' })),
    button(W.ignore, () => void press({})),
  );
  if (sound.checked) await play(heard.says.join(' '));
}

phone.append(
  element('p', {}, [element('label', { for: 'number' }, [W.number]), number]),
  element('p', {}, [sound, element('label', { for: 'sound' }, [W.sound])]),
  controls,
  other,
  element('h2', {}, [W.heard]),
  log,
);
idle();
