/** In `live` a flow that is unsigned, expired or withdrawn is replaced by the general flow: a flow is refused, never a call. */
import type { Clock } from '../basics/clock.ts';
import { civilTime } from '../basics/civil-time.ts';
import type { Flows } from '../call/choose-flow.ts';
import { approvalState, type Approval } from '../flow/approvals.ts';

export interface LiveSettings {
  readonly mode: 'demo' | 'live';
  readonly zone: string;
  readonly approvals: readonly Approval[];
}

export function allowedFlows(flows: Flows, settings: LiveSettings, clock: Clock): Flows {
  if (settings.mode === 'demo') return flows;
  return {
    ...flows,
    flowFor: (procedures, surgeon) => {
      const flow = flows.flowFor(procedures, surgeon);
      const today = civilTime(clock.now(), settings.zone);
      const signed =
        today.ok && approvalState(settings.approvals, flow.hash, today.value.date) === 'approved';
      return signed ? flow : flows.general;
    },
  };
}
