/** Invented people of Tern Quay Clinic; the numbers are Ofcom's for drama. */
import { newId } from '../../src/basics/ids.ts';
import type { OperationId, PatientId } from '../../src/basics/ids.ts';
import type { Operation, Patient } from '../../src/people/patient.ts';

export function aPatient(changes: Partial<Patient> = {}): Patient {
  return {
    id: newId<PatientId>(),
    firstName: 'Ottilie',
    surname: 'Brackwater',
    born: '1984-06-09',
    telephones: ['+447700900101', '+442079460102'],
    allergies: ['penicillin'],
    weightUnder50kg: null,
    pregnant: null,
    contact: {
      mayText: true,
      mayLeaveMessage: false,
      mayBeRungAt: ['+447700900101'],
      maySpeakWith: ['her sister'],
    },
    ...changes,
  };
}

export function anOperation(patientId: PatientId, changes: Partial<Operation> = {}): Operation {
  return {
    id: newId<OperationId>(),
    patientId,
    procedures: ['breast-lift'],
    side: 'both',
    surgeon: 'Ms Ferreday',
    on: '2026-03-02',
    endedAt: null,
    anaesthetic: 'general',
    implant: null,
    mesh: null,
    drain: true,
    packsOrSplints: false,
    block: null,
    bloodThinner: '',
    ...changes,
  };
}
