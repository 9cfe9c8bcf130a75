/** Sends inputs into one call, one at a time, each with its own token; a failed one can be sent again unchanged. */
import type { CallView, TurnAnswer } from '../../desk/contract/call-view.ts';
import type { DeskInput, TurnRequestShape } from '../../desk/contract/turns.ts';
import { WORDS } from '../words.ts';
import { get, post } from './api.ts';
import { later, newId } from './browser.ts';
import { byId, say } from './element.ts';
import { clearTrouble, mayRetry, showTrouble } from './trouble.ts';

export interface Sender {
  readonly send: (input: DeskInput) => void;
  /** For single keys and presses: not while the page has only just changed under the finger. */
  readonly press: (input: DeskInput) => void;
  readonly read: () => void;
}

/** A question that has only just appeared takes no answer yet: a key pressed twice must not answer two. */
const SETTLING_MILLIS = 250;

export function sender(call: string, show: (view: CallView) => void): Sender {
  const path = `/api/calls/${encodeURIComponent(call)}`;
  const waiting: TurnRequestShape[] = [];
  let busy = false;
  let settling = 0;
  const shown = (view: CallView): void => {
    settling += 1;
    delete byId('main').dataset['ready'];
    byId('main').dataset['seq'] = String(view.seq);
    show(view);
    later(SETTLING_MILLIS, () => {
      settling -= 1;
      if (settling === 0 && !busy) byId('main').dataset['ready'] = view.question?.id ?? view.at;
    });
  };
  const read = (): void => {
    void get<CallView>(path).then((answer) => {
      if (answer.ok) shown(answer.value);
      else showTrouble(answer.fault, mayRetry(answer.fault) ? read : null);
    });
  };
  const sendTurn = (turn: TurnRequestShape): void => {
    busy = true;
    say(WORDS.trouble.saving);
    void post<TurnAnswer>(`${path}/turns`, turn).then((answer) => {
      busy = false;
      if (answer.ok) {
        clearTrouble();
        say(WORDS.trouble.noted);
        shown(answer.value.view);
        next();
        return;
      }
      // Another page may have moved the call on: what is shown is read again, the message stays.
      if (answer.fault?.fault.code === 'not-now') read();
      if (mayRetry(answer.fault)) {
        // It stays first in the row: nothing overtakes what is not kept yet.
        waiting.unshift(turn);
        showTrouble(answer.fault, next);
      } else {
        showTrouble(answer.fault, null);
        next();
      }
    });
  };
  const next = (): void => {
    const turn = busy ? undefined : waiting.shift();
    if (turn !== undefined) sendTurn(turn);
  };
  const send = (input: DeskInput): void => {
    waiting.push({ token: newId(), input });
    next();
  };
  const press = (input: DeskInput): void => {
    if (settling === 0 && !busy) send(input);
  };
  return { send, press, read };
}
