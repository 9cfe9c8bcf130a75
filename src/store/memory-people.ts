/** Answers the asks about patients and operations from tables in memory. */
import { changed, dropGroup, many, one, put } from './memory-answer.ts';
import type { Handlers } from './memory-answer.ts';
import { pairKey } from './memory-tables.ts';
import type { MemoryTables } from './memory-tables.ts';

type PeopleReads = Handlers<'patient' | 'operation' | 'operationsOf' | 'patientsWith' | 'countPatients'>;
type PeopleWrites = Handlers<
  'putPatient' | 'putOperation' | 'addToken' | 'dropTokens' | 'dropPatient' | 'dropOperations'
>;

export function peopleReads({ patients, operations, tokens, keys }: MemoryTables): PeopleReads {
  return {
    patient: ({ id }) => one(patients.get(id)),
    operation: ({ id }) => one(operations.get(id)),
    operationsOf: ({ patient }) => many(operations.inGroup(patient)),
    patientsWith: ({ token }) => {
      const found = tokens.all().filter((row) => row.token === token);
      return many(
        found.flatMap(({ patient_id: id }) => {
          const patient = patients.get(id);
          const key = keys.get(pairKey('patient', id));
          return patient === undefined || key === undefined ? [] : [{ ...patient, wrapped: key.wrapped }];
        }),
      );
    },
    countPatients: () => one({ patients: patients.all().length }),
  };
}

export function peopleWrites({ patients, operations, tokens }: MemoryTables): PeopleWrites {
  return {
    putPatient: (row) => put(patients, row),
    putOperation: (row) => put(operations, row),
    addToken: (row) => changed(tokens.add(row)),
    dropTokens: ({ patient }) => dropGroup(tokens, patient),
    dropPatient: ({ patient }) => changed(patients.drop(patient)),
    dropOperations: ({ patient }) => dropGroup(operations, patient),
  };
}
