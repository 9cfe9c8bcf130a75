/** GET /api/audit: the trail of who looked at and changed what, newest first; by a person, a call or a patient with `q`. */
import { fault } from '../basics/fault.ts';
import { failed, ok } from '../basics/result.ts';
import type { AuditAnswer } from './contract/audit.ts';
import type { Endpoint } from './endpoint.ts';
import { moment } from './show-time.ts';

const SHOWN_AT_MOST = 200;

export const listAudit: Endpoint = async (deps, { query, before }) => {
  const on = query.trim();
  const read = await deps.audit.read({
    on: on === '' ? null : on,
    before: before === '' ? null : before,
    limit: SHOWN_AT_MOST + 1,
  });
  if (!read.ok) return failed(fault('store-down', 'The audit trail cannot be read now.'));
  const shown = read.value.slice(0, SHOWN_AT_MOST);
  const here = { now: deps.turn.clock.now(), zone: deps.practice.zone };
  const nameOf = (who: string): string | null =>
    deps.practice.staff.find(({ id }) => id === who)?.name ?? null;
  const answer: AuditAnswer = {
    entries: shown.map(({ id, at, who, role, what, about, from }) => ({
      id,
      at: moment(at, here),
      who: { id: who, name: nameOf(who), role },
      what,
      about,
      from,
    })),
    next: read.value.length > shown.length ? (shown.at(-1)?.id ?? null) : null,
  };
  return ok(answer);
};
