/** The reply when the caller says back when to ring again: understood closes the call, failing twice hands over. */
import type { Fault } from '../basics/fault.ts';
import type { Result } from '../basics/result.ts';
import { outcomeWords } from '../call/advice.ts';
import { loadCall } from '../call/load-call.ts';
import { standingOf } from '../call/step.ts';
import type { Saying } from '../call/turn.ts';
import { nextAddress } from './address.ts';
import { heardInput, type Came } from './came.ts';
import type { LineDeps } from './deps.ts';
import { end } from './end.ts';
import { askBack, next } from './next.ts';
import { folded, readYesNo } from './read-reply.ts';
import type { Spoken } from './spoken.ts';
import { takeSilently, takeTurn } from './take-turn.ts';
import { grant, kept, toPerson } from './wishes.ts';

const CLEAR = '1';

export async function replyToSaidBack(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { reply } = came;
  if (reply.kind === 'wish') {
    return grant(deps, came, { wish: reply.wish, prompt: (saying) => toldAgain({ saying, came }, deps) });
  }
  if (reply.kind === 'silence') return unclear(deps, came);
  if (reply.kind === 'keys') return reply.keys === CLEAR ? understood(deps, came) : unclear(deps, came);
  const loaded = await loadCall(deps.turn, came.address.call);
  if (!loaded.ok) return loaded;
  const { runner, snapshot } = loaded.value;
  const told = outcomeWords(runner.compiled.flow, standingOf(runner, snapshot)).join(' ');
  return hasSign(reply.text, told) ? understood(deps, came) : unclear(deps, came);
}

const SHORTEST = 5;

/** One sign in the caller's own words is enough: a word of what was told that is more than small talk. */
function hasSign(text: string, told: string): boolean {
  const words = new Set(folded(told).split(' '));
  return folded(text)
    .split(' ')
    .some((word) => word.length >= SHORTEST && words.has(word));
}

/** Somebody whose birth date was keyed is offered the advice as a text; then the call is over. */
async function understood(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address } = came;
  if (address.who === '') return close(deps, came);
  const to = nextAddress(address, { step: 'text' });
  return kept(deps, came, {
    aside: 'said-back',
    says: (saying) =>
      saying.after.at === 'outcome'
        ? { say: [], then: { ...askBack(to, deps.words.textOffer), open: false, to } }
        : next(deps, { saying, from: address }),
  });
}

export async function replyToTextOffer(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address, token, reply } = came;
  if (reply.kind === 'wish' && (reply.wish === 'person' || reply.wish === 'interpreter')) {
    return toPerson(deps, came, { aside: reply.wish });
  }
  if (readYesNo(reply, deps.words) !== true) return close(deps, came);
  const input = { kind: 'send-advice' } as const;
  const sent = await takeSilently(deps, { call: address.call, token: `${token}.text`, input });
  return sent.ok || sent.fault.code === 'not-now' ? close(deps, came) : sent;
}

async function close(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address, token } = came;
  const heard = heardInput(came, { question: null, aside: 'said-back' });
  const said = await takeSilently(deps, { call: address.call, token: `${token}.heard`, input: heard });
  if (!said.ok) return said;
  return takeTurn(deps, {
    call: address.call,
    token,
    input: { kind: 'close', understood: true, agreed: heard.text },
    // A danger among the words re-opens the call instead of ending it.
    says: (saying) =>
      saying.told || saying.after.at === 'asking' ? next(deps, { saying, from: address }) : end(deps, []),
  });
}

/** Asked once more; then a person explains it. */
function unclear(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address } = came;
  if (address.tries > 0) return toPerson(deps, came, { aside: 'said-back' });
  const to = nextAddress(address, { tries: address.tries + 1 });
  return kept(deps, came, {
    aside: 'said-back',
    says: (saying) =>
      saying.after.at === 'outcome'
        ? { say: [], then: askBack(to, deps.words.saidBackAgain) }
        : next(deps, { saying, from: address }),
  });
}

function toldAgain(
  { saying, came }: { readonly saying: Saying; readonly came: Came },
  { words }: LineDeps,
): Spoken {
  const { address } = came;
  const say = [...outcomeWords(saying.runner.compiled.flow, saying.after)];
  return { say, then: askBack(nextAddress(address, { tries: address.tries }), words.saidBack) };
}
