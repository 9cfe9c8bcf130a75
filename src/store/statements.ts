/** Every ask with its statement, compiled once for one database. */
import type { Kysely } from 'kysely';
import type { AskName } from './asks.ts';
import { auditQueries } from './audit-statements.ts';
import { callAuditQueries } from './call-audit-statements.ts';
import { callQueries } from './call-statements.ts';
import { chainQueries, keyQueries } from './chain-statements.ts';
import { flowQueries } from './flow-statements.ts';
import { outboxQueries } from './outbox-statements.ts';
import { peopleQueries } from './people-statements.ts';
import type { Tables } from './schema.ts';
import { statement } from './statement.ts';
import type { Queries, Statement } from './statement.ts';

export type Statements = ReadonlyMap<AskName, Statement>;

export function compileStatements(db: Kysely<Tables>): Statements {
  const queries: Queries<AskName> = {
    ...callQueries(db),
    ...keyQueries(db),
    ...chainQueries(db),
    ...peopleQueries(db),
    ...flowQueries(db),
    ...auditQueries(db),
    ...callAuditQueries(db),
    ...outboxQueries(db),
  };
  const names = Object.keys(queries) as AskName[];
  return new Map(names.map((name) => [name, statement(queries[name])]));
}
