/** The hour at which the practice is rung: in the evening, whenever the tests run. */
import { HOUR } from '../../../src/basics/civil-time.ts';
import { systemClock } from '../../../src/basics/system-clock.ts';

/** The hour of the practice's day at which every demo call keeps both its day and its hours since surgery. */
const EVENING = 20;

/** A zone in which it is evening now, whenever the tests run. */
export function eveningZone(): string {
  const hour = Math.floor(systemClock.now() / HOUR) % 24;
  const ahead = ((EVENING - hour + 36) % 24) - 12;
  // The sign of these names is the reverse of what one expects (IANA time zone database, file "etcetera").
  return ahead === 0 ? 'Etc/GMT' : `Etc/GMT${ahead > 0 ? '-' : '+'}${String(Math.abs(ahead))}`;
}

/** The settings of the practice, moved to where it is evening and the clinic closed, on no holiday. */
export function inTheEvening(practice: string): string {
  return practice
    .replace('zone: Europe/London', `zone: ${eveningZone()}`)
    .replace(/closedOn:\n(?: {2}.*\n)+/, 'closedOn: []\n');
}

/** And open all day and all night. */
export function openInTheEvening(practice: string): string {
  return inTheEvening(practice)
    .replaceAll(/opens: '\d\d:00', closes: '\d\d:00'/g, "opens: '00:00', closes: '23:59'")
    .replace('sunday: closed', "sunday: { opens: '00:00', closes: '23:59' }");
}
