/** Rebuilds where a call stands from its events alone, for when its snapshot does not fit the program any more. */
import { z } from 'zod';
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { CompiledFlow } from '../flow/compiled.ts';
import { pagingSchema } from './attempt.ts';
import type { CallStore, StoredEvent } from './call-store.ts';
import {
  contextSchema,
  emptyContext,
  factIdSchema,
  outcomeSchema,
  type CallContext,
  type Held,
} from './context.ts';
import type { Runners } from './load-call.ts';
import type { EventType } from './events.ts';
import { CHOOSING, CLOSED, highest, raisedTo, withoutRecord, type MachineEvent } from './machine.ts';
import { raiserOf } from './raiser.ts';
import { resolve, type Snapshot } from './snapshot.ts';
import { step, type Runner } from './step.ts';
import { readEvent } from './upcast.ts';

interface RebuildDeps {
  readonly store: CallStore;
  readonly runners: Runners;
}

export async function rebuild(
  deps: RebuildDeps,
  call: CallId,
  compiled: CompiledFlow,
): Promise<Result<{ readonly runner: Runner; readonly snapshot: Snapshot }, Fault>> {
  const events = await deps.store.events(call);
  if (!events.ok) return failed(fault('store-down', 'The record cannot be read now.'));
  const runner = deps.runners.of(compiled);
  const context = contextFrom(events.value);
  const resting = resolve(runner.machine, { value: { open: CHOOSING }, context });
  const chosen = stepOr(runner, resting, { type: 'SETTLE', ...NOTHING_NEW });
  if (events.value.some(({ type }) => type === 'closed')) {
    return ok({ runner, snapshot: resolve(runner.machine, { value: CLOSED, context: chosen.context }) });
  }
  const reopened = reopenedLast(events.value);
  return ok({
    runner,
    snapshot: reopened === null ? chosen : stepOr(runner, chosen, { type: 'REOPEN', question: reopened }),
  });
}

const reportedSchema = z.object({ reported: z.exactOptional(z.literal(true)) });

/** Lets the hub choose again without changing what is known. */
const NOTHING_NEW = { findings: {}, how: 'record', correction: 'mis-keyed' } as const;

function stepOr(runner: Runner, snapshot: Snapshot, event: MachineEvent): Snapshot {
  const next = step(runner, snapshot, event);
  return next.ok ? next.value : snapshot;
}

/** The question that was re-opened and waits for its answer, or null. */
function reopenedLast(events: readonly StoredEvent[]): string | null {
  return events.reduce<string | null>((waiting, stored) => {
    const { type, open } = readEvent(stored);
    if (type === 'reopened') return questionSchema.parse(open).question;
    return CHOOSES_AGAIN.some((one) => one === type) ? null : waiting;
  }, null);
}

/** What comes in and makes the call choose its next question. */
const CHOOSES_AGAIN: readonly EventType[] = [
  'opening-heard',
  'identified',
  'answered',
  'fact-written',
  'volunteered',
  'cut-off',
  'told',
  'raised',
];

/** Folds the recorded decisions; what cannot be read (erased words) stays unknown. */
function contextFrom(events: readonly StoredEvent[]): CallContext {
  const folded = events.reduce((context, stored) => fold(context, stored), emptyContext());
  const checked = contextSchema.safeParse(folded);
  return checked.success ? checked.data : emptyContext();
}

const answeredSchema = z.object({ question: z.string(), asksAgain: z.boolean() });
const factSchema = z.object({ question: z.string(), fact: factIdSchema.nullable() });
const questionSchema = z.object({ question: z.string() });
const { times, clinic, earlierCalls } = contextSchema.shape;
const startedSchema = z.object({ clinic });
const settledSchema = z.object({
  finding: z.string(),
  value: z.union([z.string(), z.number()]),
  how: z.enum(['asked', 'group', 'volunteered', 'record']),
  question: z.string().nullable(),
});
const withdrawnSchema = z.object({ finding: z.string(), question: z.string().nullable() });
const takenSchema = z.object({ finding: z.string(), now: z.union([z.string(), z.number()]) });
const pagingMovedSchema = z.object({ paging: pagingSchema.nullable() });
const identifiedSchema = z.object({ times, clinic, earlierCalls });

function fold(context: CallContext, stored: StoredEvent): CallContext {
  const { type, open, sealed } = readEvent(stored);
  switch (type) {
    case 'call-started':
      return { ...withNumber(context, sealed), ...startedSchema.parse(open) };
    case 'opening-heard':
      return { ...context, opening: textOf(sealed) ?? '' };
    case 'identified':
      return identified(context, open, sealed);
    case 'answered':
      return answered(context, answeredSchema.parse(open));
    case 'fact-written':
      return factWritten(context, { open, sealed });
    case 'finding-settled':
      return settled(context, settledSchema.parse(open));
    case 'finding-taken-back':
      return takenBack(context, takenSchema.parse(open));
    case 'finding-withdrawn':
      return withdrawn(context, withdrawnSchema.parse(open));
    case 'cut-off':
      return { ...context, ending: 'cut-off', again: null };
    case 'told':
      return { ...context, told: highest(context.told, outcomeSchema.parse(open)) };
    case 'raised':
      return { ...context, ...raisedTo(context, { to: outcomeSchema.parse(open), by: raiserOf(stored.by) }) };
    case 'lowering-asked':
      return { ...context, loweringAsked: outcomeSchema.parse(open) };
    case 'lowered':
      return lowered(context, stored, { open, sealed });
    case 'accepted': {
      const clinician = z.object({ clinician: z.string() }).safeParse(sealed);
      return {
        ...context,
        accepted: {
          clinician: clinician.data?.clinician ?? '?',
          at: stored.at,
          to: outcomeSchema.parse(open),
          ...reportedSchema.parse(open),
        },
      };
    }
    case 'promised':
      return { ...context, promises: contextSchema.shape.promises.parse(open) };
    case 'paging-moved':
      return { ...context, ...pagingMovedSchema.parse(open) };
    case 'attempted':
    case 'question-put':
    case 'heard':
    case 'volunteered':
    case 'reopened':
    case 'assessed':
    case 'noted':
    case 'handover-written':
    case 'promise-kept':
    case 'closed':
    case 'broke':
      return context;
  }
}

function textOf(sealed: unknown): string | null {
  return z.object({ text: z.string() }).safeParse(sealed).data?.text ?? null;
}

function withNumber(context: CallContext, sealed: unknown): CallContext {
  const number = z.object({ callerNumber: z.string() }).safeParse(sealed).data?.callerNumber;
  return number === undefined
    ? context
    : { ...context, facts: { ...context.facts, 'call-back-number': number } };
}

function identified(context: CallContext, open: unknown, sealed: unknown): CallContext {
  const facts = contextSchema.shape.facts.safeParse(sealed).data ?? {};
  const own = withoutRecord(context);
  const brought = contextSchema.shape.recordFacts.parse(
    Object.keys(facts).filter((fact) => !Object.hasOwn(own.facts, fact)),
  );
  return {
    ...own,
    // The findings that go with the former record are withdrawn by events of their own.
    held: context.held,
    ...identifiedSchema.parse(open),
    facts: { ...facts, ...own.facts },
    recordFacts: brought,
    lowered: null,
  };
}

/** "I don't know" counts as asked the second time; until then the question is put again. */
function answered(context: CallContext, given: z.infer<typeof answeredSchema>): CallContext {
  if (given.asksAgain) return { ...context, again: given.question };
  return { ...context, asked: withQuestion(context.asked, given.question), again: null };
}

function withQuestion(asked: readonly string[], question: string): string[] {
  return asked.includes(question) ? [...asked] : [...asked, question];
}

function factWritten(
  context: CallContext,
  { open, sealed }: { readonly open: unknown; readonly sealed: unknown },
): CallContext {
  const { question, fact } = factSchema.parse(open);
  const asked = withQuestion(context.asked, question);
  if (fact === null) return { ...context, asked };
  return {
    ...context,
    asked,
    facts: { ...context.facts, [fact]: textOf(sealed) ?? '?' },
    recordFacts: context.recordFacts.filter((one) => one !== fact),
  };
}

function settled(context: CallContext, given: z.infer<typeof settledSchema>): CallContext {
  const before = context.held[given.finding];
  const changed = before?.value !== given.value || before.takenBackTo !== null;
  const held: Held = { value: given.value, how: given.how, question: given.question, takenBackTo: null };
  const asked = given.how === 'asked' && given.question !== null;
  return {
    ...context,
    held: { ...context.held, [given.finding]: held },
    asked: given.question !== null && asked ? withQuestion(context.asked, given.question) : context.asked,
    again: asked ? null : context.again,
    lowered: changed ? null : context.lowered,
  };
}

function takenBack(context: CallContext, given: z.infer<typeof takenSchema>): CallContext {
  const held = context.held[given.finding];
  if (held === undefined) return context;
  return { ...context, held: { ...context.held, [given.finding]: { ...held, takenBackTo: given.now } } };
}

function withdrawn(
  context: CallContext,
  { finding, question }: z.infer<typeof withdrawnSchema>,
): CallContext {
  const held = Object.fromEntries(Object.entries(context.held).filter(([id]) => id !== finding));
  return { ...context, held, asked: context.asked.filter((id) => id !== question) };
}

function lowered(
  context: CallContext,
  stored: StoredEvent,
  { open, sealed }: { readonly open: unknown; readonly sealed: unknown },
): CallContext {
  const spoke = z.object({ spokeToPatient: z.boolean() }).parse(open);
  const clinician = z.object({ clinician: z.string() }).safeParse(sealed).data?.clinician;
  if (clinician === undefined) return context;
  return {
    ...context,
    loweringAsked: null,
    lowered: {
      to: outcomeSchema.parse(open),
      clinician,
      confirmedAt: stored.at,
      spokeToPatient: spoke.spokeToPatient,
    },
  };
}
