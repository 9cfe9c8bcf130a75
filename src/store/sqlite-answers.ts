/** Answers asks on one SQLite connection with statements that were prepared once. */
import type Database from 'better-sqlite3';
import type { Answer, Asked } from './plan.ts';
import type { Statements } from './statements.ts';

export function sqliteAnswers(db: Database.Database, statements: Statements): (asked: Asked) => Answer {
  const prepared = new Map(
    [...statements].map(([name, { sql, bind }]) => [name, { run: db.prepare(sql), bind }]),
  );
  return ({ name, values }) => {
    const statement = prepared.get(name);
    if (statement === undefined) throw new Error(`There is no statement for ${name}.`);
    const bound = statement.bind(values);
    if (!statement.run.reader) return { rows: [], changed: statement.run.run(bound).changes };
    const rows = statement.run.all(bound);
    return { rows, changed: rows.length };
  };
}
