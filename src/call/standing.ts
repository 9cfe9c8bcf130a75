/** Reads a call's context for the two deciding functions: what is known, under which circumstances, and what they say. */
import type { FindingId, FindingValue, Findings } from '../clinical/finding.ts';
import { rank } from '../clinical/outcome.ts';
import type { FactId, Flow } from '../flow/compiled.ts';
import { agenda, isGroupOpen, isScreenFinished, type Agenda, type Asked } from './agenda.ts';
import { assess, type Assessment } from './assess.ts';
import type { Circumstances } from './circumstances.ts';
import type { CallContext } from './context.ts';

const known = new WeakMap<CallContext['held'], Findings>();

/** The values that count, by finding; frozen, and the same object for the same held findings. */
export function findingsOf({ held }: CallContext): Findings {
  const before = known.get(held);
  if (before !== undefined) return before;
  const findings: Record<FindingId, FindingValue> = {};
  for (const [id, { value }] of Object.entries(held)) findings[id] = value;
  known.set(held, Object.freeze(findings));
  return findings;
}

function askedOf(context: CallContext): Asked {
  const facts = Object.keys(context.facts) as FactId[];
  return { questions: context.asked, facts: context.opening === null ? facts : [...facts, 'opening'] };
}

interface Read {
  readonly flow: Flow;
  readonly circumstances: Circumstances;
  /** Null until somebody asks for it. */
  assessment: Assessment | null;
}

const read = new WeakMap<CallContext, Read>();

/** A turn looks at the same context several times; it is read once for the flow that it last stood on. */
function readOnce(flow: Flow, context: CallContext): Read {
  const before = read.get(context);
  if (before?.flow === flow) return before;
  const now: Read = { flow, circumstances: circumstancesNow(flow, context), assessment: null };
  read.set(context, now);
  return now;
}

export function circumstancesOf(flow: Flow, context: CallContext): Circumstances {
  return readOnce(flow, context).circumstances;
}

function circumstancesNow(flow: Flow, context: CallContext): Circumstances {
  const findings = findingsOf(context);
  return {
    times: context.times,
    clinic: context.clinic,
    earlierCalls: context.earlierCalls,
    ending: context.ending,
    screenFinished: isScreenFinished(flow, findings),
    groupOpen: isGroupOpen(flow, findings, askedOf(context)),
    silent: isSilent(context),
    limitReached: context.limitReached,
    told: context.told,
    raised: context.raised,
    raisedBy: context.raisedBy,
    lowered: context.lowered,
    takenBack: Object.entries(context.held).flatMap(([id, held]) => (held.takenBackTo === null ? [] : [id])),
  };
}

function isSilent(context: CallContext): boolean {
  const said = Object.values(context.held).some(({ how }) => how !== 'record');
  return context.asked.length === 0 && context.opening === null && !said;
}

/** What was said and what it was taken back to both count: the worse of the two, finding by finding. */
export function assessmentOf(flow: Flow, context: CallContext): Assessment {
  const once = readOnce(flow, context);
  once.assessment ??= assessmentNow(flow, context, once.circumstances);
  return once.assessment;
}

function assessmentNow(flow: Flow, context: CallContext, circumstances: Circumstances): Assessment {
  const findings = findingsOf(context);
  return circumstances.takenBack.reduce(
    (worst, id) => {
      const now = context.held[id]?.takenBackTo ?? null;
      if (now === null) return worst;
      const other = assess(flow, circumstances, { ...findings, [id]: now });
      return rank(other.outcome) > rank(worst.outcome) ? other : worst;
    },
    assess(flow, circumstances, findings),
  );
}

export function agendaOf(flow: Flow, context: CallContext): Agenda {
  return agenda(flow, circumstancesOf(flow, context), findingsOf(context), askedOf(context));
}
