/** The record chain over any runner: the checkpoint of what moved, and the walk that finds the first broken link. */
import { ok } from '../basics/result.ts';
import type { Result } from '../basics/result.ts';
import type { Millis } from '../basics/clock.ts';
import type { BrokenLink, RecordChain } from '../call/call-store.ts';
import { brokenCall, brokenCheckpoint, headsOf, headsText } from './chain-check.ts';
import { change, rowOf, rowsOf } from './plan.ts';
import type { Plan, Written } from './plan.ts';
import { checkpointHash } from './record-hash.ts';
import type { Runner } from './runner.ts';
import type { CheckpointRow } from './schema.ts';

const CALLS_A_PAGE = 50;
const CHECKPOINTS_A_PAGE = 10;

export function recordChain(runner: Runner): RecordChain {
  return {
    checkpoint: (at) => runner.write(() => checkpointPlan(at)),
    firstBrokenLink: (progress) => firstBrokenLink(runner, progress),
  };
}

function* checkpointPlan(at: Millis): Plan<Written<boolean>> {
  const moved = yield* rowsOf('markMoved', {});
  if (moved.length === 0) return { keep: false, value: false };
  const last = yield* rowOf('lastCheckpoint', {});
  const heads = headsText(moved.toSorted((a, b) => (a.id < b.id ? -1 : 1)));
  const row = { n: (last?.n ?? 0) + 1, at, heads, prev: last?.hash ?? '' };
  // Another process may write the same number first; then the calls stay marked as moved for the next time.
  const written = yield* change('addCheckpoint', { ...row, hash: checkpointHash(row) });
  return { keep: written === 1, value: written === 1 };
}

interface Page<TCursor> {
  readonly broken: BrokenLink | null;
  readonly rows: number;
  /** Where the next page begins; null after the last. */
  readonly next: TCursor | null;
}

async function firstBrokenLink(
  runner: Runner,
  progress: (calls: number) => void,
): Promise<Result<BrokenLink | null, 'store-down'>> {
  const calls = await brokenAmongCalls(runner, progress);
  if (!calls.ok || calls.value !== null) return calls;
  const stray = await runner.read(() => strayPlan());
  if (!stray.ok || stray.value !== null) return stray;
  return await brokenAmongCheckpoints(runner);
}

async function brokenAmongCalls(
  runner: Runner,
  progress: (calls: number) => void,
): Promise<Result<BrokenLink | null, 'store-down'>> {
  let after: string | null = '';
  let walked = 0;
  while (after !== null) {
    const from: string = after;
    const page: Result<Page<string>, 'store-down'> = await runner.readTogether(() => callsPage(from));
    if (!page.ok) return page;
    if (page.value.broken !== null) return ok(page.value.broken);
    walked += page.value.rows;
    progress(walked);
    after = page.value.next;
  }
  return ok(null);
}

function* callsPage(after: string): Plan<Page<string>> {
  const heads = yield* rowsOf('callsAfter', { after, limit: CALLS_A_PAGE });
  for (const head of heads) {
    const broken = brokenCall(head, yield* rowsOf('events', { call: head.id }));
    if (broken !== null) return { broken, rows: 0, next: null };
  }
  return { broken: null, rows: heads.length, next: heads.at(-1)?.id ?? null };
}

function* strayPlan(): Plan<BrokenLink | null> {
  const stray = yield* rowOf('strayEvent', {});
  return stray === null ? null : { ...stray, what: 'The event belongs to no call.' };
}

async function brokenAmongCheckpoints(runner: Runner): Promise<Result<BrokenLink | null, 'store-down'>> {
  let before: CheckpointRow | null = null;
  for (;;) {
    const from: CheckpointRow | null = before;
    const page: Result<Page<CheckpointRow>, 'store-down'> = await runner.readTogether(() =>
      checkpointsPage(from),
    );
    if (!page.ok) return page;
    if (page.value.broken !== null || page.value.next === null) return ok(page.value.broken);
    before = page.value.next;
  }
}

function* checkpointsPage(last: CheckpointRow | null): Plan<Page<CheckpointRow>> {
  const rows = yield* rowsOf('checkpointsAfter', { after: last?.n ?? 0, limit: CHECKPOINTS_A_PAGE });
  let before = last;
  for (const row of rows) {
    const broken = brokenCheckpoint(row, before) ?? (yield* brokenAgainst(row));
    if (broken !== null) return { broken, rows: 0, next: null };
    before = row;
  }
  return { broken: null, rows: rows.length, next: rows.at(-1) ?? null };
}

function* brokenAgainst(row: CheckpointRow): Plan<BrokenLink | null> {
  const seen = `Checkpoint ${String(row.n)} saw`;
  for (const { call, seq, hash } of headsOf(row)) {
    const event = yield* rowOf('hashAt', { call, seq });
    if (event === null)
      return { call: call as BrokenLink['call'], seq, what: `${seen} an event that is gone.` };
    if (event.hash !== hash)
      return { call: call as BrokenLink['call'], seq, what: `${seen} another event here.` };
  }
  return null;
}
