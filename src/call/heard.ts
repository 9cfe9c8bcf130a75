/** What a caller's spoken or keyed reply does to a call: what it answers, what it volunteers, what must be read back. */
import {
  IMMEDIATE_DANGER,
  UNSURE,
  isValueOf,
  type FindingId,
  type FindingValue,
} from '../clinical/finding.ts';
import type { Flow, Question } from '../flow/compiled.ts';
import type { HeardWords, Hearing } from './hear.ts';
import type { TurnInput } from './input.ts';
import { event, type Stamp } from './events.ts';
import type { CallContext } from './context.ts';
import type { NewEvent } from './call-store.ts';
import type { MachineEvent } from './machine.ts';
import { readKeyed } from './read-keyed.ts';
import type { Correction } from './settle.ts';
import type { Standing } from './step.ts';

export type HeardInput = Extract<TurnInput, { kind: 'heard' }>;

/** What became of a reply. `late`: its question is not put any more, so that only what worries counts. */
export const TAKEN = ['answered', 'read-back', 'denied', 'not-understood', 'aside', 'late'] as const;
export type Taken = (typeof TAKEN)[number];

/** A reply as it was understood; the record keeps it beside the words. */
export interface HeardReply {
  readonly taken: Taken;
  /** The answer that was taken, or that is to be read back; null when there is none. */
  readonly value: FindingValue | null;
  readonly findings: Readonly<Record<FindingId, FindingValue>>;
  readonly confirm: readonly FindingId[];
  /** A danger was said of the patient. */
  readonly danger: boolean;
  readonly events: readonly MachineEvent[];
}

interface At {
  readonly flow: Flow;
  readonly standing: Standing;
}

const NOTHING: HeardWords = { findings: {}, danger: false, confirm: [], understood: false, because: [] };

export function readHeard(hearing: Hearing, at: At, input: HeardInput): HeardReply {
  const { flow, standing } = at;
  const put = standing.question?.id === input.question ? standing.question : null;
  const question = put ?? flow.questions.find(({ id }) => id === input.question) ?? null;
  const words = input.how === 'keys' ? NOTHING : understood(hearing, at, { input, question });
  const answer = answerOf(flow, { input, question, standing, words });
  const late = question !== null && put === null;
  const taken = late ? 'late' : answer.taken;
  const counts = taken === 'answered' && answer.value !== null;
  const own = late ? lateFindings(flow, question, answer.value) : {};
  return {
    taken,
    value: answer.value,
    findings: words.findings,
    confirm: words.confirm,
    danger: words.danger,
    events: [
      ...(counts && put !== null ? [answerEvent(put, answer.value, input)] : []),
      ...(put !== null && put.fact !== null && put.fact !== 'opening' && answer.taken === 'answered'
        ? [{ type: 'FACT' as const, question: put.id, text: input.text }]
        : []),
      ...(put?.fact === 'opening' && answer.taken === 'answered' ? [opening(flow, words, input)] : []),
      ...volunteered(flow, words, { input, own, skip: counts && put !== null ? put.findings : [], put }),
      ...askedAgain(flow, words, put),
    ],
  };
}

interface Reading {
  readonly input: HeardInput;
  readonly question: Question | null;
}

function understood(hearing: Hearing, { flow, standing }: At, { input, question }: Reading): HeardWords {
  const asked = question === null || question.kind === 'fact' || input.confirms !== null ? null : question;
  const [time] = standing.context.times;
  const heard = hearing.understand({
    text: input.text,
    asked: asked === null ? null : asked.kind === 'group' ? asked.findings : (asked.findings[0] ?? null),
    procedure: flow.id,
    day: time?.day ?? null,
    confidence: input.confidence,
  });
  const findings = Object.entries(heard.findings).filter(([id, value]) => {
    const spec = flow.findings[id];
    return spec !== undefined && isValueOf(spec, value);
  });
  return { ...heard, findings: Object.fromEntries(findings) };
}

interface Answering extends Reading {
  readonly standing: Standing;
  readonly words: HeardWords;
}

interface Answer {
  readonly taken: Exclude<Taken, 'late'>;
  readonly value: FindingValue | null;
}

const NOT_UNDERSTOOD: Answer = { taken: 'not-understood', value: null };

function answerOf(flow: Flow, answering: Answering): Answer {
  const { input, question, standing, words } = answering;
  if (question === null || input.aside !== null) return { taken: 'aside', value: null };
  if (input.confirms !== null) {
    const { right, value } = input.confirms;
    return right ? { taken: 'answered', value } : { taken: 'denied', value };
  }
  if (question.kind === 'fact') {
    return input.text.trim() === '' ? NOT_UNDERSTOOD : { taken: 'answered', value: null };
  }
  if (input.how === 'keys') {
    const [id = ''] = question.findings;
    const value = readKeyed(question, flow.findings[id] ?? null, input.text);
    return value === null ? NOT_UNDERSTOOD : { taken: 'answered', value };
  }
  return question.kind === 'group'
    ? groupAnswer(flow, standing, question, words)
    : oneAnswer(question, words);
}

/** A reassuring answer that was heard badly is read back before it counts; a worrying one stands. */
function oneAnswer(question: Question, words: HeardWords): Answer {
  const [id = ''] = question.findings;
  const value = words.findings[id];
  if (value === undefined) return NOT_UNDERSTOOD;
  const taken = words.confirm.includes(id) && value !== UNSURE ? 'read-back' : 'answered';
  return { taken, value };
}

/** Only a whole no settles a group. What worries opens the rest of it one by one, and so does all that is half said. */
function groupAnswer(flow: Flow, standing: Standing, question: Question, words: HeardWords): Answer {
  if (!words.understood) return NOT_UNDERSTOOD;
  const open = question.findings.filter((id) => standing.context.held[id] === undefined);
  const values = open.map((id) => words.findings[id]);
  const isNormal = open.every((id) => words.findings[id] === flow.findings[id]?.normal);
  if (isNormal) {
    const taken = open.some((id) => words.confirm.includes(id)) ? 'read-back' : 'answered';
    return { taken, value: 'no' };
  }
  const names = values.some((value, at) => value !== undefined && isWorrying(flow, open[at] ?? '', value));
  const isAbout = values.some((value) => value !== undefined);
  if (!isAbout) return NOT_UNDERSTOOD;
  return { taken: 'answered', value: names ? 'yes' : UNSURE };
}

function isWorrying(flow: Flow, id: FindingId, value: FindingValue): boolean {
  return value !== UNSURE && value !== flow.findings[id]?.normal;
}

function answerEvent(question: Question, value: FindingValue, input: HeardInput): MachineEvent {
  const correction: Correction = input.correction ?? 'taken-back';
  return { type: 'ANSWER', question: question.id, value, correction };
}

function opening(flow: Flow, words: HeardWords, input: HeardInput): MachineEvent {
  const stands = Object.entries(words.findings).filter(
    ([id, value]) => !words.confirm.includes(id) || isWorrying(flow, id, value),
  );
  return { type: 'OPENING', text: input.text, findings: Object.fromEntries(stands) };
}

interface Volunteering {
  readonly input: HeardInput;
  /** What a late answer settles by itself. */
  readonly own: Readonly<Record<FindingId, FindingValue>>;
  /** Settled by the answer itself. */
  readonly skip: readonly FindingId[];
  readonly put: Question | null;
}

/** Beside the answer only what worries counts; a reassuring aside never settles a question that was not put. */
function volunteered(flow: Flow, words: HeardWords, given: Volunteering): readonly MachineEvent[] {
  const { own, skip, put } = given;
  if (put?.fact === 'opening') return [];
  const named = put?.kind === 'group' ? [] : skip;
  const said = Object.entries(words.findings).filter(
    ([id, value]) => !named.includes(id) && isWorrying(flow, id, value),
  );
  const findings = { ...own, ...Object.fromEntries(said) };
  if (Object.keys(findings).length === 0) return [];
  return [{ type: 'SETTLE', findings, how: 'volunteered', correction: 'taken-back' }];
}

/** An answer whose question is gone counts only where it worries. */
function lateFindings(
  flow: Flow,
  question: Question,
  value: FindingValue | null,
): Readonly<Record<FindingId, FindingValue>> {
  const [id = ''] = question.findings;
  if (question.kind !== 'finding' || value === null || !isWorrying(flow, id, value)) return {};
  return { [id]: value };
}

/** A danger that is said to have passed is asked by itself: it is never settled as no. */
function askedAgain(flow: Flow, words: HeardWords, put: Question | null): readonly MachineEvent[] {
  const passed = words.confirm.find(
    (id) =>
      flow.findings[id]?.group === IMMEDIATE_DANGER &&
      (words.findings[id] ?? UNSURE) === UNSURE &&
      put?.findings.includes(id) !== true,
  );
  const question = flow.questions.find(
    ({ kind, findings }) => kind === 'finding' && passed !== undefined && findings[0] === passed,
  );
  return question === undefined ? [] : [{ type: 'REOPEN', question: question.id }];
}

interface Came {
  readonly input: HeardInput;
  /** After the reply. */
  readonly context: CallContext;
  readonly stamp: Stamp;
}

/** The reply as it came, and what it counted for: the record is rebuilt from the latter alone. */
export function heardEvents(flow: Flow, heard: HeardReply, came: Came): readonly NewEvent[] {
  const { input, stamp } = came;
  const { question, how, confidence, aside, correction } = input;
  const { taken, value, findings, confirm, danger } = heard;
  const open = { question, how, confidence, aside, taken, value, findings, confirm: [...confirm], danger };
  const whole = event('heard', stamp, { open, sealed: { text: input.text } });
  const parts = heard.events.flatMap((one) => partEvent(flow, one, { ...came, correction }));
  return [whole, ...parts];
}

function partEvent(
  flow: Flow,
  one: MachineEvent,
  { input, context, stamp, correction }: Came & Pick<HeardInput, 'correction'>,
): readonly NewEvent[] {
  switch (one.type) {
    case 'ANSWER': {
      const { question, value } = one;
      const asksAgain = context.again === question;
      return [event('answered', stamp, { open: { question, value, correction, asksAgain } })];
    }
    case 'FACT': {
      const fact = flow.questions.find(({ id }) => id === one.question)?.fact ?? null;
      const open = { question: one.question, fact };
      return [event('fact-written', stamp, { open, sealed: { text: one.text } })];
    }
    case 'OPENING':
      return [event('opening-heard', stamp, { open: {}, sealed: { text: one.text } })];
    case 'SETTLE': {
      const open = { findings: one.findings, correction };
      return [event('volunteered', stamp, { open, sealed: { words: input.text } })];
    }
    case 'REOPEN':
      return [event('reopened', stamp, { open: { question: one.question } })];
    case 'STARTED':
    case 'IDENTIFIED':
    case 'CUT_OFF':
    case 'TELL':
    case 'RAISE':
    case 'ASK_LOWERING':
    case 'LOWER':
    case 'ACCEPT':
    case 'CLOSE':
      return [];
  }
}
