/** The statements behind every ask about patients and operations. */
import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { OPERATION } from './columns.ts';
import type { Tables } from './schema.ts';
import { excluded, slot, slots } from './statement.ts';
import type { Queries } from './statement.ts';

type PeopleQueries = Queries<
  | 'putPatient'
  | 'putOperation'
  | 'patient'
  | 'operation'
  | 'operationsOf'
  | 'patientsWith'
  | 'countPatients'
  | 'addToken'
  | 'dropTokens'
  | 'dropPatient'
  | 'dropOperations'
>;

export function peopleQueries(db: Kysely<Tables>): PeopleQueries {
  return { ...reads(db), ...writes(db) };
}

function reads(db: Kysely<Tables>) {
  const operations = db.selectFrom('operations').select(OPERATION);
  return {
    patient: db.selectFrom('patients').select(['id', 'sealed']).where('id', '=', slot('id')),
    operation: operations.where('id', '=', slot('id')),
    operationsOf: operations.where('patient_id', '=', slot('patient')),
    patientsWith: db
      .selectFrom('search_tokens as t')
      .innerJoin('patients as p', 'p.id', 't.patient_id')
      .innerJoin('wrapped_keys as k', (on) =>
        on.on('k.kind', '=', sql.lit('patient')).onRef('k.id', '=', 'p.id'),
      )
      .select(['p.id', 'p.sealed', 'k.wrapped'])
      .where('t.token', '=', slot('token')),
    countPatients: db.selectFrom('patients').select((column) => column.fn.countAll<number>().as('patients')),
  };
}

function writes(db: Kysely<Tables>) {
  return {
    putPatient: db
      .insertInto('patients')
      .values(slots(['id', 'sealed']))
      .onConflict((conflict) => conflict.column('id').doUpdateSet(excluded(['sealed']))),
    putOperation: db
      .insertInto('operations')
      .values(slots(OPERATION))
      .onConflict((conflict) => conflict.column('id').doUpdateSet(excluded(['patient_id', 'sealed']))),
    addToken: db
      .insertInto('search_tokens')
      .values(slots(['token', 'patient_id']))
      .onConflict((conflict) => conflict.doNothing()),
    dropTokens: db.deleteFrom('search_tokens').where('patient_id', '=', slot('patient')),
    dropPatient: db.deleteFrom('patients').where('id', '=', slot('patient')),
    dropOperations: db.deleteFrom('operations').where('patient_id', '=', slot('patient')),
  };
}
