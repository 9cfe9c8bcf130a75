/** A database in a stranger's hands, over whatever runs one statement on it; its guards must be off. */
import type { BackDoor } from '../contract/store-under-test.ts';
import type { CheckpointRow, EventRow } from '../../src/store/schema.ts';

/** Runs one statement with `?` for its values. */
export type RunSql = (sql: string, values?: readonly unknown[]) => Promise<readonly unknown[]>;

const TABLES = [
  'calls',
  'events',
  'turns',
  'snapshots',
  'promises',
  'wrapped_keys',
  'checkpoints',
  'patients',
  'operations',
  'search_tokens',
  'flows',
  'audit_entries',
  'audits',
  'outbox',
  'text_numbers',
];

export interface SqlBackDoor extends BackDoor {
  readonly empty: () => Promise<void>;
}

export function sqlBackDoor(run: RunSql): SqlBackDoor {
  const change = async (sql: string, ...values: readonly unknown[]) => {
    await run(sql, values);
  };
  return {
    empty: () => change(`truncate ${TABLES.join(', ')}`),
    events: async (call) =>
      (await run('select * from events where call = ? order by seq', [call])) as EventRow[],
    putEvent: async (row) => {
      await change('delete from events where call = ? and seq = ?', row.call, row.seq);
      await insert(run, 'events', row);
    },
    dropEvent: (call, seq) => change('delete from events where call = ? and seq = ?', call, seq),
    dropCallRow: (call) => change('delete from calls where id = ?', call),
    setEnd: (call, seq, hash) => change('update calls set seq = ?, hash = ? where id = ?', seq, hash, call),
    checkpoints: async () => (await run('select * from checkpoints order by n')) as CheckpointRow[],
    putCheckpoint: async (row) => {
      await change('delete from checkpoints where n = ?', row.n);
      await insert(run, 'checkpoints', row);
    },
    dropCheckpoint: (n) => change('delete from checkpoints where n = ?', n),
    putFlow: async (row) => {
      await change('delete from flows where hash = ?', row.hash);
      await insert(run, 'flows', row);
    },
    everything: async () => {
      const rows: unknown[] = [];
      for (const table of TABLES) rows.push(await run(`select * from ${table}`));
      return JSON.stringify(rows);
    },
  };
}

async function insert(run: RunSql, table: string, row: object): Promise<void> {
  const names = Object.keys(row).map((name) => `"${name}"`);
  const places = names.map(() => '?').join(', ');
  await run(`insert into ${table} (${names.join(', ')}) values (${places})`, Object.values(row));
}
