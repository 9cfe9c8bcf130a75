/** What a turn writes into the record: what came in, and what was decided, both as they were. */
import type { Json } from '../basics/json.ts';
import type { Millis } from '../basics/clock.ts';
import type { Outcome } from '../clinical/outcome.ts';
import type { CompiledFlow, Flow } from '../flow/compiled.ts';
import { outcomeWords } from './advice.ts';
import type { Assessment } from './assess.ts';
import type { Actor, NewEvent } from './call-store.ts';
import type { Held } from './context.ts';
import type { TurnInput } from './input.ts';
import type { Standing } from './step.ts';

/** Every type an event can have, with the version that is written now. */
export const EVENT_VERSIONS = {
  'call-started': 1,
  heard: 1,
  'opening-heard': 1,
  identified: 1,
  'question-put': 1,
  answered: 1,
  'fact-written': 1,
  volunteered: 1,
  reopened: 1,
  'finding-settled': 1,
  'finding-withdrawn': 1,
  'finding-taken-back': 1,
  assessed: 1,
  noted: 1,
  'cut-off': 1,
  told: 1,
  raised: 1,
  'lowering-asked': 1,
  lowered: 1,
  accepted: 1,
  'handover-written': 1,
  promised: 1,
  attempted: 1,
  'paging-moved': 1,
  'promise-kept': 1,
  closed: 1,
  broke: 1,
} as const;
export type EventType = keyof typeof EVENT_VERSIONS;

export interface Stamp {
  readonly at: Millis;
  readonly by: Actor;
}

export function event(
  type: EventType,
  stamp: Stamp,
  parts: { readonly open: Json; readonly sealed?: Json },
): NewEvent {
  return {
    type,
    v: EVENT_VERSIONS[type],
    at: stamp.at,
    by: stamp.by,
    open: parts.open,
    sealed: parts.sealed ?? null,
  };
}

interface Starting {
  readonly compiled: CompiledFlow;
  readonly clinic: 'open' | 'closed';
  readonly stamp: Stamp;
}

interface StartedBy {
  readonly zone: string;
  readonly hearing: { readonly lexiconHash: string };
  readonly programVersion: string;
}

export function startedEvent(
  { zone, hearing, programVersion }: StartedBy,
  { callerNumber, channel, direction }: Extract<TurnInput, { kind: 'start' }>,
  { compiled: { flow, hash }, clinic, stamp }: Starting,
): NewEvent {
  const ran = { flow: flow.id, hash, lexicon: hearing.lexiconHash, program: programVersion };
  return event('call-started', stamp, {
    open: { channel, direction, zone, clinic, ...ran },
    sealed: { callerNumber },
  });
}

interface Taken {
  readonly compiled: CompiledFlow;
  readonly after: Standing;
}

/** What came in, as an event. Words and names are sealed. */
export function inputEvent(input: TurnInput, { compiled, after }: Taken, stamp: Stamp): NewEvent | null {
  switch (input.kind) {
    case 'opening':
      return event('opening-heard', stamp, { open: {}, sealed: { text: input.text } });
    case 'answer':
      return event('answered', stamp, {
        open: {
          question: input.question,
          value: input.value,
          correction: input.correction,
          asksAgain: after.context.again === input.question,
        },
      });
    case 'fact':
      return event('fact-written', stamp, {
        open: {
          question: input.question,
          fact: compiled.flow.questions.find(({ id }) => id === input.question)?.fact ?? null,
        },
        sealed: { text: input.text },
      });
    case 'volunteer':
      return event('volunteered', stamp, {
        open: { findings: input.findings, correction: input.correction },
        sealed: { words: input.words },
      });
    case 'reopen':
      return event('reopened', stamp, { open: { question: input.question } });
    case 'note':
      return event('noted', stamp, { open: {}, sealed: { text: input.text } });
    case 'cut-off':
      return event('cut-off', stamp, { open: { how: input.how } });
    case 'raise':
      return event('raised', stamp, { open: plain(input.to), sealed: { why: input.why } });
    case 'ask-lowering':
      return event('lowering-asked', stamp, { open: plain(input.to), sealed: { why: input.why } });
    case 'lower':
      return event('lowered', stamp, {
        open: { ...plain(input.to), spokeToPatient: input.spokeToPatient },
        sealed: { clinician: input.clinician, why: input.why },
      });
    case 'close':
      return event('closed', stamp, {
        open: { understood: input.understood },
        sealed: { agreed: input.agreed },
      });
    case 'attempt': {
      const { what, message, rung, staff, came, providerId } = input;
      const promise = after.context.promises.escalation?.id ?? null;
      return event('attempted', stamp, { open: { what, message, promise, rung, staff, came, providerId } });
    }
    case 'promise-kept': {
      const id = after.context.promises[input.promise]?.id ?? null;
      return event('promise-kept', stamp, {
        open: { promise: id, kind: input.promise, result: input.result },
        sealed: { text: input.text },
      });
    }
    case 'send-advice':
    case 'start':
    case 'heard':
    case 'back':
    case 'tell':
    case 'accept':
    case 'identify':
    case 'operation':
      // Written by the turn, which knows the flow and what was re-opened, told, accepted or identified.
      return null;
  }
}

/** Who accepted, what they accepted, and whether that is somebody else's word. */
export function acceptedEvent(
  { clinician, reported }: Extract<TurnInput, { kind: 'accept' }>,
  after: Standing,
  stamp: Stamp,
): NewEvent {
  const open = plain(after.assessment.outcome);
  return event('accepted', stamp, {
    open: reported === true ? { ...open, reported } : open,
    sealed: { clinician },
  });
}

function plain(outcome: Outcome): { outcome: string; within: string; emergency: boolean } {
  return { outcome: outcome.outcome, within: outcome.within, emergency: outcome.emergency };
}

/** What changed between two standings: findings, the outcome with its reasons, the question that is put now. */
export function changeEvents(
  compiled: CompiledFlow,
  stands: { readonly before: Standing | null; readonly after: Standing },
  stamp: Stamp,
): readonly NewEvent[] {
  const { before, after } = stands;
  return [
    ...findingEvents(before, after, stamp),
    ...assessedEvents(before?.assessment ?? null, after.assessment, stamp),
    ...questionEvents(compiled.flow, stands, stamp),
  ];
}

function findingEvents(before: Standing | null, after: Standing, stamp: Stamp): readonly NewEvent[] {
  const was = before?.context.held ?? {};
  const is = after.context.held;
  const settled = Object.entries(is).flatMap(([id, held]) => {
    const former = was[id];
    if (former !== undefined && isSame(former, held)) return [];
    if (held.takenBackTo !== null) {
      return [
        event('finding-taken-back', stamp, {
          open: { finding: id, stands: held.value, now: held.takenBackTo },
        }),
      ];
    }
    const open = { finding: id, value: held.value, how: held.how, question: held.question };
    return [event('finding-settled', stamp, { open: { ...open, was: former?.value ?? null } })];
  });
  const withdrawn = Object.entries(was).flatMap(([id, held]) => {
    if (is[id] !== undefined) return [];
    // Its question is put again only if it is open again with the finding.
    const again = held.question !== null && !after.context.asked.includes(held.question);
    const open = { finding: id, was: held.value, question: again ? held.question : null };
    return [event('finding-withdrawn', stamp, { open })];
  });
  return [...withdrawn, ...settled];
}

function isSame(a: Held, b: Held): boolean {
  return (
    a.value === b.value && a.how === b.how && a.question === b.question && a.takenBackTo === b.takenBackTo
  );
}

function assessedEvents(before: Assessment | null, after: Assessment, stamp: Stamp): readonly NewEvent[] {
  if (before !== null && JSON.stringify(before) === JSON.stringify(after)) return [];
  return [event('assessed', stamp, { open: assessmentJson(after) })];
}

export function assessmentJson(assessment: Assessment): Json {
  return JSON.parse(JSON.stringify(assessment)) as Json;
}

function questionEvents(
  flow: Flow,
  { before, after }: { readonly before: Standing | null; readonly after: Standing },
  stamp: Stamp,
): readonly NewEvent[] {
  const { question } = after;
  if (question === null) return [];
  if (before?.question?.id === question.id && before.again === after.again) return [];
  const words = stamp.by === 'line' || stamp.by === 'text' ? question.spoken : question.words;
  const open = { question: question.id, again: after.again, words };
  return [event('question-put', stamp, { open: { ...open, flow: flow.id } })];
}

/** The words that were told, verbatim, with the outcome they tell. */
export function toldEvent(compiled: CompiledFlow, after: Standing, stamp: Stamp): NewEvent {
  const { outcome, act } = after.assessment;
  const words = outcomeWords(compiled.flow, after);
  return event('told', stamp, { open: { ...plain(outcome), act, words } });
}
