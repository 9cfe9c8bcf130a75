/** The statements behind every ask about call audits and the log. */
import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { AUDIT, CALL } from './columns.ts';
import type { Tables } from './schema.ts';
import { slot, slots } from './statement.ts';
import type { Queries } from './statement.ts';

export function callAuditQueries(
  db: Kysely<Tables>,
): Queries<'addAudit' | 'auditsOf' | 'callsBetween' | 'firstByUser'> {
  return {
    addAudit: db
      .insertInto('audits')
      .values(slots(AUDIT))
      .onConflict((conflict) => conflict.doNothing()),
    auditsOf: db.selectFrom('audits').select(AUDIT).where('call', '=', slot('call')).orderBy('id'),
    callsBetween: db
      .selectFrom('calls')
      .select(CALL)
      .where('started_at', '>=', slot('since'))
      .where('started_at', '<', slot('until'))
      .orderBy('started_at', 'desc')
      .orderBy('id', 'desc')
      .limit(slot('limit')),
    firstByUser: db
      .selectFrom('events')
      .select('by')
      .where('call', '=', slot('call'))
      .where('by', 'like', sql.lit('user:%'))
      .orderBy('seq')
      .limit(sql.lit(1)),
  };
}
