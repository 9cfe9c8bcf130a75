/**
 * A process of its own on an SQLite file. `ring`: takes a call to an emergency, says so, and waits to be killed.
 * `send`: sends what is due, says `sent`, and ends.
 */
import { pino } from 'pino';
import { sendDue } from '../../src/server/run-due.ts';
import { openSqlite } from '../../src/store/sqlite.ts';
import { KEYS } from '../contract/store-under-test.ts';
import { aPractice } from '../support/a-practice.ts';
import { aSender } from '../support/a-sender.ts';
import { fixedClock } from '../support/fixed-clock.ts';

const [what = '', file = '', now = '', apiUrl = '', name = ''] = process.argv.slice(2);
const store = await openSqlite({ file, keys: KEYS });
const practice = aPractice({ store, clock: fixedClock(Number(now)) });

if (what === 'ring') {
  const ring = await practice.ring();
  await ring.volunteers({ fit: 'yes' });
  process.stdout.write(`${ring.call}\n`);
  // Kept alive by the open standard input.
  process.stdin.resume();
} else {
  await sendDue({ due: aSender(practice, apiUrl, name), log: pino({ level: 'silent' }) });
  await store.close();
  process.stdout.write('sent\n');
}
