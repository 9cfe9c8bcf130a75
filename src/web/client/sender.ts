/** Sends inputs into one call, one at a time, each with its own token; a failed one can be sent again unchanged. */
import type { CallView, TurnAnswer } from '../../desk/contract/call-view.ts';
import type { DeskInput } from '../../desk/contract/turns.ts';
import { WORDS } from '../words.ts';
import { get, post } from './api.ts';
import { newId, now } from './browser.ts';
import { say } from './element.ts';
import { clearTrouble, mayRetry, showTrouble } from './trouble.ts';

export interface Sender {
  readonly send: (input: DeskInput) => void;
  readonly read: () => void;
}

/** A question that has only just appeared takes no answer yet: a key pressed twice must not answer two. */
const SETTLING_MILLIS = 250;

export function sender(call: string, show: (view: CallView) => void): Sender {
  const path = `/api/calls/${encodeURIComponent(call)}`;
  let busy = false;
  let shownAt = 0;
  const shown = (view: CallView): void => {
    busy = false;
    show(view);
    shownAt = now();
  };
  const read = (): void => {
    void get<CallView>(path).then((answer) => {
      if (answer.ok) shown(answer.value);
      else {
        busy = false;
        showTrouble(answer.fault, mayRetry(answer.fault) ? read : null);
      }
    });
  };
  const sendAs = (token: string, input: DeskInput): void => {
    busy = true;
    say(WORDS.trouble.saving);
    void post<TurnAnswer>(`${path}/turns`, { token, input }).then((answer) => {
      busy = false;
      if (answer.ok) {
        clearTrouble();
        say(WORDS.trouble.noted);
        shown(answer.value.view);
        return;
      }
      // Another page may have moved the call on: what is shown is read again, the message stays.
      if (answer.fault?.fault.code === 'not-now') read();
      showTrouble(answer.fault, mayRetry(answer.fault) ? () => sendAs(token, input) : null);
    });
  };
  const send = (input: DeskInput): void => {
    if (busy || now() - shownAt < SETTLING_MILLIS) return;
    sendAs(newId(), input);
  };
  return { send, read };
}
