/** Confirms silently, from the record, the operation that a caller names; the line never names it first. */
import type { Fault } from '../basics/fault.ts';
import { fault } from '../basics/fault.ts';
import type { PatientId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { TurnInput } from '../call/input.ts';
import type { Operation } from '../people/patient.ts';
import type { Came } from './came.ts';
import type { LineDeps } from './deps.ts';
import { proceduresIn } from './read-operation.ts';
import { takeSilently } from './take-turn.ts';

type Identify = Extract<TurnInput, { kind: 'identify' }>;

/** The newest operation of this patient with one of these procedures; null when the record has none. */
export async function operationNamed(
  deps: LineDeps,
  who: string,
  procedures: readonly string[],
): Promise<Result<Identify | null, Fault>> {
  if (who === '' || procedures.length === 0) return ok(null);
  const found = await deps.people.patient(who as PatientId);
  if (!found.ok) return failed(fault('store-down', 'The patients cannot be read now.'));
  const fits = (one: Operation): boolean => procedures.some((id) => one.procedures.includes(id));
  const operation = found.value?.operations.find(fits);
  if (found.value === null || operation === undefined) return ok(null);
  const { patient } = found.value;
  return ok({ kind: 'identify', patientId: patient.id, operationId: operation.id, statedDates: [] });
}

/** Before the first words are heard: the operation in them, if the caller has keyed the birth date. */
export async function identifySaid(deps: LineDeps, came: Came): Promise<Result<null, Fault>> {
  const { address, reply, token } = came;
  if (address.ask !== 'opening' || address.who === '' || reply.kind !== 'speech') return ok(null);
  const named = await operationNamed(deps, address.who, proceduresIn(reply.text, deps.words));
  if (!named.ok) return named;
  if (named.value === null) return ok(null);
  return takeSilently(deps, { call: address.call, token: `${token}.who`, input: named.value });
}
