/** What the answers come to: outcome with reasons, what the caller is told, whom to ring, what to hand over. */
import { isUrgent } from '../../clinical/outcome.ts';
import { aftercareNow, normalNow, outcomeWords, safetyNet } from '../../call/advice.ts';
import { writeHandover, type HandoverPeople } from '../../call/handover.ts';
import { isScreenFinished } from '../../call/agenda.ts';
import { findingsOf } from '../../call/standing.ts';
import type { Standing } from '../../call/step.ts';
import { showTelephone } from '../../people/show-telephone.ts';
import { SEEN_AT } from '../../people/practice.ts';
import type { ResultShape } from '../contract/call-view.ts';
import type { Contact } from '../contract/common.ts';
import type { DeskDeps } from '../deps.ts';
import { onCallNow } from '../on-call.ts';
import { moment } from '../show-time.ts';
import type { Flow } from './values.ts';
import { visitSlots } from './visit-slots.ts';

/** What earlier calls add; until this call's own danger screen is done the nurse does not see it. */
const FROM_EARLIER_CALLS: readonly string[] = [
  'second-contact',
  'second-contact-same-problem',
  'third-contact',
];

/** Urgent as the nurse sees it now, whether or not the questions are over. */
export function showsUrgent(flow: Flow, standing: Standing): boolean {
  if (!isUrgent(standing.assessment.outcome)) return false;
  return standing.at !== 'asking' || reasonsShown(flow, standing).some(({ to }) => isUrgent(to));
}

function reasonsShown(flow: Flow, { at, assessment, context }: Standing): Standing['assessment']['reasons'] {
  if (at !== 'asking' || isScreenFinished(flow, findingsOf(context))) return assessment.reasons;
  return assessment.reasons.filter(({ from }) => !FROM_EARLIER_CALLS.includes(from));
}

/** Null while an outcome that is not urgent is still open to every further answer. */
export function resultShape(
  deps: DeskDeps,
  flow: Flow,
  { standing, people }: { readonly standing: Standing; readonly people: HandoverPeople },
): ResultShape | null {
  if (standing.at === 'asking' && !showsUrgent(flow, standing)) return null;
  const { assessment, context } = standing;
  const about = flow.concerns.find(({ id }) => id === assessment.about) ?? null;
  const [time] = context.times;
  return {
    outcome: assessment.outcome,
    act: assessment.act,
    about: about?.title ?? null,
    clinicianNeeds: about?.clinicianNeeds ?? null,
    reasons: reasonsShown(flow, standing).map(({ text, source, to }) => ({ text, source, to })),
    concerns: standing.at === 'asking' ? null : pointsByConcern(flow, standing),
    tell: outcomeWords(flow, standing),
    untilSeen: assessment.untilSeen,
    seenAt: seenAt(deps, assessment.seenAt),
    aftercare: aftercareNow(flow, standing),
    normal: time === undefined ? [] : normalNow(flow, time),
    slots: slots(deps, standing),
    safetyNet: safetyNet(flow, standing),
    handover: writeHandover(flow, standing, people),
    ringNow: showsUrgent(flow, standing) ? ringNow(deps) : [],
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

function slots({ practice, turn }: DeskDeps, { assessment, context }: Standing): ResultShape['slots'] {
  if (assessment.outcome.outcome !== 'arrange-review') return [];
  const now = turn.clock.now();
  const due = context.promises.review?.dueAt ?? turn.dueAt(assessment.outcome.within, now);
  return visitSlots(practice, now, due).map((at) => moment(at, { now, zone: practice.zone }));
}

function ringNow(deps: DeskDeps): readonly Contact[] {
  const { ladder } = onCallNow(deps.practice, deps.turn.clock.now());
  return ladder.map(({ rung, name, dial, shown }) => ({ name, what: rung, dial, shown }));
}
