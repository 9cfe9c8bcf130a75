/** Every endpoint of the desk, as a table: where it is, who may ask, and what answers. */
import { ROLES, type Role } from '../people/staff.ts';
import type { Endpoint } from './endpoint.ts';
import { findPeople } from './find-people.ts';
import { getCall } from './get-call.ts';
import { getLogCall } from './get-log-call.ts';
import { getPractice } from './get-practice.ts';
import { getRecord } from './get-record.ts';
import { hearWords } from './hear-words.ts';
import { keepPromise } from './keep-promise.ts';
import { listAudit } from './list-audit.ts';
import { listCalls } from './list-calls.ts';
import { listFindings } from './list-findings.ts';
import { listLog } from './list-log.ts';
import { listOutbox } from './list-outbox.ts';
import { listPromises } from './list-promises.ts';
import { reviewCall } from './review-call.ts';
import { startCall } from './start-call.ts';
import { takeTurn } from './take-turn.ts';

export interface Route {
  readonly method: 'get' | 'post';
  readonly path: string;
  readonly roles: readonly Role[];
  /** Nothing of a patient goes in or out, so that it leaves no entry in the audit trail. */
  readonly noPatient?: true;
  readonly answer: Endpoint;
}

/** Who takes calls. */
export const CALL_TAKERS = ['nurse', 'lead-nurse', 'on-call-clinician'] as const satisfies readonly Role[];
/** Who reads the call log and re-reads calls. */
export const LEADS = ['lead-nurse'] as const satisfies readonly Role[];
/** Who may begin a call; the front desk passes it on. */
export const AT_THE_DESK = [...CALL_TAKERS, 'front-desk'] as const satisfies readonly Role[];

export const ROUTES: readonly Route[] = [
  { method: 'get', path: '/api/practice', roles: ROLES, noPatient: true, answer: getPractice },
  { method: 'get', path: '/api/find', roles: AT_THE_DESK, answer: findPeople },
  { method: 'get', path: '/api/calls', roles: AT_THE_DESK, answer: listCalls },
  { method: 'post', path: '/api/calls', roles: AT_THE_DESK, answer: startCall },
  { method: 'get', path: '/api/calls/:id', roles: AT_THE_DESK, answer: getCall },
  { method: 'post', path: '/api/calls/:id/turns', roles: AT_THE_DESK, answer: takeTurn },
  { method: 'get', path: '/api/calls/:id/findings', roles: AT_THE_DESK, answer: listFindings },
  { method: 'post', path: '/api/calls/:id/hear', roles: CALL_TAKERS, answer: hearWords },
  { method: 'get', path: '/api/calls/:id/record', roles: CALL_TAKERS, answer: getRecord },
  { method: 'get', path: '/api/promises', roles: AT_THE_DESK, answer: listPromises },
  { method: 'post', path: '/api/promises/:id/done', roles: CALL_TAKERS, answer: keepPromise },
  { method: 'get', path: '/api/outbox', roles: AT_THE_DESK, answer: listOutbox },
  { method: 'get', path: '/api/log', roles: LEADS, answer: listLog },
  { method: 'get', path: '/api/log/:id', roles: LEADS, answer: getLogCall },
  { method: 'post', path: '/api/log/:id/reviewed', roles: LEADS, answer: reviewCall },
  { method: 'get', path: '/api/audit', roles: ['lead-nurse', 'administrator'], answer: listAudit },
];
