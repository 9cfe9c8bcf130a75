/** What of a request to the desk goes into the audit trail: the route, what was put in, and the ids that were seen. */
import type { DeskRequest } from './endpoint.ts';

export interface Audited {
  readonly what: string;
  readonly about: readonly string[];
}

const SEEN_AT_MOST = 200;
const ID = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}$/;
const KIND = /^[a-z-]{1,30}$/;

/** `route` is the table's own text, so that no address with a name in it is kept. */
export function auditedOf(route: string, request: DeskRequest, answer: unknown): Audited {
  const kind = kindOf(request.body);
  const ids = ID.test(request.id) ? [request.id] : idsIn(answer);
  return {
    what: kind === null ? route : `${route} ${kind}`,
    about: [...new Set(ids)].slice(0, SEEN_AT_MOST),
  };
}

/** What kind of input a turn is. */
function kindOf(body: unknown): string | null {
  const input = memberOf(body, 'input');
  const kind = memberOf(input, 'kind');
  return typeof kind === 'string' && KIND.test(kind) ? kind : null;
}

function memberOf(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null && name in value
    ? (value as Record<string, unknown>)[name]
    : null;
}

/** Whatever the answer names by an id of its own: calls, patients, operations, promises. */
function idsIn(answer: unknown): readonly string[] {
  if (Array.isArray(answer)) return answer.flatMap(idsIn);
  if (typeof answer !== 'object' || answer === null) return [];
  return Object.values(answer).flatMap((value: unknown) =>
    typeof value === 'string' ? (ID.test(value) ? [value] : []) : idsIn(value),
  );
}
