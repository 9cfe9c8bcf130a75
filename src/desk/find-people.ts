/** GET /api/find?q=: patients by telephone in any form, surname or date of birth, with their operations. */
import { civilTime } from '../basics/civil-time.ts';
import { fault } from '../basics/fault.ts';
import { failed, ok } from '../basics/result.ts';
import type { PatientMatch } from '../people/people-store.ts';
import { readQuery } from '../people/search-words.ts';
import type { FindAnswer, Found } from './contract/people.ts';
import type { DeskDeps } from './deps.ts';
import type { Endpoint } from './endpoint.ts';
import { operationShape, patientShape } from './view/people-view.ts';

const SHOWN_AT_MOST = 20;

export const findPeople: Endpoint = async (deps, { query }) => {
  const today = civilTime(deps.turn.clock.now(), deps.practice.zone);
  if (!today.ok) return today;
  const queries = readQuery(query, { country: deps.practice.country, today: today.value.date });
  const matches = new Map<string, PatientMatch>();
  for (const one of queries) {
    const found = await deps.people.find(one, SHOWN_AT_MOST + 1);
    if (!found.ok) return failed(fault('store-down', 'The patients cannot be read now.'));
    for (const match of found.value) matches.set(match.patient.id, match);
  }
  const all = [...matches.values()];
  const answer: FindAnswer = {
    understood: queries.length > 0,
    found: all.slice(0, SHOWN_AT_MOST).map((match) => foundShape(deps, match)),
    more: all.length > SHOWN_AT_MOST,
  };
  return ok(answer);
};

function foundShape(deps: DeskDeps, { patient, operations }: PatientMatch): Found {
  return {
    patient: patientShape(deps, patient),
    operations: operations.map((operation) => operationShape(deps, operation)),
  };
}
