/** The reply to a question of the script, or to its reading back. */
import type { Fault } from '../basics/fault.ts';
import type { Result } from '../basics/result.ts';
import { UNSURE, type FindingValue } from '../clinical/finding.ts';
import type { HeardInput, HeardReply } from '../call/heard.ts';
import type { Saying } from '../call/turn.ts';
import { nextAddress, type Address } from './address.ts';
import { ask, onceMore, type Question } from './ask.ts';
import { heardInput, type Came } from './came.ts';
import type { LineDeps } from './deps.ts';
import { identifySaid } from './identify-said.ts';
import { next, putThrough } from './next.ts';
import { readYesNo } from './read-reply.ts';
import type { Spoken } from './spoken.ts';
import { takeTurn } from './take-turn.ts';
import { grant, isLastTry, raiseForPerson, silent } from './wishes.ts';
import { filled } from './words.ts';

export async function replyToQuestion(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { reply, address } = came;
  const once = (saying: Saying): Spoken => putAgain(deps, { saying, came });
  if (reply.kind === 'silence') {
    return address.ask in deps.words.facts && address.tries > 0
      ? notSaid(deps, came)
      : silent(deps, came, (saying) => putAgain(deps, { saying, came, why: deps.words.quiet, failed: true }));
  }
  if (reply.kind === 'wish') return grant(deps, came, { wish: reply.wish, prompt: once });
  const input = heardInput(came, keyedText(deps, came));
  const identified = await identifySaid(deps, came);
  if (!identified.ok) return identified;
  return answered(deps, came, input);
}

/** A key that stands for words is written down as the words. */
function keyedText(deps: LineDeps, { reply, address }: Came): Partial<HeardInput> {
  if (reply.kind !== 'keys') return {};
  const label = deps.words.facts[address.ask]?.[Number(reply.keys) - 1];
  if (address.ask === 'opening') return { text: deps.words.byKeys };
  return label === undefined ? {} : { text: label };
}

function notSaid(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address, token } = came;
  return takeTurn(deps, {
    call: address.call,
    token,
    input: { kind: 'fact', question: address.ask, text: deps.words.notSaid },
    says: (saying) => next(deps, { saying, from: address }),
  });
}

function answered(deps: LineDeps, came: Came, input: HeardInput): Promise<Result<Spoken, Fault>> {
  const { address, token } = came;
  const gaveUp = (heard: HeardReply | null): boolean =>
    heard?.taken === 'not-understood' && !heard.danger && isLastTry(came);
  return takeTurn(deps, {
    call: address.call,
    token,
    input,
    raises: (heard) => (gaveUp(heard) ? raiseForPerson(deps, 'not-understood') : null),
    says: (saying) => {
      const { heard, told } = saying;
      if (told || heard === null) return next(deps, { saying, from: address });
      if (gaveUp(heard)) return putThrough(deps, { saying, from: address, first: [deps.words.sorry] });
      switch (heard.taken) {
        case 'answered':
        case 'aside':
        case 'late':
          return next(deps, { saying, from: address });
        case 'read-back':
          return readBack(deps, { saying, came, value: heard.value });
        case 'denied':
        case 'not-understood':
          return putAgain(deps, { saying, came, why: deps.words.sorry, failed: true });
      }
    },
  });
}

interface Putting {
  readonly saying: Saying;
  readonly came: Came;
  readonly why?: string;
  /** It counts as a try. */
  readonly failed?: boolean;
}

/** The question that is put now, once more. */
function putAgain(deps: LineDeps, { saying, came, why, failed = false }: Putting): Spoken {
  const { address, reply } = came;
  const { question } = saying.after;
  if (question === null) return next(deps, { saying, from: address });
  const keys = address.keys || (reply.kind === 'wish' && reply.wish === 'keys-only');
  const to: Address = onceMore(address, {
    step: 'question',
    tries: failed ? address.tries + 1 : address.tries,
    keys,
  });
  const say = why === undefined ? [] : [why];
  const asking = { question, runner: saying.runner, again: saying.after.again, to, first: !failed };
  const listen = ask(deps, asking);
  return { say: [], then: { ...listen, say: [...say, ...listen.say] } };
}

interface ReadingBack {
  readonly saying: Saying;
  readonly came: Came;
  readonly value: FindingValue | null;
}

function readBack(deps: LineDeps, { saying, came, value }: ReadingBack): Spoken {
  const { address } = came;
  const { question } = saying.after;
  if (question === null || value === null) return next(deps, { saying, from: address });
  const to = nextAddress(address, {
    step: 'confirm',
    ask: question.id,
    tries: address.tries,
    value: String(value),
  });
  const { words } = deps;
  const text = filled(words.readBack, { answer: labelOf(deps, question, value) });
  const hints = [...words.yes, ...words.no];
  return {
    say: [],
    then: { kind: 'listen', say: [text], speech: !to.keys, digits: 'one', hints, open: false, to },
  };
}

function labelOf({ words }: LineDeps, { kind, answers }: Question, value: FindingValue): string {
  if (kind === 'group') return words.groupNo;
  if (value === UNSURE) return words.unsure;
  return answers.find((one) => one.value === value)?.label ?? String(value);
}

/** Yes: the answer counts. Anything else: it is keyed instead. */
export function replyToReadBack(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address, reply } = came;
  const { words } = deps;
  if (reply.kind === 'wish' && (reply.wish === 'person' || reply.wish === 'interpreter')) {
    return grant(deps, came, { wish: reply.wish, prompt: (saying) => putAgain(deps, { saying, came }) });
  }
  const right = readYesNo(reply, words) === true;
  const value = /^-?\d+(\.\d+)?$/.test(address.value) ? Number(address.value) : address.value;
  const byKeys = { ...came, address: { ...address, tries: 1 } };
  if (reply.kind === 'silence') {
    const why = words.readBackKeys;
    return silent(deps, came, (saying) => putAgain(deps, { saying, came: byKeys, why, failed: true }));
  }
  return takeTurn(deps, {
    call: address.call,
    token: came.token,
    input: heardInput(came, { confirms: { value, right } }),
    says: (saying) =>
      saying.told || right
        ? next(deps, { saying, from: address })
        : putAgain(deps, { saying, came: byKeys, why: words.readBackKeys, failed: true }),
  });
}
