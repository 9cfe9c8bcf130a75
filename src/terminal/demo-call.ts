/** The shape of a demo call, and how its day and hours become one time since surgery. */
import { z } from 'zod';
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { TimeSince } from '../clinical/window.ts';

const yesNo = z.union([z.enum(['yes', 'no']), z.boolean().transform((yes) => (yes ? 'yes' : 'no'))]);
const outcomeName = z.enum(['advise', 'arrange-review', 'urgent-escalation']);

const operationSchema = z.strictObject({
  side: z.exactOptional(z.enum(['left', 'right', 'both', 'middle'])),
  anaesthetic: z.exactOptional(
    z.enum(['general', 'sedation', 'spinal', 'regional', 'spinal-or-regional', 'local']),
  ),
  drain: z.exactOptional(yesNo),
  implant: z.exactOptional(yesNo),
  mesh: z.exactOptional(yesNo),
  packs: z.exactOptional(yesNo),
  splints: z.exactOptional(yesNo),
  block: z.exactOptional(yesNo),
  surgeon: z.exactOptional(z.string()),
  'blood-thinner': z.exactOptional(yesNo),
});

const expectSchema = z.strictObject({
  outcome: z.exactOptional(outcomeName),
  min: z.exactOptional(outcomeName),
  max: z.exactOptional(outcomeName),
  within: z.exactOptional(
    z.enum(['now', '1-hour', 'same-day', 'next-day', 'next-working-day', 'planned-visit', 'none']),
  ),
  emergency: z.exactOptional(z.boolean()),
});

export const demoCallSchema = z.strictObject({
  id: z.exactOptional(z.union([z.string(), z.number()])),
  title: z.exactOptional(z.string()),
  procedure: z.string().min(1),
  also: z.exactOptional(z.array(z.string())),
  clinic: z.exactOptional(z.enum(['open', 'closed'])),
  day: z.exactOptional(z.number().int()),
  hoursSince: z.exactOptional(z.number().nonnegative()),
  opening: z.exactOptional(z.string()),
  facts: z.exactOptional(
    z.record(
      z.string(),
      z.union([z.string(), z.number(), z.boolean().transform((yes) => (yes ? 'yes' : 'no'))]),
    ),
  ),
  earlierCalls: z.exactOptional(
    z.array(
      z.strictObject({
        hoursAgo: z.number().nonnegative(),
        outcome: outcomeName,
        about: z.exactOptional(z.string().nullable()),
        kind: z.exactOptional(z.enum(['worried', 'asked-by-practice', 'cut-off', 'everyday'])),
      }),
    ),
  ),
  operation: z.exactOptional(operationSchema),
  expect: z.exactOptional(expectSchema),
});
export type DemoCall = z.infer<typeof demoCallSchema>;

/** With hours alone surgery ended at 09:00; with a day alone the call comes at 10:00 of that day. */
const ENDED_AT = 9;
const CALLED_AT = 10;

/**
 * The time since surgery of a demo call. With both given they must agree: some end of surgery on day 0 makes so many
 * hours fall on that day. Without either the time is unknown and the general flow runs.
 */
export function timeOf(call: Pick<DemoCall, 'day' | 'hoursSince'>): Result<TimeSince, Fault> {
  const { day, hoursSince } = call;
  if (hoursSince === undefined) {
    if (day === undefined) return ok({ day: null, hours: null });
    return ok({ day, hours: day < 0 ? null : day * 24 + CALLED_AT - ENDED_AT });
  }
  const hours = Math.floor(hoursSince);
  if (day === undefined) return ok({ day: Math.floor((ENDED_AT + hoursSince) / 24), hours });
  const earliest = Math.floor(hoursSince / 24);
  if (day < earliest || day > earliest + 1) {
    return failed(
      fault(
        'bad-request',
        `day ${day} does not agree with hoursSince ${hoursSince}; day ${earliest} or ${earliest + 1} is accepted`,
      ),
    );
  }
  return ok({ day, hours });
}
