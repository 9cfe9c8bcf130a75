/**
 * A process that writes turns of several calls to an SQLite file for as long as it lives, and prints a line for each
 * one that was acknowledged. When the store is down it says so and waits to be told to go on.
 */
import { once } from 'node:events';
import { newId } from '../../src/basics/ids.ts';
import type { CallId } from '../../src/basics/ids.ts';
import { openSqlite } from '../../src/store/sqlite.ts';
import type { Store } from '../../src/store/store.ts';
import { aHead, aPromise, aTurn } from '../contract/a-turn.ts';
import { KEYS } from '../contract/store-under-test.ts';

const CALLS = 6;

export interface Acknowledged {
  readonly call: CallId;
  readonly seq: number;
  readonly token: string;
}

async function writeOneCall(store: Store): Promise<void> {
  const call = newId<CallId>();
  for (let expectedSeq = 0; ;) {
    const token = newId();
    const promises = [aPromise()];
    const turn = aTurn({
      call,
      expectedSeq,
      token,
      head: aHead(),
      reply: { token },
      snapshot: { token },
      promises,
    });
    const end = await store.calls.commit(turn);
    if (end.ok) {
      expectedSeq = end.value.seq;
      process.stdout.write(`${JSON.stringify({ call, seq: expectedSeq, token } satisfies Acknowledged)}\n`);
    } else {
      process.stdout.write(`${end.fault}\n`);
      await goAhead;
    }
  }
}

const [file = ''] = process.argv.slice(2);
const goAhead = once(process.stdin, 'data');
const store = await openSqlite({ file, keys: KEYS });
await Promise.all(Array.from({ length: CALLS }, () => writeOneCall(store)));
