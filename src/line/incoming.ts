/** A call comes in: the emergency words first, who speaks, how to reach a person, then the danger screen at once. */
import { fault, type Fault } from '../basics/fault.ts';
import { callIdFrom, type CallId } from '../basics/ids.ts';
import { failed, type Result } from '../basics/result.ts';
import { firstAddress } from './address.ts';
import { ask } from './ask.ts';
import type { LineDeps } from './deps.ts';
import { end, names } from './end.ts';
import { textOf, type Params } from './read-reply.ts';
import type { Spoken } from './spoken.ts';
import { takeTurn } from './take-turn.ts';
import { filled } from './words.ts';

/** Calls of the trial phone come from this account, which no provider has. */
export const TRIAL_ACCOUNT = 'AC00000000000000000000000000trial0';

function isTrial(params: Params): boolean {
  return textOf(params['AccountSid']) === TRIAL_ACCOUNT;
}

/** The provider's id of the call, made into ours: the same call has the same id, whichever server answers it. */
export function callOf(params: Params): CallId | null {
  const sid = textOf(params['CallSid']);
  if (!/^CA[\w-]{1,60}$/.test(sid)) return null;
  return callIdFrom(`${isTrial(params) ? 'trial' : 'line'} ${sid}`);
}

/** "Anonymous" on a keypad: what the provider shows for a withheld number. */
const WITHHELD = '+266696687';

export function numberOf(params: Params): string | null {
  const from = textOf(params['From']);
  return /^\+[1-9]\d{5,14}$/.test(from) && from !== WITHHELD ? from : null;
}

export async function incoming(deps: LineDeps, params: Params): Promise<Result<Spoken, Fault>> {
  const call = callOf(params);
  if (call === null) return failed(fault('bad-request', 'CallSid is missing; the id of a call is accepted.'));
  const number = numberOf(params);
  const found = number === null ? null : await deps.people.find({ by: 'telephone', telephone: number }, 1);
  if (found?.ok === false) return failed(fault('store-down', 'The patients cannot be read now.'));
  const known = found !== null && found.value.length > 0;
  return takeTurn(deps, {
    call,
    token: 'line-0',
    input: {
      kind: 'start',
      channel: isTrial(params) ? 'trial' : 'line',
      direction: 'patient-rang',
      callerNumber: number,
    },
    says: ({ after, runner }) => {
      const { question } = after;
      const say = greeting(deps);
      if (question === null) return end(deps, say);
      const to = firstAddress(call, known);
      return { say, then: ask(deps, { question, runner, again: false, to, first: true }) };
    },
  });
}

function greeting(deps: LineDeps): string[] {
  const { words, practice, place } = deps;
  const isOpen = deps.isOpen(deps.turn.clock.now());
  return [
    ...(practice.mode === 'demo' ? [words.demonstration] : []),
    filled(words.greeting, names(deps)),
    place.recordingNotice,
    words.recording,
    isOpen ? words.deskOpen : words.person,
  ];
}
