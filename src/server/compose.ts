/** Puts the rooms together: which store, which flows, whose settings. The only place besides the commands that chooses. */
import type { Clock } from '../basics/clock.ts';
import { fault } from '../basics/fault.ts';
import { newId, type PromiseId } from '../basics/ids.ts';
import { failed, ok } from '../basics/result.ts';
import type { Millis } from '../basics/clock.ts';
import type { Within } from '../clinical/outcome.ts';
import { nurseCheckTime } from '../clinical/nurse-check.ts';
import { promiseTime, sameDayCanBeMet } from '../clinical/promise-time.ts';
import { keepingOnce, type FlowStore } from '../call/flow-store.ts';
import type { Hearing } from '../call/hear.ts';
import type { Identifying } from '../call/identify.ts';
import { makeRunners } from '../call/load-call.ts';
import { makeLoadedCalls, type LoadedCalls } from '../call/loaded-calls.ts';
import type { TurnDeps } from '../call/turn.ts';
import type { CallStore } from '../call/call-store.ts';
import type { Outbox } from '../follow/outbox.ts';
import type { CallAudits } from '../review/call-audit.ts';
import type { AuditTrail } from '../people/audit-trail.ts';
import { following, type FollowSettings } from '../follow/after-turn.ts';
import type { PeopleStore } from '../people/people-store.ts';
import { openingHoursOf, type Practice } from '../people/practice.ts';
import { whoIsOnCall } from '../people/rota.ts';
import { understand } from '../understand/understand.ts';
import type { Content } from './content.ts';
import { allowedFlows } from './live-flows.ts';

/** What a call stores as the program that ran it. */
const PROGRAM_VERSION = '0.1.0';

/** More than a practice ever has open at once. */
const CALLS_KEPT = 2_000;

export interface Stores {
  readonly calls: CallStore;
  readonly flows: FlowStore;
  readonly people: PeopleStore;
  readonly audit: AuditTrail;
  readonly outbox: Outbox;
  readonly callAudits: CallAudits;
}

export function turnDeps(content: Content, stores: Stores, clock: Clock): TurnDeps {
  const { practice } = content;
  return {
    store: stores.calls,
    flows: allowedFlows(
      content.library,
      { mode: practice.mode, zone: practice.zone, approvals: content.approvals },
      clock,
    ),
    keptFlows: keepingOnce(stores.flows),
    runners: makeRunners(),
    loaded: makeLoadedCalls(CALLS_KEPT),
    hearing: hearingOf(content),
    identifying: identifyingOf(practice, stores.people),
    clock,
    newId: () => newId<PromiseId>(),
    zone: practice.zone,
    programVersion: PROGRAM_VERSION,
    dueAt: (within, now) => dueAt(practice, within, now),
    onCallFirst: (now) => onCallFirst(practice, now),
    nurseCheckAt: (day, now) => nurseCheckTime(day, now, openingHoursOf(practice)),
    following: following(followSettings(practice)),
  };
}

/** Erasing a patient takes along what this process remembers of their calls. */
export function forgettingCalls(people: PeopleStore, loaded: LoadedCalls): PeopleStore {
  return {
    ...people,
    erasePatient: async (id) => {
      const erased = await people.erasePatient(id);
      loaded.forgetPatient(id);
      return erased;
    },
  };
}

function hearingOf({ lexicon, lexiconHash, library: { vocabulary } }: Content): Hearing {
  return {
    lexiconHash,
    understand: ({ hour, ...said }) => understand(lexicon, vocabulary, { ...said, hour: hour ?? null }),
  };
}

function identifyingOf(practice: Practice, people: PeopleStore): Identifying {
  return {
    people: async (patientId, operationId) => {
      if (patientId === null) return ok({ patient: null, operation: null });
      const found = await people.patient(patientId);
      if (!found.ok) return failed(fault('store-down', 'The patients cannot be read now.'));
      const operation = found.value?.operations.find(({ id }) => id === operationId) ?? null;
      return ok({ patient: found.value?.patient ?? null, operation });
    },
    isClinicOpen: (now) => {
      const met = sameDayCanBeMet(promised(practice, now));
      return met.ok && met.value;
    },
  };
}

function promised(practice: Practice, now: Millis) {
  return { now, hours: openingHoursOf(practice), visitMinutes: practice.lastSameDayMinutes };
}

/** Null when the practice's hours cannot be read: then there is no time to show, and the promise stands first. */
function dueAt(practice: Practice, within: Within, now: Millis): Millis | null {
  const time = promiseTime(within, promised(practice, now));
  return time.ok ? time.value.dueAt : null;
}

/** How the practice's settings say that people are reached. */
export function followSettings(practice: Practice): FollowSettings {
  const { emergencyMinutes, hourMinutes, ...others } = practice.reaching;
  return { plan: practice, minutes: { emergency: emergencyMinutes, hour: hourMinutes }, ...others };
}

function onCallFirst(practice: Practice, now: Millis): string {
  const onCall = whoIsOnCall(practice, now);
  if (onCall.ok) return onCall.value.ladder[0]?.staff.id ?? practice.rota.consultantOfLastResort;
  return onCall.fault.lastResort?.id ?? practice.rota.consultantOfLastResort;
}
