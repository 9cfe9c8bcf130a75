/** The reads and writes of patients and operations; all that is personal is sealed under the patient's own key. */
import { foldName } from '../basics/fold-name.ts';
import type { CallId, OperationId, PatientId } from '../basics/ids.ts';
import type { Operation, Patient } from '../people/patient.ts';
import type { PatientMatch, PatientQuery } from '../people/people-store.ts';
import { openPatientKey, ownPatientKey, patientKey } from './key-plans.ts';
import { change, rowOf, rowsOf } from './plan.ts';
import type { Plan, Written } from './plan.ts';
import type { OperationRow, PatientRow } from './schema.ts';
import { tokenOf, tokensOf } from './search-tokens.ts';
import { seal, unseal } from './sealing.ts';
import type { Place, WorkingKeys } from './sealing.ts';

export function* savePatientPlan(patient: Patient, keys: WorkingKeys): Plan<Written<void>> {
  const key = yield* ownPatientKey(patient.id, keys);
  yield* change('putPatient', {
    id: patient.id,
    sealed: seal(key, JSON.stringify(patient), patientPlace(patient.id)),
  });
  yield* change('dropTokens', { patient: patient.id });
  for (const token of tokensOf(patient, keys.search)) {
    yield* change('addToken', { token, patient_id: patient.id });
  }
  return { keep: true, value: undefined };
}

export function* saveOperationPlan(operation: Operation, keys: WorkingKeys): Plan<Written<void>> {
  const key = yield* ownPatientKey(operation.patientId, keys);
  yield* change('putOperation', {
    id: operation.id,
    patient_id: operation.patientId,
    sealed: seal(key, JSON.stringify(operation), operationPlace(operation.id)),
  });
  return { keep: true, value: undefined };
}

export function* findPlan(
  query: PatientQuery,
  limit: number,
  keys: WorkingKeys,
): Plan<readonly PatientMatch[]> {
  const token = tokenOf(query, keys.search);
  if (token === null) return [];
  const found: { readonly patient: Patient; readonly key: Buffer }[] = [];
  for (const row of yield* rowsOf('patientsWith', { token })) {
    const key = openPatientKey(row.id, row.wrapped, keys);
    const patient = key === null ? null : patientFrom(row, key);
    if (patient !== null && key !== null) found.push({ patient, key });
  }
  found.sort((a, b) => compareNames(a.patient, b.patient));
  const matches: PatientMatch[] = [];
  for (const { patient, key } of found.slice(0, limit)) {
    matches.push({ patient, operations: yield* operationsPlan(patient.id, key) });
  }
  return matches;
}

export function* patientPlan(id: PatientId, keys: WorkingKeys): Plan<PatientMatch | null> {
  const row = yield* rowOf('patient', { id });
  const key = yield* patientKey(id, keys);
  const patient = row === null || key === null ? null : patientFrom(row, key);
  if (patient === null || key === null) return null;
  return { patient, operations: yield* operationsPlan(id, key) };
}

export function* operationPlan(id: OperationId, keys: WorkingKeys): Plan<Operation | null> {
  const row = yield* rowOf('operation', { id });
  if (row === null) return null;
  const key = yield* patientKey(row.patient_id, keys);
  return key === null ? null : operationFrom(row, key);
}

export function* countPlan(): Plan<number> {
  return (yield* rowOf('countPatients', {}))?.patients ?? 0;
}

/** Ends with the calls whose keys went with the patient's. */
export function* erasePlan(patient: PatientId): Plan<Written<readonly CallId[]>> {
  const wrapped = yield* rowsOf('keysWrappedBy', { patient });
  for (const key of wrapped) yield* change('dropKey', { kind: key.kind, id: key.id });
  yield* change('dropKey', { kind: 'patient', id: patient });
  yield* change('dropTokens', { patient });
  yield* change('dropOperations', { patient });
  yield* change('dropPatient', { patient });
  return { keep: true, value: wrapped.map((key) => key.id as CallId) };
}

function* operationsPlan(patient: PatientId, key: Buffer): Plan<readonly Operation[]> {
  const rows = yield* rowsOf('operationsOf', { patient });
  return rows
    .map((row) => operationFrom(row, key))
    .filter((operation) => operation !== null)
    .sort(newestFirst);
}

// What opens under the patient's key was sealed from a Patient here, and cannot have been changed since.
function patientFrom(row: PatientRow, key: Buffer): Patient | null {
  const text = unseal(key, row.sealed, patientPlace(row.id));
  return text === null ? null : (JSON.parse(text) as Patient);
}

function operationFrom(row: OperationRow, key: Buffer): Operation | null {
  const text = unseal(key, row.sealed, operationPlace(row.id));
  return text === null ? null : (JSON.parse(text) as Operation);
}

function patientPlace(id: PatientId): Place {
  return ['patient', id];
}

function operationPlace(id: OperationId): Place {
  return ['operation', id];
}

function compareNames(a: Patient, b: Patient): number {
  return (
    compareText(foldName(a.surname), foldName(b.surname)) ||
    compareText(foldName(a.firstName), foldName(b.firstName)) ||
    compareText(a.id, b.id)
  );
}

function newestFirst(a: Operation, b: Operation): number {
  return compareText(b.on, a.on) || (b.endedAt ?? 0) - (a.endedAt ?? 0) || compareText(a.id, b.id);
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
