/** The statements behind every ask about calls. */
import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { CALL, EVENT, MOVED, PROMISE, TURN } from './columns.ts';
import type { Tables } from './schema.ts';
import { excluded, slot, slots } from './statement.ts';
import type { Queries } from './statement.ts';

type CallQueries = Queries<
  | 'call'
  | 'addCall'
  | 'moveCall'
  | 'nameCall'
  | 'addEvent'
  | 'addTurn'
  | 'turn'
  | 'putSnapshot'
  | 'putPromise'
  | 'events'
  | 'eventsOf'
  | 'callsAbout'
  | 'recentCalls'
  | 'promisesOf'
  | 'openPromises'
>;

export function callQueries(db: Kysely<Tables>): CallQueries {
  return { ...turnReads(db), ...turnWrites(db), ...lists(db) };
}

function turnReads(db: Kysely<Tables>) {
  const call = db
    .selectFrom('calls as c')
    .leftJoin('snapshots as s', 's.call', 'c.id')
    .leftJoin('wrapped_keys as k', (on) => on.on('k.kind', '=', sql.lit('call')).onRef('k.id', '=', 'c.id'))
    .leftJoin('wrapped_keys as p', (on) =>
      on.on('p.kind', '=', sql.lit('patient')).onRef('p.id', '=', 'k.wrapped_by'),
    )
    .select(CALL.map((name) => `c.${name}` as const))
    .select(['s.sealed as snapshot', 'k.wrapped_by', 'k.wrapped', 'p.wrapped as wrapper'])
    .where('c.id', '=', slot('id'));
  const events = db.selectFrom('events').select(EVENT).where('call', '=', slot('call')).orderBy('seq');
  return {
    call,
    turn: db
      .selectFrom('turns')
      .select(TURN)
      .where('call', '=', slot('call'))
      .where('token', '=', slot('token')),
    events,
    eventsOf: events.where('type', '=', slot('type')),
  };
}

/** How the key of the call `id` is wrapped; '' when it was destroyed. */
function wrapOfCall() {
  return sql`coalesce((select wrapped from wrapped_keys as k where k.kind = 'call' and k.id = ${slot('id')}), '')`;
}

function turnWrites(db: Kysely<Tables>) {
  return {
    addCall: db
      .insertInto('calls')
      .values(slots(CALL))
      .onConflict((conflict) => conflict.doNothing()),
    moveCall: db
      .updateTable('calls')
      .set(slots(MOVED))
      .where('id', '=', slot('id'))
      .where('seq', '=', slot('expected'))
      .where(wrapOfCall(), '=', slot('wrapped')),
    nameCall: db
      .updateTable('calls')
      .set(slots(['patient_id', 'operation_id']))
      .where('id', '=', slot('id')),
    addEvent: db.insertInto('events').values(slots(EVENT)),
    addTurn: db
      .insertInto('turns')
      .values(slots(TURN))
      .onConflict((conflict) => conflict.doNothing()),
    putSnapshot: db
      .insertInto('snapshots')
      .values(slots(['call', 'sealed']))
      .onConflict((conflict) => conflict.column('call').doUpdateSet(excluded(['sealed']))),
    putPromise: db
      .insertInto('promises')
      .values(slots(PROMISE))
      .onConflict((conflict) =>
        conflict.column('id').doUpdateSet(excluded(PROMISE.filter((name) => name !== 'id'))),
      ),
  };
}

function lists(db: Kysely<Tables>) {
  const calls = db.selectFrom('calls').select(CALL).orderBy('started_at', 'desc').orderBy('id', 'desc');
  const promises = db.selectFrom('promises').select(PROMISE);
  return {
    callsAbout: calls.where('operation_id', '=', slot('operation')).where('started_at', '>=', slot('since')),
    recentCalls: calls.limit(slot('limit')),
    promisesOf: promises.where('call', '=', slot('call')).orderBy('opened_at').orderBy('id'),
    // A promise without a due time comes last; left alone, the databases differ about it.
    openPromises: promises
      .where('state', '=', sql.lit('open'))
      .orderBy(sql`due_at is null`)
      .orderBy('due_at')
      .orderBy('opened_at')
      .orderBy('id'),
  };
}
