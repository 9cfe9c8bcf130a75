/** Patients of demo calls, written into the server's data before it starts; and what it kept of each call. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { addDays, civilTime, HOUR, MINUTE } from '../../../src/basics/civil-time.ts';
import { callIdFrom } from '../../../src/basics/ids.ts';
import { systemClock } from '../../../src/basics/system-clock.ts';
import { openConfiguredStore } from '../../../src/server/open-store.ts';
import { timeOf, type DemoCall } from '../../../src/terminal/demo-call.ts';
import { aPatient, anOperation } from '../../contract/a-patient.ts';

export interface DemoPatient {
  readonly number: string;
  readonly born: string;
}

const FIRST_NUMBER = 300;

/** One for each call, who rings once: a second call within three days would weigh more. The numbers are Ofcom's for drama. */
export async function savePatients(
  dataDir: string,
  zone: string,
  demos: readonly DemoCall[],
): Promise<readonly DemoPatient[]> {
  const store = await openConfiguredStore({ dataDir, databaseUrl: null });
  if (!store.ok) throw new Error(store.fault.message);
  const saved: DemoPatient[] = [];
  for (const [at, demo] of demos.entries()) {
    const number = `+447700900${String(FIRST_NUMBER + at)}`;
    const patient = aPatient({ born: '1990-11-23', telephones: [number], allergies: [] });
    await store.value.people.savePatient(patient);
    await store.value.people.saveOperation(operationOf(demo, patient.id, zone));
    saved.push({ number, born: '23111990' });
  }
  await store.value.close();
  return saved;
}

function operationOf(demo: DemoCall, patient: ReturnType<typeof aPatient>['id'], zone: string) {
  const time = timeOf(demo);
  if (!time.ok) throw new Error(time.fault.message);
  const { day, hours } = time.value;
  const now = systemClock.now();
  const ended = hours === null ? null : now - hours * HOUR - MINUTE;
  const today = civilTime(now, zone);
  const on = today.ok ? addDays(today.value.date, -(day ?? 0)) : today;
  if (!on.ok) throw new Error(on.fault.message);
  const { operation } = demo;
  const thinner = operation?.['blood-thinner'];
  return anOperation(patient, {
    procedures: [demo.procedure, ...(demo.also ?? [])],
    surgeon: operation?.surgeon ?? 'Mr Nobody',
    on: on.value,
    endedAt: ended,
    drain: operation?.drain === 'no' ? false : null,
    bloodThinner: thinner === undefined ? null : thinner === 'yes' ? 'a blood thinner' : '',
  });
}

export interface KeptCall {
  readonly outcome: string | null;
  readonly state: string;
  /** Kinds of what was promised, each with its state. */
  readonly promises: readonly string[];
  /** How many events the line wrote; pages go out beside it and write their own. */
  readonly events: number;
}

/** Read beside the running server, as any other program would. */
export function keptCall(dataDir: string, sid: string): KeptCall {
  const db = new Database(join(dataDir, 'call-desk.sqlite'), { readonly: true });
  const id = callIdFrom(`line ${sid}`);
  const call = db
    .prepare<[string], { outcome: string | null; state: string; events: number }>(
      `select outcome, state, (select count(*) from events where call = calls.id and by = 'line') as events
       from calls where id = ?`,
    )
    .get(id);
  const promises = db
    .prepare<[string], { told: string }>("select kind || ' ' || state as told from promises where call = ?")
    .all(id);
  db.close();
  if (call === undefined) throw new Error('Nothing was kept of the call');
  return { ...call, promises: promises.map(({ told }) => told) };
}
