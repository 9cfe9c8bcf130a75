/** How single parts of a record read as text: times, people, values, outcomes; nothing in them can steer a terminal. */
import { civilTime } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import type { Actor } from '../call/call-store.ts';
import { UNSURE, type FindingValue } from '../clinical/finding.ts';
import type { TimeSince } from '../clinical/window.ts';
import type { Kept, PlainOutcome } from './view.ts';
import { WORDS } from './words.ts';

/** Letters and signs only: control characters and marks that turn the direction of writing become spaces. */
export function plainText(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, ' ').trim();
}

export function showKept(from: Kept): string {
  if ('erased' in from) return WORDS.erased;
  return from.said === null ? WORDS.none : plainText(from.said);
}

/** Words in quotation marks; that they are erased, or that there are none, stands without. */
export function quoted(from: Kept): string {
  const text = showKept(from);
  return 'erased' in from || from.said === null ? text : `"${text}"`;
}

/** Date and clock of the zone; an unknown zone gives the time in UTC, marked as such. */
export function showTime(at: Millis, zone: string): string {
  const local = civilTime(at, zone);
  return local.ok ? `${local.value.date} ${local.value.clock}` : new Date(at).toISOString();
}

export function showActor(by: Actor): string {
  return plainText(by.replace(/^user:/, ''));
}

export function showValue(value: FindingValue): string {
  return value === UNSURE ? WORDS.unsure : plainText(String(value)).replaceAll('-', ' ');
}

export function showId(id: string): string {
  return plainText(id).replaceAll('-', ' ');
}

export function showOutcome({ outcome, within, emergency }: PlainOutcome): string {
  const names: Readonly<Record<string, string>> = WORDS.outcomes;
  const times: Readonly<Record<string, string>> = WORDS.within;
  return `${names[outcome] ?? outcome}, ${emergency ? WORDS.emergency : (times[within] ?? within)}`;
}

export function showSince(time: TimeSince): string {
  const day = time.day === null ? `${WORDS.day} ${WORDS.unknown}` : `${WORDS.day} ${time.day}`;
  return time.hours === null ? day : `${day}, ${time.hours} h`;
}
