/** The people of the demo: days are given back from now, so that the demo never ages. */
import { z } from 'zod';
import type { Millis } from '../basics/clock.ts';
import { addDays, addHours, civilTime, instantOf } from '../basics/civil-time.ts';
import type { Fault } from '../basics/fault.ts';
import { ok, type Result } from '../basics/result.ts';
import { operationSchema, patientSchema, type Operation, type Patient } from './patient.ts';
import { clockTime } from './written-forms.ts';

/** `daysAgo` starts at 1: on the day itself a clock time could still lie ahead, so hours are given instead. */
const surgeryTime = z.union([
  z.strictObject({ daysAgo: z.number().int().min(1).max(3650), endedAtClock: clockTime.nullable() }),
  z.strictObject({ endedHoursAgo: z.number().min(0.5).max(72) }),
]);

const demoOperationSchema = z.strictObject({
  ...operationSchema.omit({ patientId: true, on: true, endedAt: true }).shape,
  when: surgeryTime,
});
type DemoOperation = z.infer<typeof demoOperationSchema>;

export const demoPeopleSchema = z.array(
  z.strictObject({ ...patientSchema.shape, operations: z.array(demoOperationSchema).min(1) }),
);
export type DemoPeople = z.infer<typeof demoPeopleSchema>;

export interface PeopleOfDemo {
  readonly patients: readonly Patient[];
  readonly operations: readonly Operation[];
}

export interface Moment {
  readonly now: Millis;
  readonly zone: string;
}

type SurgeryTime = Pick<Operation, 'on' | 'endedAt'>;

export function demoPeople(people: DemoPeople, moment: Moment): Result<PeopleOfDemo, Fault> {
  const patients: Patient[] = [];
  const operations: Operation[] = [];
  for (const { operations: done, ...patient } of people) {
    patients.push(patient);
    for (const { when, ...operation } of done) {
      const time = surgeryAt(when, moment);
      if (!time.ok) return time;
      operations.push({ ...operation, patientId: patient.id, ...time.value });
    }
  }
  return ok({ patients, operations });
}

function surgeryAt(when: DemoOperation['when'], moment: Moment): Result<SurgeryTime, Fault> {
  return 'endedHoursAgo' in when ? hoursBack(when.endedHoursAgo, moment) : daysBack(when, moment);
}

function hoursBack(hours: number, { now, zone }: Moment): Result<SurgeryTime, Fault> {
  const endedAt = Math.round(addHours(now, -hours));
  const local = civilTime(endedAt, zone);
  return local.ok ? ok({ on: local.value.date, endedAt }) : local;
}

function daysBack(
  when: { readonly daysAgo: number; readonly endedAtClock: string | null },
  { now, zone }: Moment,
): Result<SurgeryTime, Fault> {
  const today = civilTime(now, zone);
  if (!today.ok) return today;
  const on = addDays(today.value.date, -when.daysAgo);
  if (!on.ok) return on;
  if (when.endedAtClock === null) return ok({ on: on.value, endedAt: null });
  const endedAt = instantOf(on.value, when.endedAtClock, zone);
  return endedAt.ok ? ok({ on: on.value, endedAt: endedAt.value }) : endedAt;
}
