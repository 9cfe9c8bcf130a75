/** How long finding a patient takes among fifty thousand, from the query to the answer of the desk. */
import { newId } from '../../src/basics/ids.ts';
import type { PatientId, StaffId } from '../../src/basics/ids.ts';
import { systemClock } from '../../src/basics/system-clock.ts';
import { findPeople } from '../../src/desk/find-people.ts';
import type { Content } from '../../src/server/content.ts';
import { openConfiguredStore } from '../../src/server/open-store.ts';
import { deskDeps } from '../../src/server/start.ts';
import { aPatient } from '../contract/a-patient.ts';
import { makeTempDir } from '../support/temp-dir.ts';
import { clockMillis, quantile } from './stopwatch.ts';

const PATIENTS = 50_000;
/** As common as the commonest surname of a country: one in a hundred. */
const SURNAMES = 2_000;
const SEARCHES = 300;
const TOGETHER = 500;

export async function searchMillis(
  content: Content,
): Promise<{ readonly p50: number; readonly p95: number }> {
  const folder = makeTempDir();
  const opened = await openConfiguredStore({ dataDir: folder.path, databaseUrl: null });
  if (!opened.ok) throw new Error(opened.fault.message);
  const store = opened.value;
  for (let at = 0; at < PATIENTS; at += TOGETHER) {
    const people = Array.from({ length: TOGETHER }, (_none, index) => person(at + index));
    await Promise.all(people.map((one) => store.people.savePatient(one)));
  }
  const deps = deskDeps(content, store, systemClock);
  const times: number[] = [];
  for (let at = 0; at < SEARCHES; at += 1) {
    const start = clockMillis();
    const found = await findPeople(deps, requestFor(queryOf(at)));
    times.push(clockMillis() - start);
    if (!found.ok) throw new Error(found.fault.message);
  }
  deps.live.stop();
  await store.close();
  folder.remove();
  return { p50: quantile(times, 0.5), p95: quantile(times, 0.95) };
}

function person(at: number) {
  const year = 1930 + (at % 75);
  return aPatient({
    id: newId<PatientId>(),
    surname: surnameOf(at),
    born: `${year}-${two(1 + (at % 12))}-${two(1 + (at % 28))}`,
    telephones: [`+447700${String(900_000 + (at % 1_000)).padStart(6, '0')}`],
  });
}

/** Every hundredth patient has the same name; the others share two thousand. */
function surnameOf(at: number): string {
  return at % 100 === 0 ? 'Commonest' : `Surname${String.fromCharCode(97 + (at % 26))}${at % SURNAMES}`;
}

function two(value: number): string {
  return String(value).padStart(2, '0');
}

function queryOf(at: number): string {
  switch (at % 4) {
    case 0:
      return 'Commonest';
    case 1:
      return surnameOf(at * 7 + 1);
    case 2:
      return `${1 + (at % 28)} March ${1930 + (at % 75)}`;
    default:
      return `07700 ${String(900_000 + (at % 1_000))}`;
  }
}

function requestFor(query: string): Parameters<typeof findPeople>[1] {
  const who = { id: 'bronagh-tully' as StaffId, name: 'Bronagh Tully', role: 'nurse' } as const;
  return { who, id: '', query, search: { q: query }, before: '', body: null };
}
