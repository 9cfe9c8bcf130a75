/** Several writes in one SQLite transaction, each in a savepoint of its own, so that one refused alone harms no other. */
import Database from 'better-sqlite3';

/** Writes, and says whether to keep it. It must not wait for anything: the transaction is open around it. */
export type Job = () => boolean;

/** How one job of a kept group ended; a defect left nothing behind. */
export type JobEnd = { readonly kind: 'ended' } | { readonly kind: 'defect'; readonly error: unknown };

/** Runs the jobs and commits; null when the database could not, and then nothing of any job was kept. */
export type RunGroup = (jobs: readonly Job[]) => readonly JobEnd[] | null;

export function groupOn(db: Database.Database): RunGroup {
  const begin = db.prepare('begin immediate');
  const commit = db.prepare('commit');
  const apart = savepointOn(db);
  return (jobs) => {
    try {
      begin.run();
      const ends = jobs.map(apart);
      commit.run();
      return ends;
    } catch {
      undo(db);
      return null;
    }
  };
}

function savepointOn(db: Database.Database): (job: Job) => JobEnd {
  const savepoint = db.prepare('savepoint job');
  const release = db.prepare('release job');
  const rollback = db.prepare('rollback to job');
  return (job) => {
    savepoint.run();
    const end = attempt(job);
    if (end !== true) rollback.run();
    release.run();
    return typeof end === 'boolean' ? { kind: 'ended' } : end;
  };
}

function attempt(job: Job): boolean | JobEnd {
  try {
    return job();
  } catch (error) {
    if (isOutage(error)) throw error;
    return { kind: 'defect', error };
  }
}

/** True when the database itself could not: full, unreadable, locked. A broken constraint is a defect of ours. */
export function isOutage(error: unknown): boolean {
  return error instanceof Database.SqliteError && !error.code.startsWith('SQLITE_CONSTRAINT');
}

function undo(db: Database.Database): void {
  try {
    if (db.inTransaction) db.exec('rollback');
  } catch {
    // SQLite undoes what has no COMMIT when the file is opened again; until then every BEGIN fails as well.
  }
}
