/**
 * One call as this browser holds it: the view last read, and what was sent and is not yet kept. Inputs go one at a
 * time, each with its own token; what does not arrive stays first in the row, survives a crash, and is sent again.
 */
import { callViewSchema, turnAnswerSchema, type CallView } from '../../../desk/contract/call-view.ts';
import { turnRequestSchema, type DeskInput, type TurnRequestShape } from '../../../desk/contract/turns.ts';
import { WORDS } from '../../words.ts';
import { get, mayRetry, post, type Refused } from '../api.ts';
import { later, newId } from '../browser.ts';
import { keepHere, keptHere } from '../kept-here.ts';
import { say } from '../say.ts';
import { makeValue, type Value } from '../value.ts';

export interface CallState {
  readonly view: CallView | null;
  /** Sent or to be sent, not yet kept; the first is under way. */
  readonly waiting: readonly TurnRequestShape[];
  /** Why nothing moves: the call cannot be read, or the first in the row does not arrive. */
  readonly trouble: Refused | null;
  /** What the server would not take, with the reason; it was not counted. */
  readonly refused: { readonly input: DeskInput; readonly why: Refused } | null;
  /** Somebody else has moved the call to another question since this browser last sent something. */
  readonly movedElsewhere: boolean;
  /** Keys answer: nothing is under way, and the question has been seen for a moment. */
  readonly takesKeys: boolean;
}

export interface Session {
  readonly id: string;
  readonly state: Value<CallState>;
  readonly send: (input: DeskInput) => void;
  /** For single keys and presses: not while the page has only just changed under the finger. */
  readonly press: (input: DeskInput) => void;
  readonly read: () => void;
  /** Tries what waits at once. */
  readonly retry: () => void;
  readonly dismiss: () => void;
}

/** A question that has only just appeared takes no answer yet: a key pressed twice must not answer two. */
const SETTLING_MILLIS = 250;
const FIRST_RETRY_MILLIS = 1_000;
const LAST_RETRY_MILLIS = 8_000;

const sessions = new Map<string, Session>();

/** The same session for the same call, so that switching between calls loses nothing. */
export function sessionOf(id: string): Session {
  const known = sessions.get(id) ?? makeSession(id);
  sessions.set(id, known);
  return known;
}

addEventListener('online', () => {
  for (const { retry } of sessions.values()) retry();
});

function makeSession(id: string): Session {
  const path = `/api/calls/${encodeURIComponent(id)}`;
  const state = makeValue<CallState>({
    view: null,
    waiting: waitingOf(id),
    trouble: null,
    refused: null,
    movedElsewhere: false,
    takesKeys: false,
  });
  let busy = false;
  let retryAfter = FIRST_RETRY_MILLIS;
  let stopRetry = (): void => undefined;
  let settling = false;
  let stopSettling = (): void => undefined;

  const change = (parts: Partial<CallState>): void => state.set({ ...state.get(), ...parts });
  const settle = (): void => {
    stopSettling();
    settling = true;
    stopSettling = later(SETTLING_MILLIS, () => {
      settling = false;
      change({ takesKeys: state.get().waiting.length === 0 });
    });
  };
  const shown = (view: CallView, elsewhere: boolean): void => {
    const before = state.get().view;
    if (before !== null && view.seq < before.seq) return;
    if (before?.seq === view.seq) {
      change({ view });
      if (!settling && !state.get().takesKeys) settle();
      return;
    }
    const moved = before !== null && whereOf(before) !== whereOf(view);
    if (moved) change({ movedElsewhere: elsewhere });
    change({ view, takesKeys: false });
    settle();
  };
  const setWaiting = (waiting: readonly TurnRequestShape[]): void => {
    keepHere(`waiting:${id}`, waiting.length === 0 ? null : waiting);
    change({ waiting });
  };
  const tryAgainLater = (task: () => void): void => {
    stopRetry();
    stopRetry = later(retryAfter, task);
    retryAfter = Math.min(retryAfter * 2, LAST_RETRY_MILLIS);
  };
  const read = (): void => {
    void get(path, callViewSchema).then((answer) => {
      if (answer.ok) {
        if (!busy && state.get().waiting.length === 0) change({ trouble: null });
        shown(answer.value, !busy);
      } else {
        change({ trouble: answer });
        if (mayRetry(answer) && state.get().waiting.length === 0) tryAgainLater(read);
      }
    });
  };
  const next = (): void => {
    const [turn] = state.get().waiting;
    if (busy || turn === undefined) return;
    busy = true;
    stopRetry();
    say(WORDS.trouble.saving);
    void post(`${path}/turns`, turn, turnAnswerSchema).then((answer) => {
      busy = false;
      if (!answer.ok && mayRetry(answer)) {
        // It stays first in the row: nothing overtakes what is not kept yet.
        change({ trouble: answer });
        tryAgainLater(next);
        return;
      }
      retryAfter = FIRST_RETRY_MILLIS;
      setWaiting(state.get().waiting.slice(1));
      if (answer.ok) {
        change({ trouble: null, refused: null });
        say(WORDS.trouble.noted);
        shown(answer.value.view, false);
      } else {
        change({ trouble: null, refused: { input: turn.input, why: answer } });
        read();
      }
      next();
    });
  };
  const send = (input: DeskInput): void => {
    const turn = { token: newId(), input, seen: seenBy(state.get().view, input) };
    change({ takesKeys: false, movedElsewhere: false });
    setWaiting([...state.get().waiting, turn]);
    next();
  };
  next();
  return {
    id,
    state,
    read,
    send,
    press: (input) => {
      if (state.get().takesKeys) send(input);
    },
    retry: () => {
      if (state.get().waiting.length > 0) next();
      else if (state.get().trouble !== null) read();
    },
    dismiss: () => change({ refused: null, movedElsewhere: false }),
  };
}

function whereOf({ at, question }: CallView): string {
  return question?.id ?? at;
}

/** What the nurse was looking at, where the input means nothing else: somebody else may have moved the call on. */
function seenBy(view: CallView | null, input: DeskInput): TurnRequestShape['seen'] {
  if (view === null) return null;
  const question = view.question?.id ?? null;
  switch (input.kind) {
    case 'answer':
      return input.correction === null ? { question, outcome: null } : null;
    case 'fact':
    case 'opening':
    case 'back':
      return { question, outcome: null };
    case 'tell': {
      const outcome = view.result?.outcome ?? null;
      return { question, outcome };
    }
    case 'identify':
    case 'volunteer':
    case 'reopen':
    case 'note':
    case 'cut-off':
    case 'raise':
    case 'ask-lowering':
    case 'lower':
    case 'accept':
    case 'promise-kept':
    case 'close':
      return null;
  }
}

/** What a crash left unsent. */
function waitingOf(id: string): readonly TurnRequestShape[] {
  const parsed = turnRequestSchema.array().safeParse(keptHere(`waiting:${id}`));
  return parsed.success ? parsed.data : [];
}
