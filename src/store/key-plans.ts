/** Which key seals what: a call's under its patient's once known, under the practice's until then. */
import type { CallId, PatientId } from '../basics/ids.ts';
import type { LoadedRow } from './asks.ts';
import { change, rowOf } from './plan.ts';
import type { Plan } from './plan.ts';
import type { KeyRow } from './schema.ts';
import { newKey, unwrapKey, wrapKey } from './sealing.ts';
import type { Place, WorkingKeys } from './sealing.ts';

const CHECK_ID = 'check';

/** False when the database was written under another practice key; the first to open it leaves the mark. */
export function* fitsPracticeKey(keys: WorkingKeys): Plan<boolean> {
  const known = yield* rowOf('key', { kind: 'practice', id: CHECK_ID });
  if (known !== null) return unwrapKey(keys.wrapping, known.wrapped, keyPlace(known)) !== null;
  const mark = { kind: 'practice', id: CHECK_ID } as const;
  yield* change('addKey', {
    ...mark,
    wrapped_by: null,
    wrapped: wrapKey(keys.wrapping, newKey(), keyPlace(mark)),
  });
  // Another process may have been first: its mark counts.
  const kept = yield* rowOf('key', { kind: 'practice', id: CHECK_ID });
  return kept !== null && unwrapKey(keys.wrapping, kept.wrapped, keyPlace(kept)) !== null;
}

/** The patient's key, or null when there is none (unknown or erased). */
export function* patientKey(id: PatientId, keys: WorkingKeys): Plan<Buffer | null> {
  const row = yield* rowOf('key', { kind: 'patient', id });
  return row === null ? null : openPatientKey(id, row.wrapped, keys);
}

export function openPatientKey(id: PatientId, wrapped: string, keys: WorkingKeys): Buffer | null {
  return unwrapKey(keys.wrapping, wrapped, keyPlace({ kind: 'patient', id }));
}

/** The patient's key, made when there is none. */
export function* ownPatientKey(id: PatientId, keys: WorkingKeys): Plan<Buffer> {
  const known = yield* patientKey(id, keys);
  if (known !== null) return known;
  const wrapped = wrapKey(keys.wrapping, newKey(), keyPlace({ kind: 'patient', id }));
  yield* change('addKey', { kind: 'patient', id, wrapped_by: null, wrapped });
  // Read again, because another process may have been first.
  const kept = yield* patientKey(id, keys);
  if (kept === null) throw new Error('The key of a patient does not open.');
  return kept;
}

/** Wraps (or wraps again) the call's key for the patient it is about; the former wrap is gone with it. */
export function* keepCallKey(
  call: { readonly id: CallId; readonly key: Buffer; readonly patientId: PatientId | null },
  keys: WorkingKeys,
): Plan<string> {
  const wrapper = call.patientId === null ? keys.wrapping : yield* ownPatientKey(call.patientId, keys);
  const wrapped = wrapKey(wrapper, call.key, keyPlace({ kind: 'call', id: call.id }));
  yield* change('putKey', { kind: 'call', id: call.id, wrapped_by: call.patientId, wrapped });
  return wrapped;
}

/** The call's key from a loaded row, or null when it was destroyed. */
export function callKeyFrom(row: LoadedRow, keys: WorkingKeys): Buffer | null {
  if (row.wrapped === null) return null;
  const wrapper = wrapperOf(row, keys);
  return wrapper === null ? null : unwrapKey(wrapper, row.wrapped, keyPlace({ kind: 'call', id: row.id }));
}

function wrapperOf(row: LoadedRow, keys: WorkingKeys): Buffer | null {
  if (row.wrapped_by === null) return keys.wrapping;
  return row.wrapper === null ? null : openPatientKey(row.wrapped_by, row.wrapper, keys);
}

function keyPlace(of: Pick<KeyRow, 'kind' | 'id'>): Place {
  return ['key', of.kind, of.id];
}
