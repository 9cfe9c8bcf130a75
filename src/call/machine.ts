/**
 * The call as an XState machine: a hub that asks the agenda, a state per question, then outcome and closed.
 * Guards and actions call the deciding functions and decide nothing themselves; there is no I/O, `after` or `invoke`.
 */
import { assign, setup, type MachineContext } from 'xstate';
import type { FindingId, FindingValue } from '../clinical/finding.ts';
import { rank, worse, type Outcome } from '../clinical/outcome.ts';
import type { TimeSince } from '../clinical/window.ts';
import type { FactId, Flow, Question } from '../flow/compiled.ts';
import type { Agenda } from './agenda.ts';
import { mayLowerFrom } from './assess.ts';
import type { ConfirmedLowering, EarlierCall, RaisedBy } from './circumstances.ts';
import { whatClosingNeeds } from './closing.ts';
import { emptyContext, type CallContext } from './context.ts';
import { answerGroup, settle, type Correction } from './settle.ts';
import { agendaOf, assessmentOf, circumstancesOf } from './standing.ts';

export type MachineEvent =
  | {
      readonly type: 'ANSWER';
      readonly question: string;
      readonly value: FindingValue;
      readonly correction: Correction;
    }
  | { readonly type: 'FACT'; readonly question: string; readonly text: string }
  | {
      readonly type: 'SETTLE';
      readonly findings: Readonly<Record<FindingId, FindingValue>>;
      readonly how: 'volunteered' | 'record';
      readonly correction: Correction;
    }
  | {
      readonly type: 'OPENING';
      readonly text: string;
      readonly findings: Readonly<Record<FindingId, FindingValue>>;
    }
  | { readonly type: 'REOPEN'; readonly question: string }
  | { readonly type: 'STARTED'; readonly clinic: 'open' | 'closed'; readonly callerNumber: string | null }
  | {
      readonly type: 'IDENTIFIED';
      readonly times: readonly TimeSince[];
      readonly clinic: 'open' | 'closed';
      readonly earlierCalls: readonly EarlierCall[];
      readonly known: Readonly<Record<FindingId, FindingValue>>;
      readonly facts: Readonly<Partial<Record<FactId, string>>>;
    }
  | { readonly type: 'CUT_OFF' }
  | { readonly type: 'TELL' }
  | { readonly type: 'RAISE'; readonly to: Outcome; readonly by: RaisedBy }
  | { readonly type: 'ASK_LOWERING'; readonly to: Outcome }
  | { readonly type: 'LOWER'; readonly lowering: ConfirmedLowering }
  | { readonly type: 'ACCEPT'; readonly clinician: string; readonly at: number; readonly reported: boolean }
  | { readonly type: 'CLOSE'; readonly understood: boolean };

export const CHOOSING = 'choosing';
export const OUTCOME = 'outcome';
export const CLOSED = 'closed';

/** The state in which a question is being asked. */
export function askState(question: string): string {
  return `ask-${question}`;
}

export type CallMachine = ReturnType<typeof buildMachine>;

export function buildMachine(flow: Flow) {
  const agendas = new WeakMap<CallContext, Agenda>();
  const nextOf = (context: CallContext): Agenda => {
    const known = agendas.get(context) ?? reopenedAgain(flow, context) ?? agendaOf(flow, context);
    agendas.set(context, known);
    return known;
  };
  const machine = setup({
    types: { context: {} as CallContext & MachineContext, events: {} as MachineEvent },
    guards: {
      isOver: ({ context }) => context.ending === 'cut-off' || 'finished' in nextOf(context),
      isNext: ({ context }, { question }: { question: string }) => {
        const next = nextOf(context);
        return 'ask' in next && next.ask.id === question;
      },
      isAbout: ({ event }, { question }: { question: string }) =>
        'question' in event && event.question === question,
      mayLower: ({ context, event }) =>
        event.type === 'LOWER' &&
        (context.accepted === null || event.lowering.spokeToPatient) &&
        mayLowerFrom(assessmentOf(flow, context).outcome, {
          ...circumstancesOf(flow, context),
          lowered: event.lowering,
        }),
      mayConfirm: ({ context, event }) =>
        event.type === 'ACCEPT' && !event.reported && context.accepted?.reported === true,
      mayClose: ({ context, event }) =>
        event.type === 'CLOSE' &&
        whatClosingNeeds(assessmentOf(flow, context).outcome, context, event.understood).length === 0,
    },
    actions: {
      change: assign(({ context, event }) => changed(flow, context, event)),
      finish: assign(({ context }) => {
        if (context.ending === 'cut-off') return {};
        const next = nextOf(context);
        return { ending: 'finished' as const, limitReached: 'finished' in next && next.finished === 'limit' };
      }),
    },
  });
  const back = { actions: 'change', target: `#open.${CHOOSING}` } as const;
  const stay = { actions: 'change' } as const;
  return machine.createMachine({
    id: 'call',
    context: emptyContext(),
    initial: 'open',
    states: {
      open: {
        id: 'open',
        initial: CHOOSING,
        states: {
          [CHOOSING]: {
            always: [
              { guard: 'isOver', target: OUTCOME, actions: 'finish' },
              ...flow.questions.map((question) => ({
                guard: { type: 'isNext' as const, params: { question: question.id } },
                target: askState(question.id),
              })),
            ],
          },
          ...Object.fromEntries(
            flow.questions.map((question) => [
              askState(question.id),
              {
                on: {
                  ANSWER: { ...back, guard: { type: 'isAbout' as const, params: { question: question.id } } },
                  FACT: { ...back, guard: { type: 'isAbout' as const, params: { question: question.id } } },
                },
              },
            ]),
          ),
          [OUTCOME]: {
            on: {
              TELL: stay,
              ASK_LOWERING: stay,
              CLOSE: { guard: 'mayClose', target: `#${CLOSED}` },
            },
          },
        },
        on: {
          SETTLE: back,
          OPENING: back,
          STARTED: back,
          IDENTIFIED: back,
          CUT_OFF: back,
          TELL: back,
          RAISE: back,
          ASK_LOWERING: stay,
          LOWER: { guard: 'mayLower', ...stay },
          ACCEPT: stay,
          REOPEN: flow.questions.map((question) => ({
            guard: { type: 'isAbout' as const, params: { question: question.id } },
            target: `#open.${askState(question.id)}`,
          })),
        },
      },
      // A call closes with the name of the clinician who accepted; that clinician's own word may come later.
      [CLOSED]: { id: CLOSED, on: { ACCEPT: { guard: 'mayConfirm', ...stay } } },
    },
  });
}

/** A reopened question that was answered "I don't know" once is put again before anything else. */
function reopenedAgain(flow: Flow, context: CallContext): Agenda | null {
  if (context.again === null || !context.asked.includes(context.again)) return null;
  const question = questionOf(flow, context.again);
  return question === undefined ? null : { ask: question };
}

/** The context after an event. What an event may do in which state is the machine's affair. */
function changed(flow: Flow, context: CallContext, event: MachineEvent): Partial<CallContext> {
  switch (event.type) {
    case 'ANSWER':
      return answered(flow, context, event);
    case 'FACT':
      return factWritten(flow, context, event);
    case 'SETTLE':
      return settleAll(flow, context, event);
    case 'OPENING':
      return {
        ...settleAll(flow, context, { ...event, how: 'volunteered', correction: 'taken-back' }),
        opening: event.text,
      };
    case 'STARTED':
      return {
        clinic: event.clinic,
        facts:
          event.callerNumber === null
            ? context.facts
            : { ...context.facts, 'call-back-number': event.callerNumber },
      };
    case 'IDENTIFIED':
      return identified(flow, context, event);
    case 'CUT_OFF':
      return { ending: 'cut-off', again: null };
    case 'TELL':
      return { told: highest(context.told, assessmentOf(flow, context).outcome) };
    case 'RAISE':
      return raisedTo(context, event);
    case 'ASK_LOWERING':
      return { loweringAsked: event.to };
    case 'LOWER':
      return { lowered: event.lowering, loweringAsked: null };
    case 'ACCEPT':
      return {
        accepted: {
          clinician: event.clinician,
          at: event.at,
          to: assessmentOf(flow, context).outcome,
          ...(event.reported ? { reported: true as const } : {}),
        },
      };
    case 'REOPEN':
    case 'CLOSE':
      return {};
  }
}

/** What another record brought is dropped first: a corrected patient has none of the former one's allergies. */
function identified(
  flow: Flow,
  context: CallContext,
  event: Extract<MachineEvent, { type: 'IDENTIFIED' }>,
): CallContext {
  const own = withoutRecord(context);
  const brought = (Object.keys(event.facts) as FactId[]).filter((fact) => own.facts[fact] === undefined);
  return {
    ...settleAll(flow, own, { findings: event.known, how: 'record', correction: 'taken-back' }),
    times: [...event.times],
    clinic: event.clinic,
    earlierCalls: [...event.earlierCalls],
    facts: { ...event.facts, ...own.facts },
    recordFacts: brought,
    // It was lowered for another day or another patient.
    lowered: null,
  };
}

/** What is left when everything that only the record said is taken away. */
export function withoutRecord(context: CallContext): CallContext {
  const facts = Object.entries(context.facts).filter(
    ([fact]) => !context.recordFacts.some((one) => one === fact),
  );
  return {
    ...context,
    held: Object.fromEntries(Object.entries(context.held).filter(([, held]) => held.how !== 'record')),
    facts: Object.fromEntries(facts),
    recordFacts: [],
  };
}

/** A raise counts after a lowering, too: what the clinician lowered to is then the least. */
export function raisedTo(
  context: CallContext,
  { to, by }: { readonly to: Outcome; readonly by: RaisedBy },
): Pick<CallContext, 'raised' | 'raisedBy' | 'lowered'> {
  const { lowered } = context;
  return {
    raised: highest(context.raised, to),
    raisedBy: context.raised === null || rank(to) > rank(context.raised) ? by : context.raisedBy,
    lowered: lowered === null ? null : { ...lowered, to: worse(lowered.to, to) },
  };
}

/** The worse of what was before, if anything was, and what is now. */
export function highest(before: Outcome | null, now: Outcome): Outcome {
  return before === null ? now : worse(before, now);
}

interface Settlings {
  readonly findings: Readonly<Record<FindingId, FindingValue>>;
  readonly how: 'volunteered' | 'record';
  readonly correction: Correction;
}

/** What the record knows never replaces what the caller said. */
function settleAll(flow: Flow, context: CallContext, given: Settlings): CallContext {
  return Object.entries(given.findings).reduce((settled, [finding, value]) => {
    if (given.how === 'record' && settled.held[finding] !== undefined) return settled;
    return settle(flow, settled, {
      finding,
      value,
      how: given.how,
      question: null,
      correction: given.correction,
    });
  }, context);
}

type Answer = Extract<MachineEvent, { type: 'ANSWER' }>;

/** "I don't know" is asked once more in other words before it is taken as such. */
function answered(flow: Flow, context: CallContext, event: Answer): CallContext {
  const question = questionOf(flow, event.question);
  if (question === undefined) return context;
  const [finding] = question.findings;
  const asked = context.asked.includes(question.id) ? context.asked : [...context.asked, question.id];
  if (question.kind === 'group') {
    return answerGroup(
      flow,
      { ...context, asked, again: null },
      { group: question, value: String(event.value) },
    );
  }
  if (finding === undefined) return context;
  // After a call was cut off nobody is there to be asked again.
  const first = context.again !== question.id && context.ending !== 'cut-off';
  if (event.value === 'unsure' && first && isAskedAgain(flow, finding)) {
    return { ...context, again: question.id };
  }
  return settle(
    flow,
    { ...context, asked, again: null },
    { finding, value: event.value, how: 'asked', question: question.id, correction: event.correction },
  );
}

/** What the caller has no means to measure is not asked twice. */
function isAskedAgain(flow: Flow, finding: FindingId): boolean {
  const spec = flow.findings[finding];
  return spec !== undefined && spec.kind !== 'number';
}

function factWritten(
  flow: Flow,
  context: CallContext,
  event: Extract<MachineEvent, { type: 'FACT' }>,
): CallContext {
  const question = questionOf(flow, event.question);
  if (question === undefined || question.fact === null) return context;
  const asked = context.asked.includes(question.id) ? context.asked : [...context.asked, question.id];
  const { fact } = question;
  return {
    ...context,
    asked,
    facts: { ...context.facts, [fact]: event.text },
    recordFacts: context.recordFacts.filter((one) => one !== fact),
  };
}

function questionOf(flow: Flow, id: string): Question | undefined {
  return flow.questions.find((question) => question.id === id);
}
