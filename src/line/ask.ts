/** How a question is put on the line: its words, its keys, and what the recogniser may expect to hear. */
import { UNSURE } from '../clinical/finding.ts';
import { choicesOf, isYesNo } from '../call/read-keyed.ts';
import type { Runner, Standing } from '../call/step.ts';
import { nextAddress, type Address } from './address.ts';
import type { LineDeps } from './deps.ts';
import { procedureList } from './read-operation.ts';
import type { Listen } from './spoken.ts';
import { filled, type LineWords } from './words.ts';

export type Question = NonNullable<Standing['question']>;

export interface Asking {
  readonly question: Question;
  readonly runner: Runner;
  readonly again: boolean;
  /** Where the reply goes, with how often it was put and whether only keys count. */
  readonly to: Address;
  /** The first prompt of a call explains the keys. */
  readonly first: boolean;
}

/** From the third try on only keys count. */
const KEYS_FROM = 2;

function byKeysOnly({ keys, tries }: Address): boolean {
  return keys || tries >= KEYS_FROM;
}

/** `identity` and `opening` have steps of their own; everything else is a question of the script. */
export function ask(deps: LineDeps, asking: Asking): Listen {
  const { question } = asking;
  if (question.fact === 'identity') return askWho(deps, asking);
  if (question.fact === 'opening') return askOpening(deps, asking);
  if (question.fact === 'call-back-number') return askTelephone(deps, asking);
  return question.fact === null ? askFinding(deps, asking) : askFact(deps, asking);
}

function plain(asking: Asking, say: readonly string[]): Listen {
  const { to, question } = asking;
  return {
    kind: 'listen',
    say: [...say],
    speech: !byKeysOnly(to),
    digits: 'one',
    hints: [],
    open: false,
    to: { ...to, ask: question.id },
  };
}

function isNumber({ question, runner }: Pick<Asking, 'question' | 'runner'>): boolean {
  const [id = ''] = question.findings;
  return question.kind === 'finding' && runner.compiled.flow.findings[id]?.kind === 'number';
}

function askFinding(deps: LineDeps, asking: Asking): Listen {
  const { words } = deps;
  const { question, to, again, first } = asking;
  const text = again ? `${words.again} ${question.words}` : question.spoken;
  const keysOnly = byKeysOnly(to);
  if (isNumber(asking)) return askNumber(deps, asking, text);
  if (isYesNo(question)) {
    const say = keysOnly ? [text, words.yesNo] : first || to.tries > 0 ? [text, words.keys] : [text];
    const hints = [...words.yes, ...words.no, words.unsure, words.groupNo];
    return { ...plain(asking, say), hints };
  }
  const choices = choicesOf(question);
  const labels = choices.map(({ label }) => label);
  const listed = choices.map(({ label }, at) => filled(words.choice, { key: String(at + 1), label }));
  const unsure = choices.some(({ value }) => value === UNSURE)
    ? []
    : [filled(words.choice, { key: String(choices.length + 1), label: words.unsure })];
  return { ...plain(asking, [text, ...listed, ...unsure]), hints: [...labels, words.unsure] };
}

function askNumber({ words }: LineDeps, asking: Asking, text: string): Listen {
  const { question, runner, to } = asking;
  const [id = ''] = question.findings;
  const spec = runner.compiled.flow.findings[id];
  const keys = byKeysOnly(to) ? words.numberKeys : words.number;
  const more = [
    ...(spec?.unit === 'degC' ? [words.tenths] : []),
    ...((spec?.min ?? 1) <= 0 ? [words.zeroTwice] : []),
  ];
  return { ...plain(asking, [text, keys, ...more]), digits: 'hash', hints: [words.unsure] };
}

/** Written down and never scored: by key only as far as a key goes. */
function askFact({ words }: LineDeps, asking: Asking): Listen {
  const { question, to } = asking;
  const choices = words.facts[question.fact ?? ''] ?? [];
  const listed = choices.map((label, at) => filled(words.choice, { key: String(at + 1), label }));
  const say = byKeysOnly(to) || to.tries > 0 ? [question.spoken, ...listed] : [question.spoken];
  return { ...plain(asking, say), open: true };
}

function askTelephone({ words }: LineDeps, asking: Asking): Listen {
  return { ...plain(asking, [asking.question.spoken, words.telephone]), digits: 'hash', open: true };
}

/** A number that belongs to a patient is asked for the birth date; any other caller for operation and day. */
function askWho(deps: LineDeps, asking: Asking): Listen {
  const { words } = deps;
  const { to, question } = asking;
  if (!to.known) return askOperation(deps, { ...to, ask: question.id }, { withDay: true });
  const say = [to.tries === 0 ? words.born : words.bornAgain];
  return {
    ...plain(asking, say),
    speech: false,
    digits: 'eight',
    to: { ...to, step: 'born', ask: question.id },
  };
}

/** By keys alone nothing can be told; the operation is keyed instead. */
function askOpening(deps: LineDeps, asking: Asking): Listen {
  const { words } = deps;
  const { to, question } = asking;
  if (byKeysOnly(to) && to.who !== '')
    return askOperation(deps, { ...to, ask: question.id }, { withDay: false });
  const say = [to.who === '' ? words.openingShort : words.opening];
  return { ...plain(asking, say), open: true };
}

export function askOperation(
  { words }: LineDeps,
  to: Address,
  { withDay }: { readonly withDay: boolean },
): Listen {
  const list = byKeysOnly(to) || to.tries > 0;
  const asked = list ? words.operationKeys : withDay ? words.operation : words.operationOnly;
  return {
    kind: 'listen',
    say: list ? [asked, ...operationChoices(words)] : [asked],
    speech: !byKeysOnly(to),
    digits: 'hash',
    hints: Object.values(words.procedures).flat(),
    open: true,
    to: { ...to, step: 'operation' },
  };
}

function operationChoices(words: LineWords): readonly string[] {
  const list = procedureList(words);
  const named = list.map((id, at) =>
    filled(words.operationChoice, { key: String(at + 1), label: words.procedures[id]?.[0] ?? id }),
  );
  return [
    ...named,
    filled(words.operationChoice, { key: String(list.length + 1), label: words.operationOther }),
  ];
}

export function askDay({ words }: LineDeps, to: Address): Listen {
  return {
    kind: 'listen',
    say: [words.day],
    speech: !byKeysOnly(to),
    digits: 'hash',
    hints: ['today', 'yesterday'],
    open: false,
    to: { ...to, step: 'day' },
  };
}

/** The same prompt once more, one try later. */
export function onceMore(to: Address, changes: Partial<Address> = {}): Address {
  return nextAddress(to, { step: to.step, ask: to.ask, tries: to.tries + 1, fix: to.fix, ...changes });
}
