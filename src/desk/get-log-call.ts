/** GET /api/log/:id: one call re-read word by word, how its outcome moved, what would have changed it, and its reviews. */
import { fault } from '../basics/fault.ts';
import { failed, ok } from '../basics/result.ts';
import { loadCall } from '../call/load-call.ts';
import { readRecord } from '../review/read-record.ts';
import type { LogCallAnswer } from './contract/log.ts';
import type { Endpoint } from './endpoint.ts';
import { recordAnswer } from './get-record.ts';
import { callIdOf } from './read-call.ts';
import { moment } from './show-time.ts';
import { concernTitle, loggedCall, logLine, staffName } from './view/log-line.ts';
import { promiseShape } from './view/promise-view.ts';
import { wouldHaveChanged } from './view/would-have-changed.ts';

const DOWN = fault('store-down', 'The call cannot be read now.');

export const getLogCall: Endpoint = async (deps, { id }) => {
  const call = callIdOf(id);
  const [events, promises, audits, stored] = await Promise.all([
    deps.turn.store.events(call),
    deps.turn.store.promisesOf(call),
    deps.callAudits.of(call),
    deps.turn.store.load(call),
  ]);
  if (!events.ok || !promises.ok || !audits.ok || !stored.ok) return failed(DOWN);
  if (stored.value === null) return failed(fault('not-found', 'There is no such call.'));
  const loaded = await loadCall(deps.turn, call);
  const here = { now: deps.turn.clock.now(), zone: deps.practice.zone };
  const record = readRecord(events.value);
  const answer: LogCallAnswer = {
    line: logLine(deps, await loggedCall(deps, { call, head: stored.value.head })),
    record: recordAnswer(id, record),
    moves: record.outcomes.map(({ at, by, outcome, points, reasons }) => ({
      at: moment(at, here),
      by,
      outcome,
      points: Object.entries(points)
        .filter(([, count]) => count > 0)
        .map(([concern, count]) => ({ title: concernTitle(deps, concern), points: count })),
      reasons: reasons.map(({ text }) => text),
    })),
    promises: promises.value.map((promise) => promiseShape(deps, promise)),
    wouldHaveChanged: loaded.ok ? wouldHaveChanged(loaded.value) : [],
    reviews: audits.value.map(({ at, who, comment }) => ({
      at: moment(at, here),
      by: staffName(deps, who),
      comment,
    })),
  };
  return ok(answer);
};
