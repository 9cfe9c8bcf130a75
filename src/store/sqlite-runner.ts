/**
 * The one writing connection to SQLite. Writes that arrive in one turn of the event loop share one transaction, and
 * nobody hears of theirs before COMMIT has put it on the disk.
 */
import type Database from 'better-sqlite3';
import { failed, ok } from '../basics/result.ts';
import type { Result } from '../basics/result.ts';
import type { Answer, Asked, Plan, Written } from './plan.ts';
import { runNow } from './plan.ts';
import type { Runner } from './runner.ts';
import { sqliteAnswers } from './sqlite-answers.ts';
import { groupOn, isOutage } from './sqlite-group.ts';
import type { Job, JobEnd, RunGroup } from './sqlite-group.ts';
import type { Statements } from './statements.ts';

export function sqliteRunner(db: Database.Database, statements: Statements): Runner {
  const answer = sqliteAnswers(db, statements);
  const queue = writeQueue(groupOn(db));
  const read: Runner['read'] = async (plan) => readNow(db, plan, answer);
  return {
    read,
    // Nothing else runs while a plan does, so any read sees one moment. Such reads are long and come in rows, so
    // the turns that wait go first.
    readTogether: async (plan) => {
      await new Promise((resolve) => setImmediate(resolve));
      return await read(plan);
    },
    write: (plan) => (db.open ? queue.add(plan, answer) : Promise.resolve(failed('store-down'))),
    scrub: () => Promise.resolve(emptyLog(db)),
    close: () => {
      queue.flush();
      db.close();
      return Promise.resolve();
    },
  };
}

function readNow<TValue>(
  db: Database.Database,
  plan: () => Plan<TValue>,
  answer: (asked: Asked) => Answer,
): Result<TValue, 'store-down'> {
  if (!db.open) return failed('store-down');
  try {
    return ok(runNow(plan(), answer));
  } catch (error) {
    if (isOutage(error)) return failed('store-down');
    throw error;
  }
}

interface Waiting {
  readonly job: Job;
  /** Undefined when the group could not be kept. */
  readonly release: (end: JobEnd | undefined) => void;
}

interface WriteQueue {
  readonly add: <TValue>(
    plan: () => Plan<Written<TValue>>,
    answer: (asked: Asked) => Answer,
  ) => Promise<Result<TValue, 'store-down'>>;
  readonly flush: () => void;
}

function writeQueue(runGroup: RunGroup): WriteQueue {
  let waiting: Waiting[] = [];

  function flush(): void {
    const group = waiting;
    waiting = [];
    if (group.length === 0) return;
    const ends = runGroup(group.map((one) => one.job));
    for (const [index, one] of group.entries()) one.release(ends?.[index]);
  }

  return {
    flush,
    add: (plan, answer) =>
      new Promise((resolve, reject) => {
        if (waiting.length === 0) setImmediate(flush);
        waiting.push(waitingFor(() => runNow(plan(), answer), { resolve, reject }));
      }),
  };
}

interface Promised<TValue> {
  readonly resolve: (result: Result<TValue, 'store-down'>) => void;
  readonly reject: (defect: unknown) => void;
}

function waitingFor<TValue>(run: () => Written<TValue>, { resolve, reject }: Promised<TValue>): Waiting {
  let written: Written<TValue> | undefined;
  return {
    job: () => {
      written = run();
      return written.keep;
    },
    release: (end) => {
      if (end?.kind === 'defect') reject(end.error);
      else if (end === undefined || written === undefined) resolve(failed('store-down'));
      else resolve(ok(written.value));
    },
  };
}

// What was deleted is overwritten in the file (secure_delete), but its old pages stand in the log until it is emptied.
function emptyLog(db: Database.Database): void {
  try {
    db.pragma('wal_checkpoint(truncate)');
  } catch (error) {
    // A reader held it back: the log is emptied at a later checkpoint.
    if (!isOutage(error)) throw error;
  }
}
