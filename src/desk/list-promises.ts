/** GET /api/promises: every open escalation, review and call-back, the earliest due first. */
import { fault } from '../basics/fault.ts';
import { failed, ok } from '../basics/result.ts';
import type { StoredPromise } from '../call/call-store.ts';
import type { PromisesAnswer } from './contract/promises.ts';
import type { DeskDeps } from './deps.ts';
import type { Endpoint } from './endpoint.ts';
import { fullName } from './view/people-view.ts';
import { promiseShape } from './view/promise-view.ts';

const SHOWN_AT_MOST = 200;

export const listPromises: Endpoint = async (deps) => {
  const open = await deps.turn.store.openPromises();
  if (!open.ok) return failed(fault('store-down', 'The promises cannot be read now.'));
  const shown = open.value.slice(0, SHOWN_AT_MOST);
  const promises = await Promise.all(
    shown.map(async (promise) => ({
      ...promiseShape(deps, promise),
      patient: await patientOf(deps, promise),
    })),
  );
  const answer: PromisesAnswer = { promises, more: open.value.length > SHOWN_AT_MOST };
  return ok(answer);
};

/** Null when the call has no known patient, or the patient cannot be read now. */
async function patientOf(deps: DeskDeps, { call }: StoredPromise): Promise<string | null> {
  const loaded = await deps.turn.store.load(call);
  const id = loaded.ok ? (loaded.value?.head.patientId ?? null) : null;
  if (id === null) return null;
  const found = await deps.people.patient(id);
  return found.ok && found.value !== null ? fullName(found.value.patient) : null;
}
