/** The statements behind every ask about flows. */
import type { Kysely } from 'kysely';
import { FLOW } from './columns.ts';
import type { Tables } from './schema.ts';
import { slot, slots } from './statement.ts';
import type { Queries } from './statement.ts';

export function flowQueries(db: Kysely<Tables>): Queries<'flow' | 'addFlow'> {
  return {
    flow: db.selectFrom('flows').select(FLOW).where('hash', '=', slot('hash')),
    addFlow: db
      .insertInto('flows')
      .values(slots(FLOW))
      .onConflict((conflict) => conflict.doNothing()),
  };
}
