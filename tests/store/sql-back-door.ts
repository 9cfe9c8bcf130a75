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
];

export interface SqlBackDoor extends BackDoor {
  readonly empty: () => Promise<void>;
}

export function sqlBackDoor(run: RunSql): SqlBackDoor {
  return {
    empty: async () => {
      await run(`truncate ${TABLES.join(', ')}`);
    },
    events: async (call) =>
      (await run('select * from events where call = ? order by seq', [call])) as EventRow[],
    putEvent: async (row) => {
      await run('delete from events where call = ? and seq = ?', [row.call, row.seq]);
      await insert(run, 'events', row);
    },
    dropEvent: async (call, seq) =>
      void (await run('delete from events where call = ? and seq = ?', [call, seq])),
    dropCallRow: async (call) => void (await run('delete from calls where id = ?', [call])),
    setEnd: async (call, seq, hash) =>
      void (await run('update calls set seq = ?, hash = ? where id = ?', [seq, hash, call])),
    checkpoints: async () => (await run('select * from checkpoints order by n')) as CheckpointRow[],
    putCheckpoint: async (row) => {
      await run('delete from checkpoints where n = ?', [row.n]);
      await insert(run, 'checkpoints', row);
    },
    dropCheckpoint: async (n) => void (await run('delete from checkpoints where n = ?', [n])),
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
