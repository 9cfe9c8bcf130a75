/** The patient of a demo call, as a record would hold her: the operation, when it ended, and her earlier calls. */
import { addDays, civilTime, HOUR } from '../../src/basics/civil-time.ts';
import { newId, type CallId } from '../../src/basics/ids.ts';
import { timeOf, type DemoCall } from '../../src/terminal/demo-call.ts';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import type { Line } from './a-line.ts';

/** Monday 2 March 2026, 09:00 in London: surgery ended, as the demo calls count. */
const ENDED = Date.parse('2026-03-02T09:00:00Z');

export interface DemoPatient {
  readonly number: string;
  /** As it is keyed. */
  readonly born: string;
  readonly procedures: readonly string[];
}

/** Sets the clock to the moment of the call. `at` makes the telephone number one of its own. */
export async function demoPatient(line: Line, call: DemoCall, at: number): Promise<DemoPatient> {
  const time = timeOf(call);
  if (!time.ok) throw new Error(time.fault.message);
  const { day, hours } = time.value;
  const ended = endOf(day, hours);
  const now = ended + (hours ?? 0) * HOUR;
  line.clock.moveTo(now);
  const today = civilTime(now, 'Europe/London');
  const on = today.ok ? addDays(today.value.date, -(day ?? 0)) : today;
  if (!on.ok) throw new Error(on.fault.message);
  const number = `+447700900${String(at + 300)}`;
  const patient = aPatient({ born: '1990-11-23', telephones: [number], allergies: [] });
  const { operation } = call;
  const thinner = operation?.['blood-thinner'];
  const done = anOperation(patient.id, {
    procedures: [call.procedure, ...(call.also ?? [])],
    surgeon: operation?.surgeon ?? 'Mr Nobody',
    on: on.value,
    endedAt: hours === null ? null : ended,
    drain: operation?.drain === 'no' ? false : null,
    bloodThinner: thinner === undefined ? null : thinner === 'yes' ? 'a blood thinner' : '',
  });
  await line.store.people.savePatient(patient);
  await line.store.people.saveOperation(done);
  for (const earlier of call.earlierCalls ?? []) await keepEarlier(line, { ...earlier, now, done });
  return { number, born: '23111990', procedures: done.procedures };
}

/** Hours count from a hour of the day at which they lead to the day that is given. */
function endOf(day: number | null, hours: number | null): number {
  if (day === null || hours === null) return ENDED;
  for (let later = -8; later < 15; later += 1) {
    const ended = ENDED + later * HOUR;
    const now = civilTime(ended + hours * HOUR, 'Europe/London');
    const due = addDays('2026-03-02', day);
    if (now.ok && due.ok && now.value.date === due.value) return ended;
  }
  throw new Error('No hour of the day makes these hours that day');
}

type Earlier = NonNullable<DemoCall['earlierCalls']>[number] & {
  readonly now: number;
  readonly done: ReturnType<typeof anOperation>;
};

async function keepEarlier({ store, deps }: Line, earlier: Earlier): Promise<void> {
  const { kind = 'worried', about = null, hoursAgo, outcome, now, done } = earlier;
  const { general } = deps.turn.flows;
  const call = newId<CallId>();
  const written = await store.calls.commit({
    call,
    expectedSeq: 0,
    sealedRead: true,
    token: 'kept',
    head: {
      channel: 'desk',
      direction: kind === 'asked-by-practice' ? 'planned-check' : 'patient-rang',
      startedAt: now - hoursAgo * HOUR,
      zone: 'Europe/London',
      patientId: done.patientId,
      operationId: done.id,
      flowHash: general.hash,
      lexiconHash: 'lexicon',
      programVersion: 'test',
      state: 'closed',
      outcome: `${outcome}/none/-`,
      about: kind === 'cut-off' || kind === 'everyday' ? kind : about,
    },
    events: [{ type: 'noted', v: 1, at: now, by: 'system', open: {}, sealed: null }],
    snapshot: null,
    reply: null,
    promises: [],
    messages: [],
  });
  if (!written.ok) throw new Error('The earlier call was not kept');
}
