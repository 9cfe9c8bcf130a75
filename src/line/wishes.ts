/** What a caller wants of the line besides answering: a person, the words again, the last question, keys; or is silent. */
import type { Fault } from '../basics/fault.ts';
import type { Result } from '../basics/result.ts';
import { SAME_DAY, WITHIN_THE_HOUR } from '../clinical/outcome.ts';
import type { HeardInput } from '../call/heard.ts';
import type { Raise } from '../call/tell-when-reached.ts';
import type { Saying } from '../call/turn.ts';
import { nextAddress } from './address.ts';
import { ask } from './ask.ts';
import { heardInput, type Came } from './came.ts';
import type { LineDeps } from './deps.ts';
import { names } from './end.ts';
import { next, putThrough } from './next.ts';
import type { Wish } from './read-reply.ts';
import type { Spoken } from './spoken.ts';
import { takeSilently, takeTurn } from './take-turn.ts';
import { filled } from './words.ts';

export type Prompt = (saying: Saying) => Spoken;

type Aside = NonNullable<HeardInput['aside']>;

const MOST_TRIES = 2;

export function isLastTry({ address }: Pick<Came, 'address'>): boolean {
  return address.tries >= MOST_TRIES;
}

/** `prompt` says what was asked once more. */
export function grant(
  deps: LineDeps,
  came: Came,
  { wish, prompt }: { readonly wish: Wish; readonly prompt: Prompt },
): Promise<Result<Spoken, Fault>> {
  switch (wish) {
    case 'person':
    case 'interpreter':
      return toPerson(deps, came, { aside: wish });
    case 'repeat':
      return kept(deps, came, { aside: 'repeat', says: prompt });
    case 'keys-only':
      return kept(deps, came, { aside: 'keys-only', says: prompt });
    case 'back':
    case 'wrong':
      return goBack(deps, came, { wish, prompt });
  }
}

/** Shorter, then by keys, then a person. */
export function silent(deps: LineDeps, came: Came, prompt: Prompt): Promise<Result<Spoken, Fault>> {
  if (isLastTry(came)) {
    const first = [filled(deps.words.silent, names(deps))];
    return toPerson(deps, came, { aside: 'silence', first });
  }
  return kept(deps, came, { aside: 'silence', says: prompt });
}

interface Keeping {
  readonly aside: Aside;
  readonly says: Prompt;
}

/** The reply is kept and answers nothing; a danger in it still counts, and is said first. */
export function kept(deps: LineDeps, came: Came, { aside, says }: Keeping): Promise<Result<Spoken, Fault>> {
  const { address, token } = came;
  return takeTurn(deps, {
    call: address.call,
    token,
    input: heardInput(came, { question: null, aside }),
    says: (saying) => (saying.told ? next(deps, { saying, from: address }) : says(saying)),
  });
}

export function toPerson(
  deps: LineDeps,
  came: Came,
  { aside, first = [] }: { readonly aside: Aside; readonly first?: readonly string[] },
): Promise<Result<Spoken, Fault>> {
  const { address, token } = came;
  return takeTurn(deps, {
    call: address.call,
    token,
    input: heardInput(came, { question: null, aside }),
    raises: () => raiseForPerson(deps, aside),
    says: (saying) => putThrough(deps, { saying, from: address, first }),
  });
}

/** A person was asked for or is needed: in opening hours the desk the same day, else the clinician within the hour. */
export function raiseForPerson(deps: LineDeps, why: string): Raise {
  return { to: deps.isOpen(deps.turn.clock.now()) ? SAME_DAY : WITHIN_THE_HOUR, why };
}

/** The last question again. Where it was misheard it is answered by key, and the answer replaces the other. */
async function goBack(
  deps: LineDeps,
  came: Came,
  { wish, prompt }: { readonly wish: 'back' | 'wrong'; readonly prompt: Prompt },
): Promise<Result<Spoken, Fault>> {
  const { address, token } = came;
  const input = heardInput(came, { question: null, aside: wish === 'wrong' ? 'wrong' : 'repeat' });
  const heard = await takeSilently(deps, { call: address.call, token: `${token}.heard`, input });
  if (!heard.ok) return heard;
  return takeTurn(deps, {
    call: address.call,
    token,
    input: { kind: 'back' },
    says: (saying) => {
      const { question } = saying.after;
      if (saying.before?.question?.id === question?.id || question === null) return prompt(saying);
      const to = nextAddress(address, { fix: wish === 'wrong', tries: wish === 'wrong' ? MOST_TRIES : 0 });
      return {
        say: [],
        then: ask(deps, { question, runner: saying.runner, again: false, to, first: false }),
      };
    },
  });
}
