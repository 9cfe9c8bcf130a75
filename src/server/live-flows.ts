/** In `live` a flow that is unsigned, expired or withdrawn is replaced by the general flow: a flow is refused, never a call. */
import type { Clock } from '../basics/clock.ts';
import { civilTime } from '../basics/civil-time.ts';
import type { Flows } from '../call/choose-flow.ts';
import { approvalState, isWithdrawn, type Approval } from '../flow/approvals.ts';

export interface LiveSettings {
  readonly mode: 'demo' | 'live';
  readonly zone: string;
  /** Asked at every choice, so that a withdrawal counts at once. */
  readonly approvals: () => readonly Approval[];
}

export function allowedFlows(flows: Flows, settings: LiveSettings, clock: Clock): Flows {
  if (settings.mode === 'demo') return flows;
  const today = (): string | null => {
    const now = civilTime(clock.now(), settings.zone);
    return now.ok ? now.value.date : null;
  };
  return {
    ...flows,
    flowFor: (procedures, surgeon) => {
      const flow = flows.flowFor(procedures, surgeon);
      const date = today();
      const signed = date !== null && approvalState(settings.approvals(), flow.hash, date) === 'approved';
      return signed ? flow : flows.general;
    },
    isWithdrawn: (hash) => {
      const date = today();
      return date !== null && isWithdrawn(settings.approvals(), hash, date);
    },
  };
}
