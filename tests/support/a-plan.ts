/** An invented rota of three people a day and one of last resort. */
import { WEEKDAYS } from '../../src/basics/civil-time.ts';
import { rotaSchema, type OnCallPlan } from '../../src/people/rota.ts';
import { staffMemberSchema } from '../../src/people/staff.ts';

/** Monday 2 March 2026, 20:00 in London. */
export const OPENED = Date.parse('2026-03-02T20:00:00Z');

const STAFF = ['dr-first', 'dr-second', 'dr-consultant', 'dr-last'];

type Day = Readonly<Record<'first' | 'second' | 'consultant', string | null>>;

/** `tuesday` changes the duty that begins on Tuesday only. */
export function aPlan(changes: Partial<Day> = {}, tuesday: Partial<Day> = {}): OnCallPlan {
  const day: Day = { first: 'dr-first', second: 'dr-second', consultant: 'dr-consultant', ...changes };
  const week = WEEKDAYS.map((name) => [name, name === 'tuesday' ? { ...day, ...tuesday } : day] as const);
  return {
    zone: 'Europe/London',
    rota: rotaSchema.parse({
      changesAt: '08:00',
      week: Object.fromEntries(week),
      swaps: [],
      consultantOfLastResort: 'dr-last',
    }),
    staff: STAFF.map((id, at) =>
      staffMemberSchema.parse({
        id,
        name: id,
        role: 'on-call-clinician',
        telephone: `+44770090070${String(at)}`,
      }),
    ),
  };
}
