/** Puts the whole view of a call together from where it stands. */
import { news2 } from '../../clinical/news2.ts';
import { normalNow } from '../../call/advice.ts';
import { isScreenFinished } from '../../call/agenda.ts';
import type { StoredEvent, StoredPromise } from '../../call/call-store.ts';
import { whatClosingNeeds } from '../../call/closing.ts';
import { observationsOf } from '../../call/handover.ts';
import type { Loaded } from '../../call/load-call.ts';
import { findingsOf } from '../../call/standing.ts';
import { standingOf, type Standing } from '../../call/step.ts';
import type { CallId } from '../../basics/ids.ts';
import type { CallView } from '../contract/call-view.ts';
import type { DeskDeps } from '../deps.ts';
import { onCallNow, publicNumber } from '../on-call.ts';
import { moment, type Here } from '../show-time.ts';
import { answeredShapes, unknownTexts } from './answered-view.ts';
import { notesIn } from './notes-view.ts';
import { outlineShape } from './outline-view.ts';
import { hoursThatCount, operationShape, patientShape } from './people-view.ts';
import { promiseShape } from './promise-view.ts';
import { questionShape } from './question-view.ts';
import { resultShape, showsUrgent } from './result-view.ts';
import { stillToAsk } from './still-to-ask.ts';
import { dangersOf, type Flow } from './values.ts';

export interface Viewed {
  readonly call: CallId;
  readonly loaded: Loaded;
  /** The events that are notes. */
  readonly notes: readonly StoredEvent[];
  readonly promises: readonly StoredPromise[];
}

export function callView(deps: DeskDeps, { call, loaded, notes, promises }: Viewed): CallView {
  const { flow, hash } = loaded.runner.compiled;
  const standing = standingOf(loaded.runner, loaded.snapshot);
  const { context, question } = standing;
  const here: Here = { now: deps.turn.clock.now(), zone: deps.practice.zone };
  const people = { patient: loaded.patient, operation: loaded.operation };
  const next = stillToAsk(flow, standing);
  return {
    id: call,
    at: standing.at,
    started: moment(loaded.head?.startedAt ?? here.now, here),
    seq: loaded.seq,
    script: { title: flow.title, id: flow.id, hash },
    patient: people.patient === null ? null : patientShape(deps, people.patient),
    operation: people.operation === null ? null : operationShape(deps, people.operation),
    times: context.times.map(({ day, hours }) => ({ day, hours: hoursThatCount(hours) })),
    earlierCalls: earlierCalls(flow, standing),
    opening: context.opening,
    question: question === null ? null : questionShape(flow, question, standing.again),
    mayGoBack: standing.at !== 'closed' && context.asked.length > 0,
    redFlags: redFlags(flow, standing),
    urgent: showsUrgent(flow, standing),
    stillToAsk: next.map(({ words }) => words),
    outline: outlineShape(flow, standing, next),
    normal: usualNow(flow, standing),
    news2: news2Shape(standing),
    unknown: unknownTexts(flow, context),
    answered: answeredShapes(flow, context),
    notes: notesIn(notes, here),
    dangers: dangers(flow, standing),
    callBackNumber: context.facts['call-back-number'] ?? null,
    callBackQuestion: flow.questions.find(({ fact }) => fact === 'call-back-number')?.id ?? null,
    result: resultShape(deps, flow, { standing, people }),
    ...decisions(standing, here),
    promises: promises.map((promise) => promiseShape(deps, promise)),
    onCall: onCallNow(deps.practice, here.now).ladder,
    emergency: publicNumber(deps.place.emergency),
    caution: flow.words.caution,
    reachClinician: flow.words.reachClinician,
  };
}

function usualNow(flow: Flow, { context }: Standing): readonly string[] {
  const [time] = context.times;
  return time === undefined ? [] : normalNow(flow, time);
}

/** By telephone it is a floor: what was not measured is named, and never filled in. */
function news2Shape({ context }: Standing): CallView['news2'] {
  const score = news2(observationsOf(findingsOf(context)));
  const numbers = score.measured.filter((one) => one !== 'consciousness');
  return numbers.length === 0 ? null : { atLeast: score.atLeast, missing: score.missing };
}

/** The outcome of an earlier call could calm or alarm, so it is shown only once this call's danger screen is done. */
function earlierCalls(flow: Flow, { context }: Standing): CallView['earlierCalls'] {
  if (!isScreenFinished(flow, findingsOf(context))) return null;
  return context.earlierCalls.map(({ hoursAgo, outcome, about }) => ({
    hoursAgo: Math.round(hoursAgo * 10) / 10,
    outcome,
    about: flow.concerns.find(({ id }) => id === about)?.title ?? about,
  }));
}

function redFlags(flow: Flow, { assessment }: Standing): CallView['redFlags'] {
  const flags = new Set(flow.rules.flatMap(({ id, effect }) => (effect.kind === 'red-flag' ? [id] : [])));
  return assessment.reasons
    .filter(({ from }) => flags.has(from))
    .map(({ from, text }) => ({ id: from, text }));
}

function dangers(flow: Flow, { context }: Standing): CallView['dangers'] {
  return dangersOf(flow).map(({ id, is }) => ({
    finding: id,
    is,
    value: context.held[id]?.value ?? null,
  }));
}

type Decisions = Pick<
  CallView,
  'told' | 'raised' | 'loweringAsked' | 'lowered' | 'accepted' | 'cutOff' | 'closingNeeds'
>;

function decisions({ context, assessment }: Standing, here: Here): Decisions {
  const { told, raised, loweringAsked, lowered, accepted } = context;
  return {
    told,
    raised,
    loweringAsked,
    lowered:
      lowered === null
        ? null
        : {
            to: lowered.to,
            clinician: lowered.clinician,
            spokeToPatient: lowered.spokeToPatient,
            at: moment(lowered.confirmedAt, here),
          },
    accepted:
      accepted === null
        ? null
        : {
            clinician: accepted.clinician,
            at: moment(accepted.at, here),
            confirmed: accepted.reported !== true,
          },
    cutOff: context.ending === 'cut-off',
    closingNeeds: whatClosingNeeds(assessment.outcome, context, false),
  };
}
