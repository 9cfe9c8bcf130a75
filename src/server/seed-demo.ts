/** Gives an empty demo database its invented people. */
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { Clock } from '../basics/clock.ts';
import { demoPeople } from '../people/demo.ts';
import type { PeopleStore } from '../people/people-store.ts';
import type { Content } from './content.ts';

const DOWN = fault(
  'store-down',
  'The demo’s people cannot be saved; a database that can be written to is accepted.',
);

/** How many were saved; none when somebody is there already. */
export async function seedDemo(
  content: Pick<Content, 'demo' | 'practice'>,
  people: PeopleStore,
  clock: Clock,
): Promise<Result<number, Fault>> {
  const known = await people.countPatients();
  if (!known.ok) return failed(DOWN);
  if (known.value > 0) return ok(0);
  const demo = demoPeople(content.demo, { now: clock.now(), zone: content.practice.zone });
  if (!demo.ok) return demo;
  for (const patient of demo.value.patients) {
    if (!(await people.savePatient(patient)).ok) return failed(DOWN);
  }
  for (const operation of demo.value.operations) {
    if (!(await people.saveOperation(operation)).ok) return failed(DOWN);
  }
  return ok(demo.value.patients.length);
}
