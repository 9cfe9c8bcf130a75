/** The store in memory keeps to what every store keeps to. */
import { expect, it } from 'vitest';
import { aKeptCall } from '../contract/a-turn.ts';
import { auditTrailFacts } from '../contract/audit-trail.case.ts';
import { callAuditFacts } from '../contract/call-audits.case.ts';
import { callStoreFacts } from '../contract/call-store.case.ts';
import { flowStoreFacts } from '../contract/flow-store.case.ts';
import { outboxFacts } from '../contract/outbox.case.ts';
import { peopleStoreFacts } from '../contract/people-store.case.ts';
import { recordChainFacts } from '../contract/record-chain.case.ts';
import { openedMemory } from './memory-back-door.ts';

const open = () => Promise.resolve(openedMemory());

callStoreFacts(open);
peopleStoreFacts(open);
recordChainFacts(open);
flowStoreFacts(open);
auditTrailFacts(open);
callAuditFacts(open);
outboxFacts(open);

it('a row in memory cannot be changed in place', async () => {
  const { store, back } = openedMemory();
  const { call } = await aKeptCall(store);
  const [row] = await back.events(call);
  expect(Object.isFrozen(row)).toBe(true);
});
