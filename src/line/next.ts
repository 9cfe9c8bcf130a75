/** What the line says once a turn is taken: the outcome when it is reached, then the next question, a person, or the end. */
import { outcomeWords } from '../call/advice.ts';
import type { Saying } from '../call/turn.ts';
import { isUrgent } from '../clinical/outcome.ts';
import { nextAddress, type Address } from './address.ts';
import { ask, askOperation } from './ask.ts';
import type { LineDeps } from './deps.ts';
import { connect, DESK_RUNG } from './connect.ts';
import { end, names } from './end.ts';
import type { Listen, Spoken } from './spoken.ts';
import { filled } from './words.ts';

export interface Following {
  readonly saying: Saying;
  /** The address of the reply that was taken. */
  readonly from: Address;
  /** Said before everything else. */
  readonly first?: readonly string[];
}

/** What comes after a reply that was taken. */
export function next(deps: LineDeps, following: Following): Spoken {
  const { saying, from, first = [] } = following;
  const { after, runner, told } = saying;
  const say = [...first, ...(told ? toldWords(deps, saying) : [])];
  const to = nextAddress(from, {});
  if (after.at === 'closed') return end(deps, say);
  if (after.at === 'asking' && after.question !== null) {
    const wantsOperation = to.who !== '' && to.operation === 0 && after.context.opening !== null;
    const isCalm = !isUrgent(after.assessment.outcome) || after.assessment.redFlags.length === 0;
    if (wantsOperation && isCalm && !isIdentified(saying)) {
      return { say, then: askOperation(deps, to, { withDay: false }) };
    }
    const question = { question: after.question, runner, again: after.again, to, first: false };
    return { say, then: ask(deps, question) };
  }
  return atOutcome(deps, { ...following, say, to });
}

/** The record has been used, or the operation was named. */
function isIdentified({ after }: Saying): boolean {
  return after.context.times.some(({ day }) => day !== null);
}

interface Ending extends Following {
  readonly say: readonly string[];
  readonly to: Address;
}

function atOutcome(deps: LineDeps, { saying, say, to }: Ending): Spoken {
  const { after } = saying;
  const { outcome } = after.assessment;
  const { words } = deps;
  if (outcome.emergency) {
    const leave = filled(words.emergencyEnd, names(deps));
    return connect(deps, { saying, to, say: [...say, leave] });
  }
  if (isUrgent(outcome)) return connect(deps, { saying, to, say: [...say, words.connecting] });
  return { say: [...say], then: askBack(to, words.saidBack) };
}

/** The caller says back when to ring again. */
export function askBack(to: Address, words: string): Listen {
  return {
    kind: 'listen',
    say: [words],
    speech: !to.keys,
    digits: 'one',
    hints: [],
    open: true,
    to: { ...to, step: 'said-back', ask: '' },
  };
}

function toldWords(deps: LineDeps, { after, runner }: Saying): string[] {
  const { words } = deps;
  const { outcome } = after.assessment;
  const due = after.context.promises.review?.dueAt ?? null;
  const by = outcome.outcome === 'arrange-review' && due !== null;
  const more = isUrgent(outcome) && !outcome.emergency && after.at === 'asking';
  return [
    ...outcomeWords(runner.compiled.flow, after),
    ...(by ? [filled(words.reviewBy, { time: deps.spokenTime(due) })] : []),
    ...(more ? [words.handoverSoon] : []),
  ];
}

/** The caller is put through to a person: in opening hours to the desk first. What is urgent is said before. */
export function putThrough(deps: LineDeps, { saying, from, first = [] }: Following): Spoken {
  const rung = deps.isOpen(deps.turn.clock.now()) ? DESK_RUNG : 0;
  const to = nextAddress(from, { rung, until: 0 });
  const told = saying.told ? toldWords(deps, saying) : [];
  return connect(deps, { saying, to, say: [...first, ...told, deps.words.connecting] });
}
