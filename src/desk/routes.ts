/** Every endpoint of the desk, as a table. */
import type { Endpoint } from './endpoint.ts';
import { findPeople } from './find-people.ts';
import { getCall } from './get-call.ts';
import { getPractice } from './get-practice.ts';
import { getRecord } from './get-record.ts';
import { listCalls } from './list-calls.ts';
import { listFindings } from './list-findings.ts';
import { listPromises } from './list-promises.ts';
import { startCall } from './start-call.ts';
import { takeTurn } from './take-turn.ts';

export interface Route {
  readonly method: 'get' | 'post';
  readonly path: string;
  readonly answer: Endpoint;
}

export const ROUTES: readonly Route[] = [
  { method: 'get', path: '/api/practice', answer: getPractice },
  { method: 'get', path: '/api/find', answer: findPeople },
  { method: 'get', path: '/api/calls', answer: listCalls },
  { method: 'post', path: '/api/calls', answer: startCall },
  { method: 'get', path: '/api/calls/:id', answer: getCall },
  { method: 'post', path: '/api/calls/:id/turns', answer: takeTurn },
  { method: 'get', path: '/api/calls/:id/findings', answer: listFindings },
  { method: 'get', path: '/api/calls/:id/record', answer: getRecord },
  { method: 'get', path: '/api/promises', answer: listPromises },
];
