/** Call audits over any runner: sealed under the key of the call that they are about. */
import type { CallId } from '../basics/ids.ts';
import { failed, ok } from '../basics/result.ts';
import type { CallAudit, CallAudits } from '../review/call-audit.ts';
import { headFrom } from './call-rows.ts';
import { keyOf, type CallParts } from './calls.ts';
import { change, rowOf, rowsOf } from './plan.ts';
import type { Plan, Written } from './plan.ts';
import type { AuditRow } from './schema.ts';
import { unsealJson } from './sealed-json.ts';
import { seal } from './sealing.ts';
import type { Place } from './sealing.ts';

const USER = 'user:';

export function callAudits(parts: CallParts): CallAudits {
  const { runner } = parts;
  return {
    add: async (audit) => {
      const added = await runner.write(() => addPlan(audit, parts));
      if (!added.ok) return added;
      return added.value ? ok(undefined) : failed('not-found');
    },
    of: (call) => runner.read(() => auditsPlan(call, parts)),
    callsBetween: (span) =>
      runner.read(function* () {
        const rows = yield* rowsOf('callsBetween', { ...span });
        return rows.map((row) => ({ call: row.id, head: headFrom(row) }));
      }),
    takenBy: (call) =>
      runner.read(function* () {
        const first = yield* rowOf('firstByUser', { call });
        return first === null ? null : first.by.slice(USER.length);
      }),
  };
}

function* addPlan(audit: CallAudit & { readonly comment: string }, parts: CallParts): Plan<Written<boolean>> {
  const row = yield* rowOf('call', { id: audit.call });
  const key = row === null ? null : keyOf(row, parts);
  if (key === null) return { keep: false, value: false };
  const { id, call, at, who, comment } = audit;
  const sealed = seal(key, JSON.stringify({ comment }), place(call, id));
  yield* change('addAudit', { id, call, at, who, sealed });
  return { keep: true, value: true };
}

function* auditsPlan(call: CallId, parts: CallParts): Plan<readonly CallAudit[]> {
  const row = yield* rowOf('call', { id: call });
  if (row === null) return [];
  const key = keyOf(row, parts);
  const audits = yield* rowsOf('auditsOf', { call });
  return audits.map((audit) => auditFrom(audit, key));
}

function auditFrom({ id, call, at, who, sealed }: AuditRow, key: Buffer | null): CallAudit {
  const text = unsealJson(key, sealed, place(call, id));
  const comment = typeof text === 'object' && text !== null && 'comment' in text ? text['comment'] : null;
  return { id, call, at, who, comment: typeof comment === 'string' ? comment : null };
}

function place(call: CallId, id: string): Place {
  return ['audit', call, id];
}
