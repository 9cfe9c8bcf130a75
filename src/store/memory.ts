/** Opens the store in memory, for tests and replays: the same plans, sealing and hashing over plain tables. */
import type { AskName } from './asks.ts';
import { failed, ok } from '../basics/result.ts';
import { callAuditHandlers } from './memory-call-audits.ts';
import { auditHandlers } from './memory-audit.ts';
import type { Handlers } from './memory-answer.ts';
import { listHandlers, turnHandlers } from './memory-calls.ts';
import { chainHandlers, keyHandlers } from './memory-chain.ts';
import { flowHandlers } from './memory-flows.ts';
import { peopleReads, peopleWrites } from './memory-people.ts';
import { outboxHandlers, textNumberHandlers } from './memory-outbox.ts';
import { memoryTables } from './memory-tables.ts';
import type { MemoryTables } from './memory-tables.ts';
import { runNow } from './plan.ts';
import type { Answer, Asked, AskedOf, Plan, Written } from './plan.ts';
import type { Runner } from './runner.ts';
import { workingKeys } from './sealing.ts';
import type { StoreKeys } from './sealing.ts';
import { storeOver } from './store.ts';
import type { Store } from './store.ts';

export function openMemory(keys: StoreKeys): Store {
  return openMemoryOn(memoryTables(), keys);
}

/** On tables that the caller holds too, as a test of tampering has to. */
export function openMemoryOn(tables: MemoryTables, keys: StoreKeys): Store {
  return storeOver(memoryRunner(tables), workingKeys(keys));
}

// Being async, both turn a defect into a rejection, as the other two runners do.
function memoryRunner(tables: MemoryTables): Runner {
  const answer = memoryAnswers(tables);
  let closed = false;
  const read: Runner['read'] = async (plan) => (closed ? failed('store-down') : ok(runNow(plan(), answer)));
  return {
    read,
    readTogether: read,
    write: async (plan) => (closed ? failed('store-down') : ok(writeNow(tables, plan, answer))),
    scrub: () => Promise.resolve(),
    close: () => {
      closed = true;
      return Promise.resolve();
    },
  };
}

function writeNow<TValue>(
  { undo }: MemoryTables,
  plan: () => Plan<Written<TValue>>,
  answer: (asked: Asked) => Answer,
): TValue {
  let keep = false;
  try {
    const written = runNow(plan(), answer);
    keep = written.keep;
    return written.value;
  } finally {
    const steps = undo.splice(0);
    if (!keep) for (const step of steps.toReversed()) step();
  }
}

function memoryAnswers(tables: MemoryTables): (asked: Asked) => Answer {
  const handlers: Handlers = {
    ...turnHandlers(tables),
    ...listHandlers(tables),
    ...keyHandlers(tables),
    ...chainHandlers(tables),
    ...peopleReads(tables),
    ...peopleWrites(tables),
    ...flowHandlers(tables),
    ...auditHandlers(tables),
    ...callAuditHandlers(tables),
    ...outboxHandlers(tables),
    ...textNumberHandlers(tables),
  };
  return (asked) => answerOne(handlers, asked);
}

function answerOne<TName extends AskName>(handlers: Handlers, asked: AskedOf<TName>): Answer {
  const handler: Handlers[TName] = handlers[asked.name];
  return handler(asked.values);
}
