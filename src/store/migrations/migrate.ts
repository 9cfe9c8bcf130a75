/** Brings a database to the newest migration; every number is applied once and never edited afterwards. */
import { Migrator } from 'kysely';
import type { Kysely, Migration } from 'kysely';
import { createRecord } from './0001-record.ts';
import { createPeople } from './0002-people.ts';
import { createFlows } from './0003-flows.ts';
import { createOutbox } from './0004-outbox.ts';
import { createAuditTrail } from './0005-audit-trail.ts';
import { createAudits } from './0006-audits.ts';
import type { Dialect } from './append-only.ts';

export function migrations(dialect: Dialect): Readonly<Record<string, Migration>> {
  return {
    '0001-record': { up: (db: Kysely<unknown>) => createRecord(db, dialect) },
    '0002-people': { up: (db: Kysely<unknown>) => createPeople(db) },
    '0003-flows': { up: (db: Kysely<unknown>) => createFlows(db, dialect) },
    '0004-outbox': { up: (db: Kysely<unknown>) => createOutbox(db) },
    '0005-audit-trail': { up: (db: Kysely<unknown>) => createAuditTrail(db, dialect) },
    '0006-audits': { up: (db: Kysely<unknown>) => createAudits(db, dialect) },
  };
}

/** Up to and including `last`, or to the newest when none is named. */
export async function migrate<TTables>(db: Kysely<TTables>, dialect: Dialect, last?: string): Promise<void> {
  const migrator = new Migrator({
    db,
    provider: { getMigrations: () => Promise.resolve({ ...migrations(dialect) }) },
  });
  const { error } = last === undefined ? await migrator.migrateToLatest() : await migrator.migrateTo(last);
  if (error !== undefined)
    throw new Error('The database cannot be brought to the newest tables.', { cause: error });
}
