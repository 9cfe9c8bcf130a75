/** What a turn promises and queues, once it is clear where the call stands; and the events that say so. */
import type { CallId, PromiseId } from '../basics/ids.ts';
import { canonicalJson, type Json } from '../basics/json.ts';
import type { Applied } from './apply-input.ts';
import type { CallContext } from './context.ts';
import type { CallHead, NewEvent, PromiseWrite } from './call-store.ts';
import { event, type Stamp } from './events.ts';
import type { Following } from './following.ts';
import type { TurnInput } from './input.ts';
import type { OutboxWrite } from './outbox.ts';
import { promisesAfter, type PromiseSettings } from './promises.ts';
import type { Standing } from './step.ts';

interface FollowDeps extends PromiseSettings {
  readonly newId: () => PromiseId;
  readonly following: Following;
}

interface Asked {
  readonly call: CallId;
  readonly input: TurnInput;
}

interface Reached {
  readonly loaded: { readonly head: CallHead | null };
  readonly applied: Applied;
  readonly before: Standing | null;
  /** After the input, with the promises of before. */
  readonly standing: Standing;
  readonly stamp: Stamp;
}

export interface FollowedOn {
  /** The same object when nothing was promised or moved. */
  readonly context: CallContext;
  readonly promises: readonly PromiseWrite[];
  readonly messages: readonly OutboxWrite[];
}

export function followOn(deps: FollowDeps, { call, input }: Asked, reached: Reached): FollowedOn {
  const { loaded, applied, before, standing, stamp } = reached;
  const channel = applied.started?.channel ?? loaded.head?.channel ?? 'desk';
  const kept = input.kind === 'promise-kept' && input.result !== 'not-reached' ? input.promise : null;
  const { made, writes } = promisesAfter(standing, { now: stamp.at, channel, kept }, deps);
  const promised: Standing = { ...standing, context: { ...standing.context, promises: made } };
  const { patient } = applied;
  const about = { call, channel, input, before, after: promised, patient, stamp };
  const { paging, messages } = deps.following(about);
  const { context } = standing;
  const stands = isSame(context.promises, made) && isSame(context.paging, paging);
  const next = stands ? context : { ...context, promises: made, paging };
  return { context: next, promises: writes, messages };
}

function isSame(a: unknown, b: unknown): boolean {
  return a === b || canonicalJson(a) === canonicalJson(b);
}

export function followEvents(before: Standing | null, after: Standing, stamp: Stamp): readonly NewEvent[] {
  const { promises, paging } = after.context;
  const promised = !isSame(before?.context.promises ?? {}, promises);
  const paged = !isSame(before?.context.paging ?? null, paging);
  return [
    ...(promised ? [event('promised', stamp, { open: plain(promises) })] : []),
    ...(paged ? [event('paging-moved', stamp, { open: { paging: plain(paging) } })] : []),
  ];
}

function plain(value: unknown): Json {
  return JSON.parse(JSON.stringify(value)) as Json;
}
