/** The store of patients and operations over any runner. */
import { ok } from '../basics/result.ts';
import type { Result } from '../basics/result.ts';
import type { PatientId } from '../basics/ids.ts';
import type { PeopleStore } from '../people/people-store.ts';
import type { CallParts } from './calls.ts';
import {
  countPlan,
  erasePlan,
  findPlan,
  operationPlan,
  patientPlan,
  saveOperationPlan,
  savePatientPlan,
} from './people-plans.ts';

export function peopleStore(parts: CallParts): PeopleStore {
  const { runner, keys } = parts;
  return {
    savePatient: (patient) => runner.write(() => savePatientPlan(patient, keys)),
    saveOperation: (operation) => runner.write(() => saveOperationPlan(operation, keys)),
    find: (query, limit) => runner.read(() => findPlan(query, limit, keys)),
    patient: (id) => runner.read(() => patientPlan(id, keys)),
    operation: (id) => runner.read(() => operationPlan(id, keys)),
    countPatients: () => runner.read(() => countPlan()),
    erasePatient: (id) => erase(id, parts),
  };
}

async function erase(id: PatientId, { runner, heads }: CallParts): Promise<Result<void, 'store-down'>> {
  const erased = await runner.write(() => erasePlan(id));
  if (!erased.ok) return erased;
  for (const call of erased.value) heads.forget(call);
  await runner.scrub();
  return ok(undefined);
}
