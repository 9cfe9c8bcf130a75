/** GET /api/calls: every open call among the newest, and the newest of all. */
import { fault } from '../basics/fault.ts';
import { failed, ok } from '../basics/result.ts';
import type { LoadedHead } from '../call/call-store.ts';
import { outcomeSchema } from './contract/common.ts';
import type { CallLine, CallsAnswer } from './contract/calls.ts';
import type { DeskDeps } from './deps.ts';
import type { Endpoint } from './endpoint.ts';
import { moment } from './show-time.ts';
import { fullName, operationTitle } from './view/people-view.ts';

const LOOKED_THROUGH = 500;
const RECENT = 20;

export const listCalls: Endpoint = async (deps, { who }) => {
  const heads = await deps.turn.store.recent(LOOKED_THROUGH);
  if (!heads.ok) return failed(fault('store-down', 'The calls cannot be read now.'));
  const open = heads.value.filter(({ head }) => head.state === 'open');
  const recent = heads.value.filter(({ head }) => head.state === 'closed').slice(0, RECENT);
  const answer: CallsAnswer = { open: await lines(deps, open), recent: await lines(deps, recent) };
  return ok(who.role === 'front-desk' ? withoutOutcomes(answer) : answer);
};

/** What a call came to is not for the front desk. */
function withoutOutcomes({ open, recent }: CallsAnswer): CallsAnswer {
  const without = (line: CallLine): CallLine => ({ ...line, outcome: null });
  return { open: open.map(without), recent: recent.map(without) };
}

async function lines(deps: DeskDeps, heads: readonly LoadedHead[]): Promise<readonly CallLine[]> {
  return Promise.all(heads.map((one) => callLine(deps, one)));
}

async function callLine(deps: DeskDeps, { call, head }: LoadedHead): Promise<CallLine> {
  const found = head.patientId === null ? null : await deps.people.patient(head.patientId);
  const match = found?.ok === true ? found.value : null;
  const operation = match?.operations.find(({ id }) => id === head.operationId);
  return {
    id: call,
    started: moment(head.startedAt, { now: deps.turn.clock.now(), zone: deps.practice.zone }),
    channel: head.channel,
    state: head.state,
    outcome: readOutcome(head.outcome),
    patient: match === null ? null : fullName(match.patient),
    operation: operation === undefined ? null : operationTitle(deps, operation),
  };
}

/** `outcome/within/emergency` as the head of a call keeps it. */
export function readOutcome(text: string | null): CallLine['outcome'] {
  const [outcome, within, emergency] = text?.split('/') ?? [];
  const read = outcomeSchema.safeParse({ outcome, within, emergency: emergency === 'emergency' });
  return read.success ? read.data : null;
}
