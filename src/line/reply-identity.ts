/** The reply to who is ringing: the birth date on the keypad, which operation, how many days ago. */
import { civilTime, daysBetween, HOUR } from '../basics/civil-time.ts';
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { TurnInput } from '../call/input.ts';
import type { Saying } from '../call/turn.ts';
import { nextAddress } from './address.ts';
import { ask, askDay, askOperation, onceMore } from './ask.ts';
import { heardInput, type Came } from './came.ts';
import type { LineDeps } from './deps.ts';
import { operationNamed } from './identify-said.ts';
import { next } from './next.ts';
import { agoIn, procedureList, proceduresIn, type Ago } from './read-operation.ts';
import type { Spoken } from './spoken.ts';
import { takeSilently, takeTurn } from './take-turn.ts';
import { grant, kept, toPerson } from './wishes.ts';

const SOMEONE_ELSE = '1';

export async function replyToBorn(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address, reply, token } = came;
  const again = (saying: Saying): Spoken => bornAgain(deps, { saying, came });
  if (reply.kind === 'wish') return grant(deps, came, { wish: reply.wish, prompt: again });
  if (reply.kind === 'keys' && reply.keys === SOMEONE_ELSE) return someoneElse(deps, came);
  const who = reply.kind === 'keys' ? await bornOn(deps, came, reply.keys) : ok(null);
  if (!who.ok) return who;
  if (who.value === null) return kept(deps, came, { aside: 'identity', says: again });
  const patient = who.value;
  return takeTurn(deps, {
    call: address.call,
    token,
    input: heardInput(came),
    says: (saying) => next(deps, { saying, from: { ...address, who: patient } }),
  });
}

interface Again {
  readonly saying: Saying;
  readonly came: Came;
}

/** Twice without a match: nothing of the record is used, and the operation is asked instead. */
function bornAgain(deps: LineDeps, { saying, came }: Again): Spoken {
  const { address } = came;
  if (address.tries > 0) {
    const to = nextAddress(address, { known: false, ask: address.ask });
    return { say: [], then: askOperation(deps, to, { withDay: true }) };
  }
  const { question } = saying.after;
  if (question === null) return next(deps, { saying, from: address });
  const to = onceMore(address, { step: 'question' });
  return { say: [], then: ask(deps, { question, runner: saying.runner, again: false, to, first: false }) };
}

/** The patient with the caller's number who was born on that day; null for none and for more than one. */
async function bornOn(deps: LineDeps, { number }: Came, keys: string): Promise<Result<string | null, Fault>> {
  if (number === null || !/^\d{8}$/.test(keys)) return ok(null);
  const born = `${keys.slice(4)}-${keys.slice(2, 4)}-${keys.slice(0, 2)}`;
  const found = await deps.people.find({ by: 'telephone', telephone: number }, 20);
  if (!found.ok) return failed(fault('store-down', 'The patients cannot be read now.'));
  const [one, other] = found.value.filter(({ patient }) => patient.born === born);
  return ok(one === undefined || other !== undefined ? null : one.patient.id);
}

function someoneElse(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address, token } = came;
  return takeTurn(deps, {
    call: address.call,
    token,
    input: {
      kind: 'volunteer',
      findings: { 'caller-is': 'relative-or-friend' },
      words: null,
      correction: null,
    },
    says: (saying) => {
      const { question } = saying.after;
      if (saying.told || question === null) return next(deps, { saying, from: address });
      const to = nextAddress(address, {});
      const listen = ask(deps, { question, runner: saying.runner, again: false, to, first: false });
      return { say: [], then: { ...listen, say: [deps.words.someoneElse] } };
    },
  });
}

export async function replyToOperation(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address, reply } = came;
  const again = (saying: Saying): Spoken => operationAgain(deps, { saying, came });
  if (reply.kind === 'wish') return grant(deps, came, { wish: reply.wish, prompt: again });
  const procedures = namedIn(deps, came);
  if (procedures === null) {
    if (address.tries >= 2) return goOn(deps, came, null);
    return kept(deps, came, { aside: 'identity', says: again });
  }
  if (procedures.length === 0) return goOn(deps, came, null);
  const known = await operationNamed(deps, address.who, procedures);
  if (!known.ok) return known;
  if (known.value !== null) return goOn(deps, came, known.value);
  const ago = reply.kind === 'speech' ? agoIn(reply.text) : { days: null, hours: null };
  if (ago.days !== null || ago.hours !== null) return goOn(deps, came, operated(deps, procedures, ago));
  const operation = procedureList(deps.words).indexOf(procedures[0] ?? '') + 1;
  const to = nextAddress(address, { ask: address.ask, operation });
  return kept(deps, came, { aside: 'identity', says: () => ({ say: [], then: askDay(deps, to) }) });
}

/** Null: nothing was understood. Empty: an operation that is not on the list. */
function namedIn({ words }: LineDeps, { reply }: Came): readonly string[] | null {
  if (reply.kind === 'keys') {
    const list = procedureList(words);
    const place = Number(reply.keys);
    if (place === list.length + 1) return [];
    const chosen = list[place - 1];
    return chosen === undefined ? null : [chosen];
  }
  if (reply.kind !== 'speech') return null;
  const named = proceduresIn(reply.text, words);
  return named.length === 0 ? null : named;
}

function operationAgain(deps: LineDeps, { saying, came }: Again): Spoken {
  const { address, reply } = came;
  if (saying.after.at !== 'asking') return next(deps, { saying, from: address });
  const repeats = reply.kind === 'wish';
  const keys = address.keys || (repeats && reply.wish === 'keys-only');
  const to = onceMore(address, { keys, tries: repeats ? address.tries : address.tries + 1 });
  return { say: [], then: askOperation(deps, to, { withDay: address.who === '' }) };
}

export async function replyToDay(deps: LineDeps, came: Came): Promise<Result<Spoken, Fault>> {
  const { address, reply } = came;
  const list = procedureList(deps.words);
  const procedure = list[address.operation - 1];
  const to = onceMore(address);
  const again = (): Spoken => ({ say: [], then: askDay(deps, to) });
  if (reply.kind === 'wish') return grant(deps, came, { wish: reply.wish, prompt: again });
  const ago = agoOf(came);
  if (ago === null || procedure === undefined) {
    if (address.tries < 2) return kept(deps, came, { aside: 'identity', says: again });
    if (reply.kind === 'silence') return toPerson(deps, came, { aside: 'silence' });
    return goOn(deps, came, null);
  }
  return goOn(deps, came, operated(deps, [procedure], ago));
}

function agoOf({ reply }: Came): Ago | null {
  if (reply.kind === 'keys') {
    return /^\d{1,4}$/.test(reply.keys) ? { days: Number(reply.keys), hours: null } : null;
  }
  if (reply.kind !== 'speech') return null;
  const ago = agoIn(/^\s*(\d{1,3}|[a-z]+)\s*$/i.test(reply.text) ? `${reply.text} days ago` : reply.text);
  return ago.days === null && ago.hours === null ? null : ago;
}

/** What an unknown caller says of the operation; no record is behind it. */
function operated(deps: LineDeps, procedures: readonly string[], ago: Ago): TurnInput {
  const { clock, zone, identifying } = deps.turn;
  const now = clock.now();
  return {
    kind: 'operation',
    operation: {
      procedures: [...procedures],
      times: [{ day: ago.days ?? dayOf(now - (ago.hours ?? 0) * HOUR, { now, zone }), hours: ago.hours }],
      clinic: identifying.isClinicOpen(now) ? 'open' : 'closed',
      earlierCalls: [],
      known: {},
      facts: {},
    },
  };
}

/** Whole calendar days at the practice; null when the zone cannot be read. */
function dayOf(then: number, { now, zone }: { readonly now: number; readonly zone: string }): number | null {
  const [from, to] = [civilTime(then, zone), civilTime(now, zone)];
  const days = from.ok && to.ok ? daysBetween(from.value.date, to.value.date) : null;
  return days?.ok === true ? days.value : null;
}

/** What is known of the operation goes into the call; then the reply itself, which may hold a danger. */
async function goOn(deps: LineDeps, came: Came, identity: TurnInput | null): Promise<Result<Spoken, Fault>> {
  const { address, token } = came;
  if (identity !== null) {
    const known = await takeSilently(deps, { call: address.call, token: `${token}.who`, input: identity });
    // A nurse may have closed it meanwhile; the reply is kept all the same.
    if (!known.ok && known.fault.code !== 'not-now') return known;
  }
  const text = came.reply.kind === 'silence' ? { text: deps.words.notSaid } : {};
  const byKeys = address.ask === 'opening' ? { text: deps.words.byKeys } : text;
  const aside = address.ask === '' ? ({ aside: 'identity' } as const) : {};
  const from = { ...address, operation: address.operation === 0 ? 99 : address.operation };
  return takeTurn(deps, {
    call: address.call,
    token,
    input: heardInput(came, { ...byKeys, ...aside }),
    says: (saying) => next(deps, { saying, from }),
  });
}
