/** The migrations on SQLite; on PostgreSQL they run beside the store's own tests. */
import { migrationFacts } from '../contract/migrations.case.ts';
import { sqliteBase } from './migration-bases.ts';

migrationFacts(() => Promise.resolve(sqliteBase()));
