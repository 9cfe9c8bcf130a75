/** POST /api/calls: begins a call, with the operation when it was chosen already. Trying again changes nothing. */
import { fault, type Fault } from '../basics/fault.ts';
import type { OperationId, PatientId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { readTelephone } from '../people/telephone.ts';
import { startSchema, type StartRequest } from './contract/turns.ts';
import type { DeskDeps } from './deps.ts';
import { readBody, type Endpoint } from './endpoint.ts';
import { runTurn } from './take-turn.ts';

export const startCall: Endpoint = async (deps, { who, body }) => {
  const request = readBody(startSchema, body);
  if (!request.ok) return request;
  const { call, token, direction, chosen } = request.value;
  const number = callerNumber(deps, request.value);
  if (!number.ok) return number;
  if (chosen !== null) {
    const known = await isKnown(deps, chosen);
    if (!known.ok) return known;
  }
  const started = await runTurn(deps, {
    who,
    call,
    token,
    seen: null,
    input: { kind: 'start', channel: 'desk', direction, callerNumber: number.value },
  });
  if (!started.ok || chosen === null) return started;
  return runTurn(deps, {
    who,
    call,
    token: `${token}:identify`,
    seen: null,
    input: {
      kind: 'identify',
      patientId: chosen.patient as PatientId,
      operationId: chosen.operation as OperationId,
      statedDates: [],
    },
  });
};

function callerNumber(deps: DeskDeps, { callerNumber: text }: StartRequest): Result<string | null, Fault> {
  if (text === null || text.trim() === '') return ok(null);
  const number = readTelephone(text, deps.practice.country);
  return number === null
    ? failed(
        fault(
          'bad-request',
          'The caller’s number cannot be rung; a whole telephone number or none is accepted.',
        ),
      )
    : ok(number);
}

/** Looked up before the call begins, so that nothing is half done. */
async function isKnown(
  deps: DeskDeps,
  chosen: NonNullable<StartRequest['chosen']>,
): Promise<Result<null, Fault>> {
  const found = await deps.people.patient(chosen.patient as PatientId);
  if (!found.ok) return failed(fault('store-down', 'The patients cannot be read now.'));
  const has = found.value?.operations.some(({ id }) => id === chosen.operation) === true;
  return has ? ok(null) : failed(fault('not-found', 'There is no such patient with such an operation.'));
}
