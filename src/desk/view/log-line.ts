/** A call as one line of the log. */
import { timeSince } from '../../clinical/time-since-surgery.ts';
import type { LoadedHead } from '../../call/call-store.ts';
import type { Operation, Patient } from '../../people/patient.ts';
import type { LogLine } from '../contract/log.ts';
import type { DeskDeps } from '../deps.ts';
import { readOutcome } from '../list-calls.ts';
import { moment } from '../show-time.ts';
import { fullName, operationTitle } from './people-view.ts';

export interface LoggedCall {
  readonly loaded: LoadedHead;
  readonly patient: Patient | null;
  readonly operation: Operation | null;
  /** A staff id. */
  readonly takenBy: string | null;
  readonly reviewed: boolean;
}

/** Everything that a line shows and the log is narrowed by, read call by call. */
export async function loggedCall(deps: DeskDeps, loaded: LoadedHead): Promise<LoggedCall> {
  const { patientId, operationId } = loaded.head;
  const [found, takenBy, audits] = await Promise.all([
    patientId === null ? null : deps.people.patient(patientId),
    deps.callAudits.takenBy(loaded.call),
    deps.callAudits.of(loaded.call),
  ]);
  const match = found?.ok === true ? found.value : null;
  return {
    loaded,
    patient: match?.patient ?? null,
    operation: match?.operations.find(({ id }) => id === operationId) ?? null,
    takenBy: takenBy.ok ? takenBy.value : null,
    reviewed: audits.ok && audits.value.length > 0,
  };
}

/** Days since surgery when the call began; null when not known. */
export function dayOf({ loaded, operation }: LoggedCall): number | null {
  if (operation === null) return null;
  const time = timeSince(operation, loaded.head.startedAt, loaded.head.zone);
  return time.ok ? time.value.day : null;
}

export function logLine(deps: DeskDeps, logged: LoggedCall): LogLine {
  const { loaded, patient, operation, takenBy, reviewed } = logged;
  const { call, head } = loaded;
  return {
    id: call,
    started: moment(head.startedAt, { now: deps.turn.clock.now(), zone: deps.practice.zone }),
    channel: head.channel,
    state: head.state,
    outcome: readOutcome(head.outcome),
    patient: patient === null ? null : fullName(patient),
    operation: operation === null ? null : operationTitle(deps, operation),
    day: dayOf(logged),
    about: head.about === null ? null : concernTitle(deps, head.about),
    takenBy: takenBy === null ? null : staffName(deps, takenBy),
    reviewed,
  };
}

export function staffName(deps: DeskDeps, id: string): string {
  return deps.practice.staff.find((one) => one.id === id)?.name ?? id;
}

/** The general script knows every possible complication that several scripts share; another one shows its id. */
export function concernTitle(deps: DeskDeps, id: string): string {
  const { concerns } = deps.turn.flows.general.flow;
  return concerns.find((one) => one.id === id)?.title ?? id.replaceAll('-', ' ');
}
