/** Rebuilds where a call stands from its events alone, for when its snapshot does not fit the program any more. */
import { z } from 'zod';
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { CompiledFlow, Flow } from '../flow/compiled.ts';
import type { CallStore, StoredEvent } from './call-store.ts';
import { contextSchema, emptyContext, type CallContext, type Held } from './context.ts';
import type { Runners } from './load-call.ts';
import { CHOOSING, CLOSED, type MachineEvent } from './machine.ts';
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
  const context = contextFrom(compiled.flow, events.value);
  if (events.value.some(({ type }) => type === 'closed')) {
    return ok({ runner, snapshot: resolve(runner.machine, { value: CLOSED, context }) });
  }
  const resting = resolve(runner.machine, { value: { open: CHOOSING }, context });
  const next = step(runner, resting, nudge(context));
  return ok({ runner, snapshot: next.ok ? next.value : resting });
}

/** Lets the hub choose again without changing what is known. */
function nudge(context: CallContext): MachineEvent {
  if (context.ending === 'cut-off') return { type: 'CUT_OFF' };
  return { type: 'SETTLE', findings: {}, how: 'record', correction: 'mis-keyed' };
}

/** Folds the recorded decisions; what cannot be read (erased words) stays unknown. */
export function contextFrom(flow: Flow, events: readonly StoredEvent[]): CallContext {
  const folded = events.reduce((context, stored) => fold(flow, context, stored), emptyContext());
  const checked = contextSchema.safeParse(folded);
  return checked.success ? checked.data : emptyContext();
}

const answeredSchema = z.object({ question: z.string(), value: z.union([z.string(), z.number()]) });
const settledSchema = z.object({
  finding: z.string(),
  value: z.union([z.string(), z.number()]),
  how: z.enum(['asked', 'group', 'volunteered', 'record']),
  question: z.string().nullable(),
});
const takenSchema = z.object({ finding: z.string(), now: z.union([z.string(), z.number()]) });
const identifiedSchema = contextSchema.pick({ times: true, clinic: true, earlierCalls: true });
const outcomeSchema = contextSchema.shape.told.unwrap();

function fold(flow: Flow, context: CallContext, stored: StoredEvent): CallContext {
  const { type, open, sealed } = readEvent(stored);
  switch (type) {
    case 'call-started':
      return withNumber(context, sealed);
    case 'opening-heard':
      return { ...context, opening: textOf(sealed) ?? '' };
    case 'identified':
      return identified(context, open, sealed);
    case 'answered':
      return answered(flow, context, answeredSchema.parse(open));
    case 'fact-written':
      return factWritten(flow, context, { open, sealed });
    case 'finding-settled':
      return settled(context, settledSchema.parse(open));
    case 'finding-taken-back':
      return takenBack(context, takenSchema.parse(open));
    case 'finding-withdrawn':
      return withdrawn(context, z.object({ finding: z.string() }).parse(open).finding);
    case 'cut-off':
      return { ...context, ending: 'cut-off' };
    case 'told':
      return { ...context, told: outcomeSchema.parse(open) };
    case 'raised':
      return { ...context, raised: outcomeSchema.parse(open) };
    case 'lowering-asked':
      return { ...context, loweringAsked: outcomeSchema.parse(open) };
    case 'lowered':
      return lowered(context, stored, { open, sealed });
    case 'accepted': {
      const clinician = z.object({ clinician: z.string() }).safeParse(sealed);
      return { ...context, accepted: { clinician: clinician.data?.clinician ?? '?', at: stored.at } };
    }
    case 'promised':
      return { ...context, promises: contextSchema.shape.promises.parse(open) };
    case 'question-put':
    case 'volunteered':
    case 'reopened':
    case 'assessed':
    case 'noted':
    case 'handover-written':
    case 'closed':
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
  return { ...context, ...identifiedSchema.parse(open), facts: { ...facts, ...context.facts } };
}

/** "I don't know" to a single question counts as asked only once it was settled, which is another event. */
function answered(flow: Flow, context: CallContext, given: z.infer<typeof answeredSchema>): CallContext {
  const question = flow.questions.find(({ id }) => id === given.question);
  if (context.asked.includes(given.question)) return context;
  if (question?.kind === 'finding' && given.value === 'unsure') return context;
  return { ...context, asked: [...context.asked, given.question] };
}

function factWritten(
  flow: Flow,
  context: CallContext,
  { open, sealed }: { readonly open: unknown; readonly sealed: unknown },
): CallContext {
  const { question: id } = z.object({ question: z.string() }).parse(open);
  const fact = flow.questions.find((question) => question.id === id)?.fact ?? null;
  const asked = context.asked.includes(id) ? context.asked : [...context.asked, id];
  if (fact === null) return { ...context, asked };
  return { ...context, asked, facts: { ...context.facts, [fact]: textOf(sealed) ?? '?' } };
}

function settled(context: CallContext, given: z.infer<typeof settledSchema>): CallContext {
  const held: Held = { value: given.value, how: given.how, question: given.question, takenBackTo: null };
  const isNew = given.how === 'asked' && given.question !== null && !context.asked.includes(given.question);
  return {
    ...context,
    held: { ...context.held, [given.finding]: held },
    asked: isNew && given.question !== null ? [...context.asked, given.question] : context.asked,
    lowered: null,
  };
}

function takenBack(context: CallContext, given: z.infer<typeof takenSchema>): CallContext {
  const held = context.held[given.finding];
  if (held === undefined) return context;
  return { ...context, held: { ...context.held, [given.finding]: { ...held, takenBackTo: given.now } } };
}

function withdrawn(context: CallContext, finding: string): CallContext {
  const { [finding]: gone, ...held } = context.held;
  return { ...context, held, asked: context.asked.filter((id) => id !== gone?.question) };
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
