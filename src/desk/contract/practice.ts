/** GET /api/practice: what every page shows, whatever else happens. */
import { z } from 'zod';
import { momentSchema, publicNumberSchema, rungSchema } from './common.ts';

export const practiceAnswerSchema = z.strictObject({
  name: z.string(),
  mode: z.enum(['demo', 'live']),
  zone: z.string(),
  now: momentSchema,
  opening: z.strictObject({
    open: z.boolean(),
    /** Clock time of closing today, or null when closed. */
    until: z.string().nullable(),
    because: z.string().nullable(),
  }),
  /** In the order of ringing; never empty unless the settings name nobody at all. */
  onCall: z.array(rungSchema).readonly(),
  /** Rungs on which nobody stands. */
  gaps: z.array(z.enum(['first', 'second', 'consultant'])).readonly(),
  emergency: publicNumberSchema,
  crisis: publicNumberSchema,
  poisons: publicNumberSchema,
  /** The immediate dangers in plain words, for a desk that is locked. */
  dangers: z.array(z.string()).readonly(),
  caution: z.string(),
  reachClinician: z.string(),
});
export type PracticeAnswer = Readonly<z.infer<typeof practiceAnswerSchema>>;
