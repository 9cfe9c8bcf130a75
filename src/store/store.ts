/** The stores that every opener hands out, put together over its runner. */
import type { CallStore, RecordChain } from '../call/call-store.ts';
import type { FlowStore } from '../call/flow-store.ts';
import type { Outbox, TextNumbers } from '../follow/outbox.ts';
import type { AuditTrail } from '../people/audit-trail.ts';
import type { PeopleStore } from '../people/people-store.ts';
import type { CallAudits } from '../review/call-audit.ts';
import { auditTrail } from './audit-trail.ts';
import { callAudits } from './call-audits.ts';
import { callStore } from './calls.ts';
import { recordChain } from './chain.ts';
import { flowStore } from './flows.ts';
import { headCache } from './head-cache.ts';
import { outboxStore, textNumbers } from './outbox.ts';
import { peopleStore } from './people.ts';
import type { Runner } from './runner.ts';
import type { WorkingKeys } from './sealing.ts';

const HEADS_KEPT = 2_000;

export interface Store {
  readonly calls: CallStore;
  readonly people: PeopleStore;
  readonly chain: RecordChain;
  readonly flows: FlowStore;
  readonly audit: AuditTrail;
  readonly callAudits: CallAudits;
  readonly outbox: Outbox;
  readonly textNumbers: TextNumbers;
  /** Waits for the writes under way; every later one answers `store-down`. */
  readonly close: () => Promise<void>;
}

export function storeOver(runner: Runner, keys: WorkingKeys): Store {
  const parts = { runner, keys, heads: headCache(HEADS_KEPT) };
  return {
    calls: callStore(parts),
    people: peopleStore(parts),
    chain: recordChain(runner),
    flows: flowStore(runner),
    audit: auditTrail(runner),
    callAudits: callAudits(parts),
    outbox: outboxStore(parts),
    textNumbers: textNumbers(parts),
    close: runner.close,
  };
}
