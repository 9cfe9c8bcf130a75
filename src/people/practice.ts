/** The practice's own settings (`flows/practice.yaml`): hours, numbers, places, staff and rota. */
import { z } from 'zod';
import { WEEKDAYS } from '../basics/civil-time.ts';
import type { OpeningHours } from '../clinical/promise-time.ts';
import { RUNGS, rotaSchema } from './rota.ts';
import { staffMemberSchema } from './staff.ts';
import { calendarDay, clockTime, e164, slug, someText, zoneName } from './written-forms.ts';

/** Where each kind of urgent case is seen. */
export const SEEN_AT = ['own-theatre', 'emergency-department', 'eye-casualty', 'hand-unit'] as const;

const openSpan = z
  .strictObject({ opens: clockTime, closes: clockTime })
  .refine(({ opens, closes }) => opens < closes, 'a closing time later than the opening time');

/** `closed` in the file; null in the settings. */
const closed = z.literal('closed').transform(() => null);

const treatmentPlace = z.strictObject({ name: someText, telephone: e164, address: someText });

const settings = z.strictObject({
  name: someText,
  /** demo: invented people, nothing is dialled or sent outside. */
  mode: z.enum(['demo', 'live']),
  zone: zoneName,
  /** ISO 3166 alpha-2; its numbers and law stand under `flows/places`. */
  country: z.string().regex(/^[A-Z]{2}$/, 'a country of two capital letters such as GB'),
  telephones: z.strictObject({
    /** In opening hours, a nurse answers. */
    desk: e164,
    /** Out of hours, the line answers. */
    line: e164,
    text: e164,
  }),
  openingHours: z.record(z.enum(WEEKDAYS), z.union([closed, openSpan])),
  closedOn: z.array(z.strictObject({ on: calendarDay, because: someText })),
  seenAt: z.record(z.enum(SEEN_AT), treatmentPlace),
  /** A same-day visit needs at least this many minutes before the clinic closes. */
  lastSameDayMinutes: z.number().int().min(15).max(240),
  /** The voice line. */
  line: z.strictObject({
    /** As the telephone provider names it, such as Polly.Amy-Neural; the language it speaks and hears. */
    voice: someText,
    language: z.string().regex(/^[a-z]{2}-[A-Z]{2}$/, 'a language and country such as en-GB'),
    /** Whether the provider keeps the sound of caller and clinician; off unless the practice has a reason. */
    recording: z.enum(['off', 'on']),
    /** One person who is rung has so long to pick up; the caller waits so long in all. */
    ringSeconds: z.number().int().min(10).max(60),
    waitSeconds: z.number().int().min(30).max(90),
    /** When nobody picked up, the caller is told to go elsewhere after so long without a call. */
    rungBackMinutes: z.number().int().min(5).max(30),
    /** What the fallback file dials: it stands elsewhere and cannot look at a rota. */
    fallbackTelephone: e164,
    /** Scripts on which a live line may end a call in advice; the signer turns each on. */
    mayAdvise: z.array(slug),
  }),
  signIn: z.strictObject({
    /** Whether a password alone is enough; a real practice needs a second factor or a passkey. */
    secondFactor: z.enum(['off', 'required']),
    /** A session ends after this long without a request (ASVS 4.0.3, 3.3.2: at most 30 at level 2). */
    idleMinutes: z.number().int().min(5).max(60),
    /** And after this long in any case. */
    hoursAtMost: z.number().int().min(1).max(24),
  }),
  /** Minutes, in which a clinician or the caller is reached. */
  reaching: z.strictObject({
    /** That one rung of the rota has to accept before the next is rung as well. */
    emergencyMinutes: z.number().int().min(1).max(10),
    hourMinutes: z.number().int().min(1).max(15),
    /** Without acceptance for so long, the caller is rung and told where to go. */
    callerRungAfterMinutes: z.number().int().min(5).max(30),
    /** That a review or call-back may be late before the clinician on call is paged about it. */
    lateMinutes: z.number().int().min(5).max(240),
    /** That a danger question by text may wait for its answer before the caller is rung. */
    textAnswerMinutes: z.number().int().min(1).max(15),
  }),
  staff: z.array(staffMemberSchema).min(1),
  rota: rotaSchema,
});

export const practiceSchema = settings.superRefine((practice, context) => {
  if (practice.mode === 'live' && practice.signIn.secondFactor === 'off') {
    const path = ['signIn', 'secondFactor'];
    context.addIssue({ code: 'custom', path, message: 'required, since the practice is live' });
  }
  refuseTwins(practice, context);
  const onCall = new Set(
    practice.staff.filter(({ role }) => role === 'on-call-clinician').map(({ id }) => id as string),
  );
  for (const { id, path } of rotaNames(practice.rota)) {
    if (!onCall.has(id))
      context.addIssue({ code: 'custom', path, message: 'the id of an on-call clinician' });
  }
});
export type Practice = z.infer<typeof practiceSchema>;

/** The opening hours in the form from which due times are worked out. */
export function openingHoursOf(practice: Practice): OpeningHours {
  return {
    zone: practice.zone,
    week: practice.openingHours,
    closedDates: practice.closedOn.map(({ on }) => on),
  };
}

function refuseTwins(practice: z.infer<typeof settings>, context: z.RefinementCtx): void {
  const seen = new Set<string>();
  for (const [at, { id }] of practice.staff.entries()) {
    if (seen.has(id)) {
      context.addIssue({ code: 'custom', path: ['staff', at, 'id'], message: 'an id that nobody else has' });
    }
    seen.add(id);
  }
}

function rotaNames(
  rota: Practice['rota'],
): readonly { readonly id: string; readonly path: (string | number)[] }[] {
  const weekly = WEEKDAYS.flatMap((weekday) =>
    RUNGS.map((rung) => ({ id: rota.week[weekday][rung], path: ['rota', 'week', weekday, rung] })),
  );
  const swaps = rota.swaps.map(({ staff }, at) => ({
    id: staff,
    path: ['rota', 'swaps', at, 'staff'],
  }));
  const last = { id: rota.consultantOfLastResort, path: ['rota', 'consultantOfLastResort'] };
  return [...weekly, ...swaps, last].flatMap(({ id, path }) => (id === null ? [] : [{ id, path }]));
}
