/** A promise with the name of its owner and the time by which it is due. */
import type { StoredPromise } from '../../call/call-store.ts';
import { showTelephone } from '../../people/show-telephone.ts';
import type { PromiseShape } from '../contract/promises.ts';
import { outcomeSchema } from '../contract/common.ts';
import type { DeskDeps } from '../deps.ts';
import { moment } from '../show-time.ts';

const openPart = outcomeSchema.pick({ within: true, emergency: true });

export function promiseShape(deps: DeskDeps, promise: StoredPromise): PromiseShape {
  const now = deps.turn.clock.now();
  const owner = deps.practice.staff.find(({ id }) => id === promise.owner);
  const part = openPart.safeParse(promise.open);
  return {
    id: promise.id,
    call: promise.call,
    kind: promise.kind,
    state: promise.state,
    owner: owner?.name ?? promise.owner,
    ownerTelephone: owner === undefined ? null : showTelephone(owner.telephone, deps.practice.country),
    due: promise.dueAt === null ? null : moment(promise.dueAt, { now, zone: deps.practice.zone }),
    overdue: promise.state === 'open' && promise.dueAt !== null && promise.dueAt < now,
    within: part.success ? part.data.within : null,
    emergency: part.success && part.data.emergency,
  };
}
