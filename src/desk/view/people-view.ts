/** A patient and an operation as the nurse sees them; null in the record stays null. */
import { timeSince } from '../../clinical/time-since-surgery.ts';
import { showTelephone } from '../../people/show-telephone.ts';
import type { Operation, Patient } from '../../people/patient.ts';
import type { OperationShape, PatientShape } from '../contract/people.ts';
import type { DeskDeps } from '../deps.ts';
import { showDate } from '../show-time.ts';

/** Hours say more than days in the first three days only. */
const HOURS_COUNT = 72;

export function patientShape(deps: DeskDeps, patient: Patient): PatientShape {
  return {
    id: patient.id,
    name: fullName(patient),
    born: patient.born,
    bornShown: showDate(patient.born),
    telephones: patient.telephones.map((number) => showTelephone(number, deps.practice.country)),
    allergies: patient.allergies,
    maySpeakWith: patient.contact.maySpeakWith,
  };
}

export function fullName(patient: Patient): string {
  return `${patient.firstName} ${patient.surname}`;
}

export function operationShape(deps: DeskDeps, operation: Operation): OperationShape {
  const time = timeSince(operation, deps.turn.clock.now(), deps.practice.zone);
  const hours = time.ok ? time.value.hours : null;
  return {
    id: operation.id,
    what: operationTitle(deps, operation),
    side: operation.side,
    surgeon: operation.surgeon,
    on: showDate(operation.on),
    day: time.ok ? time.value.day : null,
    hours: hoursThatCount(hours),
    anaesthetic: operation.anaesthetic,
    drain: operation.drain,
    implant: operation.implant,
    block: operation.block,
    mesh: operation.mesh,
    packsOrSplints: operation.packsOrSplints,
    bloodThinner: operation.bloodThinner,
  };
}

export function hoursThatCount(hours: number | null): number | null {
  return hours === null || hours > HOURS_COUNT ? null : hours;
}

export function operationTitle(deps: DeskDeps, operation: Operation): string {
  return operation.procedures.map(deps.procedureTitle).join(' with ');
}
