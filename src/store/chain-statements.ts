/** The statements behind every ask about wrapped keys and the record chain. */
import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { CHECKPOINT, KEY } from './columns.ts';
import type { Tables } from './schema.ts';
import { excluded, slot, slots } from './statement.ts';
import type { Queries } from './statement.ts';

type KeyQueries = Queries<'key' | 'addKey' | 'putKey' | 'keysWrappedBy' | 'dropKey'>;

type ChainQueries = Queries<
  | 'markMoved'
  | 'lastCheckpoint'
  | 'addCheckpoint'
  | 'callsAfter'
  | 'strayEvent'
  | 'checkpointsAfter'
  | 'hashAt'
>;

export function keyQueries(db: Kysely<Tables>): KeyQueries {
  const keys = db.selectFrom('wrapped_keys').select(KEY);
  const add = db.insertInto('wrapped_keys').values(slots(KEY));
  return {
    key: keys.where('kind', '=', slot('kind')).where('id', '=', slot('id')),
    addKey: add.onConflict((conflict) => conflict.doNothing()),
    putKey: add.onConflict((conflict) =>
      conflict.columns(['kind', 'id']).doUpdateSet(excluded(['wrapped_by', 'wrapped'])),
    ),
    keysWrappedBy: keys.where('wrapped_by', '=', slot('patient')),
    dropKey: db.deleteFrom('wrapped_keys').where('kind', '=', slot('kind')).where('id', '=', slot('id')),
  };
}

export function chainQueries(db: Kysely<Tables>): ChainQueries {
  const checkpoints = db.selectFrom('checkpoints').select(CHECKPOINT);
  return {
    markMoved: db
      .updateTable('calls')
      .set((column) => ({ checked_seq: column.ref('seq') }))
      .whereRef('checked_seq', '<', 'seq')
      .returning(['id', 'seq', 'hash']),
    lastCheckpoint: checkpoints.orderBy('n', 'desc').limit(sql.lit(1)),
    addCheckpoint: db
      .insertInto('checkpoints')
      .values(slots(CHECKPOINT))
      .onConflict((conflict) => conflict.doNothing()),
    callsAfter: db
      .selectFrom('calls')
      .select(['id', 'seq', 'hash'])
      .where('id', '>', slot('after'))
      .orderBy('id')
      .limit(slot('limit')),
    strayEvent: db
      .selectFrom('events as e')
      .select(['e.call', 'e.seq'])
      .leftJoin('calls as c', 'c.id', 'e.call')
      .where('c.id', 'is', null)
      .limit(sql.lit(1)),
    checkpointsAfter: checkpoints.where('n', '>', slot('after')).orderBy('n').limit(slot('limit')),
    hashAt: db
      .selectFrom('events')
      .select('hash')
      .where('call', '=', slot('call'))
      .where('seq', '=', slot('seq')),
  };
}
