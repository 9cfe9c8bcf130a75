/** What a known operation brings into a call: its flow, the time since, earlier contacts, and facts not asked again. */
import { civilTime, weekdayOf } from '../basics/civil-time.ts';
import { HOUR } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId, OperationId, PatientId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { FindingValue } from '../clinical/finding.ts';
import { timesSince } from '../clinical/time-since-surgery.ts';
import type { TimeSince } from '../clinical/window.ts';
import type { FactId } from '../flow/compiled.ts';
import type { Operation, Patient } from '../people/patient.ts';
import type { CallStore, LoadedHead } from './call-store.ts';
import { CONTACT_WINDOW_HOURS, type EarlierCall } from './circumstances.ts';

/** Looks up people; given by the composition. */
export interface Identifying {
  readonly people: (
    patient: PatientId | null,
    operation: OperationId | null,
  ) => Promise<Result<{ readonly patient: Patient | null; readonly operation: Operation | null }, Fault>>;
  /** Whether someone can still be seen today. */
  readonly isClinicOpen: (now: Millis) => boolean;
}

export interface Identified {
  readonly procedures: readonly string[];
  readonly surgeon: string | null;
  readonly times: readonly TimeSince[];
  readonly clinic: 'open' | 'closed';
  readonly earlierCalls: readonly EarlierCall[];
  readonly known: Readonly<Record<string, FindingValue>>;
  readonly facts: Readonly<Partial<Record<FactId, string>>>;
  readonly age: number | null;
  readonly pregnant: boolean | null;
}

export interface IdentifyDeps {
  readonly store: CallStore;
  readonly identifying: Identifying;
  readonly zone: string;
}

interface Wanted {
  /** The call itself, which is no earlier contact of its own. */
  readonly call: CallId;
  readonly patient: Patient;
  readonly operation: Operation;
  readonly statedDates: readonly string[];
  readonly now: Millis;
}

export async function identify(deps: IdentifyDeps, wanted: Wanted): Promise<Result<Identified, Fault>> {
  const { operation, patient, statedDates, now } = wanted;
  const recorded = { on: operation.on, endedAt: operation.endedAt };
  const times = timesSince({ recorded, stated: statedDates }, now, deps.zone);
  if (!times.ok) return times;
  const since = now - CONTACT_WINDOW_HOURS * HOUR;
  const earlier = await deps.store.callsAbout(operation.id, since);
  if (!earlier.ok) return failed(fault('store-down', 'Earlier calls cannot be read now.'));
  return ok({
    procedures: operation.procedures,
    surgeon: operation.surgeon,
    times: times.value.map(({ day, hours }) => ({ day, hours })),
    clinic: deps.identifying.isClinicOpen(now) ? 'open' : 'closed',
    earlierCalls: earlier.value
      .filter(({ call }) => call !== wanted.call)
      .map((call) => earlierCall(call, now)),
    known: knownFindings(operation),
    facts: patient.allergies.length === 0 ? {} : { allergies: patient.allergies.join(', ') },
    age: ageAt(patient, now, deps.zone),
    pregnant: patient.pregnant,
  });
}

/** Whole years on the calendar of the practice; null when either date cannot be read. */
function ageAt(patient: Patient, now: Millis, zone: string): number | null {
  const today = civilTime(now, zone);
  if (!today.ok || !weekdayOf(patient.born).ok) return null;
  const years = Number(today.value.date.slice(0, 4)) - Number(patient.born.slice(0, 4));
  return today.value.date.slice(5) < patient.born.slice(5) ? years - 1 : years;
}

function earlierCall({ head }: LoadedHead, now: Millis): EarlierCall {
  const [outcome] = (head.outcome ?? 'advise').split('/');
  const asked = head.direction !== 'patient-rang';
  const kind = asked
    ? 'asked-by-practice'
    : head.about === 'cut-off' || head.about === 'everyday'
      ? head.about
      : 'worried';
  return {
    hoursAgo: Math.max(0, (now - head.startedAt) / HOUR),
    outcome: outcome === 'urgent-escalation' || outcome === 'arrange-review' ? outcome : 'advise',
    about: head.about === 'cut-off' || head.about === 'everyday' ? null : head.about,
    kind,
  };
}

/** Null in the record is not known and is asked. */
function knownFindings(operation: Operation): Record<string, FindingValue> {
  return {
    ...(operation.bloodThinner === null
      ? {}
      : { 'blood-thinner': operation.bloodThinner === '' ? 'no' : 'yes' }),
    ...(operation.drain === false ? { 'drain-in': 'no' } : {}),
  };
}
