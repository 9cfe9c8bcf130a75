/** Who is on call at a moment: the ladder of people to ring, from a weekly pattern and dated swaps. */
import { z } from 'zod';
import type { Millis } from '../basics/clock.ts';
import { addDays, civilTime, instantOf, weekdayOf, WEEKDAYS } from '../basics/civil-time.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { staffIdSchema, type StaffMember } from './staff.ts';
import { calendarDay, clockTime } from './written-forms.ts';

/** Rung in this order, each when the one before has not accepted. */
export const RUNGS = ['first', 'second', 'consultant'] as const;
export type Rung = (typeof RUNGS)[number];

/** Null means that nobody is on that rung; it is never filled in. */
const rungsSchema = z.record(z.enum(RUNGS), staffIdSchema.nullable());

export const rotaSchema = z.strictObject({
  /** A duty begins at this time of its day and lasts until the next one begins. */
  changesAt: clockTime,
  week: z.record(z.enum(WEEKDAYS), rungsSchema),
  /** One whole duty, named by the day on which it begins; the last swap of a rung on a day counts. */
  swaps: z.array(z.strictObject({ on: calendarDay, rung: z.enum(RUNGS), staff: staffIdSchema.nullable() })),
  /** Rung when the rota names nobody. */
  consultantOfLastResort: staffIdSchema,
});
export type Rota = z.infer<typeof rotaSchema>;

/** The part of the practice's settings that decides who is on call. */
export interface OnCallPlan {
  readonly zone: string;
  readonly rota: Rota;
  readonly staff: readonly StaffMember[];
}

export interface OnCall {
  /** The day on which this duty began, in the practice's zone. */
  readonly duty: string;
  /** Never empty; in the order of ringing. */
  readonly ladder: readonly { readonly rung: Rung; readonly staff: StaffMember }[];
  /** Rungs on which nobody stands: shown to whoever keeps the rota. */
  readonly gaps: readonly Rung[];
}

/** The rota gives no one. Somebody is rung all the same: the consultant of last resort. */
export interface NobodyOnCall {
  readonly code: 'nobody-on-call';
  readonly message: string;
  /** Null only when the settings name somebody who is not on the staff. */
  readonly lastResort: StaffMember | null;
}

export function whoIsOnCall(plan: OnCallPlan, at: Millis): Result<OnCall, NobodyOnCall> {
  const duty = dutyAt(plan, at);
  if (duty === null) return failed(nobody(plan, 'The rota cannot be read for this time'));
  const people = RUNGS.map((rung) => ({ rung, staff: personOn(plan, duty, rung) }));
  const ladder = people.flatMap(({ rung, staff }) => (staff === null ? [] : [{ rung, staff }]));
  const gaps = people.filter(({ staff }) => staff === null).map(({ rung }) => rung);
  if (ladder.length === 0) return failed(nobody(plan, 'The rota names nobody for this time'));
  return ok({ duty, ladder, gaps });
}

/** The day whose duty runs at that moment: compared in real time, so that a clock put back never ends a duty twice. */
function dutyAt(plan: OnCallPlan, at: Millis): string | null {
  const local = civilTime(at, plan.zone);
  if (!local.ok) return null;
  const today = local.value.date;
  const begins = instantOf(today, plan.rota.changesAt, plan.zone);
  if (!begins.ok) return null;
  if (at >= begins.value) return today;
  const yesterday = addDays(today, -1);
  return yesterday.ok ? yesterday.value : null;
}

function personOn(plan: OnCallPlan, duty: string, rung: Rung): StaffMember | null {
  const weekday = weekdayOf(duty);
  if (!weekday.ok) return null;
  const swap = plan.rota.swaps.findLast((each) => each.on === duty && each.rung === rung);
  const id = swap === undefined ? plan.rota.week[weekday.value][rung] : swap.staff;
  return plan.staff.find((member) => member.id === id) ?? null;
}

function nobody(plan: OnCallPlan, why: string): NobodyOnCall {
  const lastResort = plan.staff.find((member) => member.id === plan.rota.consultantOfLastResort) ?? null;
  return { code: 'nobody-on-call', message: `${why}; the consultant of last resort is rung.`, lastResort };
}
