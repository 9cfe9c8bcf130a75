/** What the answers come to: outcome with reasons, what the caller is told, whom to ring, what to hand over. */
import { rank } from '../../clinical/outcome.ts';
import { aftercareNow, normalNow, outcomeWords, safetyNet } from '../../call/advice.ts';
import { writeHandover, type HandoverPeople } from '../../call/handover.ts';
import type { Standing } from '../../call/step.ts';
import { showTelephone } from '../../people/show-telephone.ts';
import { SEEN_AT } from '../../people/practice.ts';
import type { ResultShape } from '../contract/call-view.ts';
import type { Contact } from '../contract/common.ts';
import type { DeskDeps } from '../deps.ts';
import { onCallNow } from '../on-call.ts';
import type { Flow } from './values.ts';

const URGENT = 5;

/** Urgent as it stands now, whether or not the questions are over. */
export function isUrgent(standing: Standing): boolean {
  return rank(standing.assessment.outcome) >= URGENT;
}

/** Null while an outcome that is not urgent is still open to every further answer. */
export function resultShape(
  deps: DeskDeps,
  flow: Flow,
  { standing, people }: { readonly standing: Standing; readonly people: HandoverPeople },
): ResultShape | null {
  if (standing.at === 'asking' && !isUrgent(standing)) return null;
  const { assessment, context } = standing;
  const about = flow.concerns.find(({ id }) => id === assessment.about) ?? null;
  const [time] = context.times;
  return {
    outcome: assessment.outcome,
    act: assessment.act,
    about: about?.title ?? null,
    clinicianNeeds: about?.clinicianNeeds ?? null,
    reasons: assessment.reasons.map(({ text, source, to }) => ({ text, source, to })),
    concerns: standing.at === 'asking' ? null : pointsByConcern(flow, standing),
    tell: outcomeWords(flow, standing),
    untilSeen: assessment.untilSeen,
    seenAt: seenAt(deps, assessment.seenAt),
    aftercare: aftercareNow(flow, standing),
    normal: time === undefined ? [] : normalNow(flow, time),
    safetyNet: safetyNet(flow, standing),
    handover: writeHandover(flow, standing, people),
    ringNow: isUrgent(standing) ? ringNow(deps) : [],
  };
}

function pointsByConcern(flow: Flow, { assessment }: Standing): ResultShape['concerns'] {
  return Object.entries(assessment.concerns)
    .filter(([, points]) => points > 0)
    .map(([id, points]) => ({ title: flow.concerns.find((one) => one.id === id)?.title ?? id, points }))
    .toSorted((a, b) => b.points - a.points);
}

function seenAt(deps: DeskDeps, where: string | null): ResultShape['seenAt'] {
  const kind = SEEN_AT.find((one) => one === where);
  if (kind === undefined) return null;
  const place = deps.practice.seenAt[kind];
  return {
    name: place.name,
    what: kind,
    dial: place.telephone,
    shown: showTelephone(place.telephone, deps.practice.country),
    address: place.address,
  };
}

function ringNow(deps: DeskDeps): readonly Contact[] {
  const { ladder } = onCallNow(deps.practice, deps.turn.clock.now());
  return ladder.map(({ rung, name, dial, shown }) => ({ name, what: rung, dial, shown }));
}
